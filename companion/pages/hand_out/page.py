"""The whole page: a file by itself, without a script and without a request, that any browser prints."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import chain

from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.words import paper
from companion.knitting.words.why import reasons
from companion.pages.hand_out.back import back
from companion.pages.hand_out.chart import chart_sheets
from companion.pages.hand_out.crossing import crossing
from companion.pages.hand_out.finishing import finishing
from companion.pages.hand_out.markup import name, paragraphs, text
from companion.pages.hand_out.picture import picture
from companion.pages.hand_out.request import HandOut
from companion.pages.hand_out.sizes import sizes_table
from companion.pages.hand_out.style import POLICY, STYLE
from companion.pages.hand_out.title import title
from companion.pages.hand_out.winding import winding
from companion.pages.hand_out.written_rows import written_rows
from companion.progress.finishing import finishing as steps_of


def page(hand_out: HandOut) -> Iterator[str]:
    """The file, piece by piece.

    Raises:
        Problems: its chart is too large.
    """
    yield from _begun(hand_out.piece.title)
    yield from _parts(hand_out, hand_out.parts)
    yield "</main></body></html>\n"


def page_of_sizes(title: str, of_sizes: Mapping[str, HandOut]) -> Iterator[str]:
    """A file with a plan in each of its sizes, by their names: which there are, then the parts of each; how to cross
    is told with the first.

    Raises:
        Problems: a chart is too large.
    """
    yield from _begun(title)
    yield f'<section class="part"><h1>{name(title)}</h1>'
    yield picture(next(iter(of_sizes.values())))
    yield from sizes_table(of_sizes)
    yield "</section>"
    for number, hand_out in enumerate(of_sizes.values(), 1):
        wanted = [part for part in hand_out.parts if number == 1 or part != "crossing"]
        yield from _parts(hand_out._replace(mark=f"size-{number}-"), wanted)
    yield "</main></body></html>\n"


def _begun(title: str) -> Iterator[str]:
    """What every file begins with."""
    yield f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{text(title)}</title>'
    yield f'<meta http-equiv="Content-Security-Policy" content="{text(POLICY)}">'
    yield f'<meta name="viewport" content="width=device-width"><style>{STYLE}</style></head><body><main>'


def _parts(hand_out: HandOut, wanted: Sequence[str]) -> Iterator[str]:
    """The parts that are wanted, the first with the piece's title above it."""
    is_first = True
    for part in paper.PAPER_PARTS:
        if part not in wanted or (part == "now" and not hand_out.now):
            continue
        lead = f"<h1>{name(hand_out.piece.title)}</h1>" if is_first else ""
        is_first = False
        if part == "chart":
            yield from chart_sheets(hand_out, "h1" if lead else "h2")
            continue
        head = paper.PAPER_PARTS[part]
        yield f'<section class="part">{lead}{f"<h2>{text(head)}</h2>" if head else ""}'
        yield from MADE[part](hand_out)
        yield "</section>"


def _now(hand_out: HandOut) -> Iterator[str]:
    yield paragraphs(map(text, hand_out.now))


def _why(hand_out: HandOut) -> Iterator[str]:
    """The reason for every kind of step that this piece has."""
    strands, how = hand_out.strands, hand_out.piece.catching
    runs = (run for row in range(len(strands.rows)) for run in row_runs(strands, row, how))
    ends = (step for row in range(len(strands.rows)) for step in row_end(strands, row))
    last = (step.doing for step in steps_of(hand_out.session))
    steps = chain(chain.from_iterable(run.steps for run in runs), ends, last)
    yield paragraphs(map(text, reasons(steps, hand_out.terms)))


MADE: Mapping[str, Callable[[HandOut], Iterator[str]]] = {
    "title": title, "now": _now, "crossing": crossing, "winding": winding, "rows": written_rows, "back": back,
    "finishing": finishing, "why": _why,
}  # fmt: skip
