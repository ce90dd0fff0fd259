"""The comparison of techniques as a table: a line each, and one sentence on which is recommended."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting import words
from companion.knitting.cloth.areas import sewing
from companion.knitting.piece import Piece
from companion.knitting.reckoning import choices
from companion.knitting.reckoning.choices import Choice
from companion.knitting.words import US, Terms
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import BEATEN, technique, why_recommended
from companion.problems import plain

FAINT, AS_BEFORE = "\x1b[2m", "\x1b[22m"


def table(piece: Piece, found: Sequence[Choice], terms: Terms = US, *, is_coloured: bool = False) -> Iterator[str]:
    """Every line, without line ends. ``is_coloured``: choices that are beaten are printed faint, and not only said
    to be."""
    yield plain(piece.title)
    yield ""
    names = [technique(choice.limits, piece, len(choice.sewn)) for choice in found]
    wide = max(map(len, [*names, "Technique"]))
    title = "Longest float"
    already = len(sewing(piece.fabric))
    is_sewn = already or any(choice.sewn for choice in found)
    sewn = "  Sewn on" if is_sewn else ""
    yield f"    {'Technique':<{wide}}  Strands   Ends{sewn}  Most at once  Carried  {title}     Yarn"
    beaten = choices.beaten(found)
    for number, (choice, name) in enumerate(zip(found, names, strict=True), 1):
        each = choice.figures
        float_ = words.measured(each.longest_cm, terms)
        yarn = yarn_words.yarn_length(each.yarn_cm, is_inches=terms.is_inches)
        sewn = f"  {already + len(choice.sewn):>7}" if is_sewn else ""
        line = (
            f"{number:>2}  {name:<{wide}}  {each.strands:>7}  {each.ends:>5}{sewn}  {each.most_at_once:>12}  "
            f"{each.carried:>7}  {float_:>{len(title)}}  {yarn:>7}  {_marks(piece, found, choice, beaten)}"
        ).rstrip()
        yield f"{FAINT}{line}{AS_BEFORE}" if is_coloured and choice in beaten else line
    yield ""
    length = words.measured(choices.free_cm(piece), terms)
    yield why_recommended(piece, found, length)
    if is_sewn:
        yield words.SEWN_ON_COUNTED
    if piece.is_for_baby:
        yield words.for_baby(terms)
    if beaten:
        yield BEATEN


def _marks(piece: Piece, found: Sequence[Choice], choice: Choice, beaten: frozenset[Choice]) -> str:
    marks = [
        ("today's", choice.limits == piece.carry and not choice.sewn),
        ("recommended", choice == choices.recommended(piece, found)),
        ("beaten", choice in beaten),
    ]
    return ", ".join(word for word, is_so in marks if is_so)
