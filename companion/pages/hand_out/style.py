"""How the page is set: for paper, in sizes of paper; and on a screen as a sheet of it."""

from __future__ import annotations

import base64
import hashlib

from companion.pages.hand_out.tiling import HIGH_MM, WIDE_MM

STYLE = """
@page { margin: 10mm; }
* { box-sizing: border-box; }
html { color: #000; background: #fff; font: 10.5pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; }
body { width: %(wide)gmm; margin: 0 auto; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
h1 { font-size: 20pt; margin: 0 0 3mm; } h2 { font-size: 13pt; margin: 5mm 0 1.5mm; }
h3 { font-size: 10.5pt; margin: 3mm 0 1mm; } h1, h2, h3 { line-height: 1.2; break-after: avoid; }
p { margin: 0 0 1.5mm; orphans: 2; widows: 2; } ul, ol { margin: 0 0 2mm; padding-left: 5mm; }
h1, h2, h3, p, li, th, td, dd { overflow-wrap: anywhere; }
section + section, .sheet { break-before: page; } main > :first-child { break-before: auto; }
.sheet { height: %(high)gmm; overflow: hidden; break-inside: avoid; }
.sheet h1, .sheet h2 {
  margin: 0; height: 13mm; font-size: 11pt; overflow: hidden; white-space: nowrap; text-overflow: ellipsis;
}
.sheet small { font-weight: normal; font-size: 10pt; }
.how { font-size: 8pt; line-height: 1.25; margin: 0; }
svg { display: block; } .swatch { display: inline-block; vertical-align: -.7mm; }
.picture { display: block; margin: 0 auto 4mm; } .area { margin: 1mm 0 3mm; }
.key, .yarns, .about { list-style: none; padding: 0; }
.key { display: grid; grid-template-columns: repeat(4, 1fr); margin: 0; }
.key li { height: 5.2mm; overflow: hidden; white-space: nowrap; text-overflow: ellipsis; }
dl { columns: 3; margin: 0; } dl div { break-inside: avoid; } dt { font-weight: bold; display: inline; }
dd { display: inline; margin-left: 2mm; }
.letter, .letters { font-family: "DejaVu Sans Mono", Menlo, Consolas, "Courier New", monospace; font-weight: bold; }
.letters { paint-order: stroke; stroke-linejoin: round; }
.letter, .letters text, .numbers.middle text, .number { text-anchor: middle; } .numbers .end { text-anchor: end; }
.numbers, .number { font-family: "Liberation Sans", Arial, Helvetica, sans-serif; }
.number { font-size: 2.3px; font-weight: bold; }
.letters { paint-order: stroke; stroke-linejoin: round; }
.line { fill: none; stroke: #000; } .edge { stroke: #000; stroke-width: .2px; }
.contour { fill: none; stroke: #000; stroke-linecap: square; }
.lead { fill: none; stroke: #000; stroke-width: .15px; } .tag { fill: #fff; stroke: #000; stroke-width: .12px; }
table { border-collapse: collapse; width: 100%%; font-size: 9pt; } thead { display: table-header-group; }
tr { break-inside: avoid; } tbody th { font-weight: normal; } thead th { white-space: nowrap; }
th, td { border: .2mm solid #000; padding: .8mm 1mm; text-align: left; vertical-align: top; }
.box, .boxes > li::before {
  content: ""; display: inline-block; width: 3.2mm; height: 3.2mm; border: .3mm solid #000;
}
.boxes { list-style: none; padding: 0; } .boxes > li { padding-left: 6mm; margin-bottom: 1.2mm; break-inside: avoid; }
.boxes > li::before {
  margin: 0 2.8mm 0 -6mm; vertical-align: -.4mm; text-align: center; font: bold 9pt/3mm sans-serif;
}
.boxes > .done::before { content: "\\2713"; } .ends > .done { text-decoration: line-through; }
.ends { padding-left: 9mm; } .ends li { margin-bottom: 1mm; break-inside: avoid; }
figure { margin: 0 0 4mm; break-inside: avoid; }
.crossings { display: grid; grid-template-columns: 1fr 1fr; gap: 4mm; } figcaption { font-size: 9.5pt; }
.needle { stroke: #000; stroke-width: .9px; stroke-linecap: round; }
.strand { fill: none; stroke: #000; stroke-width: 2px; } .strand.hollow { stroke: #fff; stroke-width: 1.2px; }
.clear { fill: none; stroke: #fff; stroke-width: 3.6px; }
.loop { fill: #000; } .loop.hollow { fill: #fff; stroke: #000; stroke-width: .4px; }
.note { font: 2.8px sans-serif; text-anchor: middle; }
""" % {"wide": WIDE_MM, "high": HIGH_MM}  # noqa: UP031  # braces are the style's own

_HASH = base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()

POLICY = f"default-src 'none'; img-src data:; style-src 'sha256-{_HASH}'"
"""Nothing is fetched and nothing runs; of styles the page's own alone counts (W3C, Content Security Policy, level 3).
"""
