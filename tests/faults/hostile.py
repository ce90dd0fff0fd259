"""Plans, chart files, settings and exported pieces as nobody should write them, and what must hold of each.

Run by hand for many: ``python -m tests.faults.hostile 20000``. What it finds becomes a file in ``cases/``.
"""

from __future__ import annotations

import contextlib
import io
import re
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from random import Random

from companion import settings
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.pages import tables, written
from companion.plan.demo import demo_plans
from companion.plan.read import load_text
from companion.problems import Problem, Problems, show
from companion.progress import exported

OBEYED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\u200e\u200f]")
"""Characters of which none may reach a terminal: controls, and marks that turn text round."""

MOST_SECONDS, MOST_MEGABYTES = 20, 600
"""Bounds for one plan, whatever it holds; a test holds the program to them."""

SCRAPS = (
    "\x1b[2J", "\x1b]0;x\x07", "\u202e", "\u2066", "[red]", "[/", "[MC]", "[link=file:///]", "{{", "*a", "&a",
    "<<: *a", "!!python/object:os.system", "%TAG", "---", "...", "\t", "\r", "\0", "\u2028", "\ufeff", "'", '"', "|",
    ">", "#", "- ", ": ", "?", "1e999", "-1", "0", "999999999999999999999", "0x10", "1:30", "~", "null", "yes", "é",
    "🧶", "x" * 10_000, "[" * 50, "{a: " * 50, "9" * 400, "1_000", "nan", "inf", "../../etc/passwd", "/dev/zero",
    "con", "%s%n", "$HOME", "`id`",
    "40 (46, 52)", "4 (", "(, )", "\nsizes: [S, M]\n",
    "\n    shape: dec 1 at each end of every RS row 9999999 times\n",
    "until 0 sts remain", "\n    opening: {first: left, at: 1, rows: 2}\n", "middle", "\n    says: x\n",
)  # fmt: skip

NUMBERS = (0, 1, 2, 7, 99, 10**6, 10**12)


def mutated(text: str, dice: Random) -> str:
    """The text with one to six things done to it that typing, pasting or malice may do."""
    for _ in range(dice.randint(1, 6)):
        lines = text.split("\n")
        at, other = dice.randrange(len(text) + 1), dice.randrange(len(lines))
        match dice.randrange(8):
            case 0:
                text = text[:at] + dice.choice(SCRAPS) + text[at:]
            case 1:
                text = text[:at] + text[at + dice.randint(1, 30):]
            case 2:
                text = "\n".join([*lines[:other], *lines[other + 1:]])
            case 3:
                text = "\n".join([*lines[:other], lines[other], *lines[other:]])
            case 4:
                text = re.sub(r"\d+", lambda _: str(dice.choice(NUMBERS)), text, count=dice.randint(1, 4))
            case 5:
                code = dice.choice([dice.randrange(0xD800), dice.randrange(0xE000, 0x110000)])
                text = text[:at] + chr(code) + text[at:]
            case 6:
                lines[other] = dice.choice(["", " ", "  ", "\t"]) + lines[other][dice.randint(0, 3):]
                text = "\n".join(lines)
            case 7:
                text = text[:at]
    return text


def outcome(kind: str, text: str, files: dict[str, str]) -> str:
    """What comes of a text: "taken" or "told". Anything else is an exception, or an AssertionError."""
    try:
        if kind == "plan":
            loaded = load_text(text, "plan.yaml", files)
            problems: Sequence[Problem] = loaded.warnings
            _print(loaded.piece)
        elif kind == "settings":
            _, problems = settings.parse(text)
        else:
            exported.read(text, "piece.progress")
            problems = ()
        told = "taken"
    except Problems as found:
        problems, told = found.problems, "told"
        assert problems
    for problem in problems:
        _is_harmless(show(problem))
    return told


def _print(piece: Piece) -> None:
    """What is printed of a piece that is small enough to be looked at by the thousand."""
    if piece.fabric.stitches <= 5_000 and len(piece.rows) <= 100:
        strands = plan_strands(piece.rows, piece.carry).strands
        for line in (*written.whole(piece, strands), *tables.strand_table(piece, strands)):
            _is_harmless(line)


def _is_harmless(shown: str) -> None:
    assert not OBEYED.search(shown.replace("\n", "")), repr(shown)


def material() -> list[tuple[str, str]]:
    """What is mutated: the demo plans, a settings file, an exported piece."""
    plans = [("plan", path.read_text(encoding="utf-8")) for path in demo_plans()]
    return [*plans, ("settings", SETTINGS), ("progress", piece())]


SETTINGS = "terms: uk\nhands: left\nunits: in\nlight: light\noffer_at: 4\nkeys:\n  on: [space, x]\n  back: [b]\n"


def piece() -> str:
    """An exported piece with some of everything in its history."""
    from companion.plan.read import load
    from companion.progress.actions import AtRow, Back, Note, On, RipBack, Unpick, Weave
    from companion.progress.ends import all_ends
    from companion.progress.shelf import Shelf

    swatch = next(path for path in demo_plans() if path.stem == "swatch")
    with tempfile.TemporaryDirectory() as folder:
        shelf = Shelf(Path(folder))
        with shelf.start(load(swatch), swatch) as knitting:
            for action in (AtRow(20), On(), Note(3, "cup of tea"), RipBack(18), On(), Unpick(), Back()):
                knitting.do(action)
            knitting.do(Weave(all_ends(knitting.session)[0][0]))
        return "".join(exported.written(shelf.contents("Harbour practice swatch")))


def main(number: int) -> None:
    """So many mutated texts, and what came of them."""
    dice, known, kinds = Random(), material(), Counter[str]()
    for _ in range(number):
        kind, text = dice.choice(known)
        bad = mutated(text, dice)
        try:
            with contextlib.redirect_stdout(io.StringIO()):
                kinds[f"{kind} {outcome(kind, bad, {})}"] += 1
        except BaseException as error:
            path = Path(tempfile.gettempdir()) / f"find-{kind}-{abs(hash(bad))}"
            path.write_bytes(bad.encode("utf-8", "surrogatepass"))
            print(f"{type(error).__name__}: {error!s:.200}: {path}")
            kinds["found"] += 1
    print(dict(kinds))


if __name__ == "__main__":
    main(int(sys.argv[1]))
