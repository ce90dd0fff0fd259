"""Edges of rows in the trade's words: what is bound off, cast on, decreased or increased there, in which rows, and
how many stitches there are then. Written rows and the shape of a plan's section are read by the same words.

"dec" and "inc", "BO", "CO", "beg", "foll", "alt", "rem", "RS" and "WS" stand for decrease and increase, bind off,
cast on, beginning, following, alternate, remaining, right and wrong side (the Craft Yarn Council's list of knit
abbreviations, from memory; the trade's published lists concur). "Cast off" and "straight" are the UK's words for bind
off and even (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from companion.knitting.value import Record
from companion.plan.phrases import NTH, NUMBER, STS, Amiss, Phrases

Place = Literal["beginning", "end", "each end", "right edge", "left edge", "neck edge", "outer edge"]
"""Of a row as it is worked; the right and the left edge as seen from the right side; of a part the edge beside the
opening, and the other one."""

Verb = Literal["bind off", "cast on", "dec", "inc"]
"""What is done, by its US name."""

Side = Literal["", "RS", "WS"]

VERB = r"(?:bind off|cast off|bo|cast on|co|dec(?:rease)?|inc(?:rease)?)\b\.?"
_PLACE = (
    r"(?:beg(?:inning)?\b\.?|start\b|(?:right|left)(?:[ -]hand)? (?:edge|side)\b|end\b"
    r"|(?:each|both) (?:ends?|edges?|sides?)\b"
    r"|(?:neck|inner|inside|front|outer|outside|armhole|side) edge\b)"
)
_WHERE = rf"(?:{STS} )?(?:(?:at|on) )?(?:the )?({_PLACE})"
ACT = rf"({VERB}) (?:({NUMBER}) )?{_WHERE}"
_MORE = rf"({NUMBER}) {_WHERE}"

_ROWS = r"(?:rows?|rounds?|rnds?)\b\.?"
_SIDE = r"(RS|WS|right[- ]side|wrong[- ]side)\b"
_NTH = rf"(other\b|alt(?:ernate)?\b\.?|{NTH})"
_FOLLOWING = r"(?:next|following|foll|this|these)\b\.?"
_KIND = rf"(?: {_NTH})?(?: {_SIDE})?"
_EACH = rf"(?: ?{_NTH})?(?: {_SIDE})?"
_NEXT = rf"(?:(?:of|on|in|at) )?(?:the )?{_FOLLOWING}(?: ({NUMBER}))?{_KIND}(?: {_ROWS}| ?(?=and\b))"
_FEW = rf"(?:(?:of|on|in|at) )?(?:the )?({NUMBER}) {_FOLLOWING}{_KIND} {_ROWS}"
_EVERY = rf"(?:(?:of|on|in|at) )?(?:(?:every|each)\b(?: {_FOLLOWING})?|(?=alt)){_EACH} {_ROWS}"
_TIMES = rf",? ?(?:for )?(?:({NUMBER}) (?:more )?times\b(?: more\b)?|(once|twice|thrice)\b|[x×] ?(\d{{1,9}})\b)"
_UNTIL = (
    rf",? ?(?:until|to)\b(?: there are| you have)?(?: only)? ({NUMBER}) {STS}"
    r"(?: (?:are )?(?:rem|remain|remaining|left|on (?:the )?needles?)\b\.?)?"
)
_OFTEN = {"once": 1, "twice": 2, "thrice": 3}

_EVEN = r"(?:even|straight|plain|without (?:any )?shaping)\b"
_WORK = r"(?:(?:work|cont(?:inue)?)\b\.? )?"
_EVEN_ROWS = (
    rf"{_WORK}(?:{_EVEN} )?(?:(?:for|over) )?(?:the )?(?:{_FOLLOWING} )?({NUMBER}) {_ROWS}(?: {_EVEN})?"
    rf"|{_WORK}(?:the )?{_FOLLOWING} {_ROWS} {_EVEN}"
)

EVEN_TO_ROW = (
    rf"{_WORK}{_EVEN} (?:(?:up )?(?:to|until|till|through)\b)(?: and including)?(?: the)?(?: end of)?(?: the)?"
    rf" {_ROWS} ({NUMBER})"
)
"""The pattern of even rows told by the last of them, which may be read two ways."""

_LEFT = r"(?:rem|remain|remaining|left|in all|on (?:the )?needles?|each)\b\.?"
_COUNT = (
    rf"[(\[]\s*(?:=\s*)?({NUMBER}) {STS}(?: {_LEFT})?\s*[)\]]"
    rf"|(?:->|→|—|–|--|-|=)\s*({NUMBER}) {STS}(?: {_LEFT})?"
)


_INNER = "neck", "inn", "ins", "front"


class Act(Record):
    """So many stitches ``more``, or with a minus fewer, at an edge; what is done there is the ``verb``."""

    more: int
    place: Place
    verb: Verb
    at: int

    @property
    def is_off(self) -> bool:
        """They are bound off."""
        return self.verb == "bind off"


class When(Record):
    """Rows in which something is done: every ``every``-th of those to come with this ``side`` toward the knitter (""
    = any), so many ``times``; 0 = until there are ``until`` stitches."""

    every: int
    side: Side
    times: int
    until: int
    at: int


def act_of(words: Phrases, before: str = "") -> Act | None:
    """What is made or lost at an edge, read; None where it is nothing of the kind. ``before``: the verb of what is
    done before it in the sentence, which need not be said again ("bind off 3 ..., then 2 sts at ..."); "" = none.

    Raises:
        Amiss: no hands could do it there.
    """
    at = words.here
    if found := words.look(ACT):
        verb, number, where = verb_of(found[1]), found[2], found[3]
    elif before and (found := words.look(_MORE)):
        verb, number, where = verb_of(before), found[1], found[2]
    else:
        return None
    place = _place(where.lower())
    if verb.endswith(("off", "on")) and not number:
        return None
    words.at = found.end()
    many = words.number(number) if number else 1
    if verb.endswith("off") and place in ("end", "each end"):
        raise Amiss(at, "Stitches are bound off where a row begins, not where it ends.",
                    "Bind them off at the beginning of the next row.", "off at end")  # fmt: skip
    if verb in ("dec", "inc") and many > (2 if verb == "dec" else 1):
        how = "decreased" if verb == "dec" else "increased"
        what = f"{many} stitches at once are not {how} at an edge."
        raise Amiss(at, what, "Bind off, or cast on, so many.", "at once")
    if not many:
        raise Amiss(at, "Here nothing is made and nothing lost.", "Leave it out.")
    is_less = verb in ("bind off", "dec")
    return Act(-many if is_less else many, place, verb, at)


def verb_of(word: str) -> Verb:
    """Which of the four is done."""
    letters = "".join(word.lower().split()).rstrip(".")
    if letters in ("bindoff", "castoff", "bo"):
        return "bind off"
    return "cast on" if letters in ("caston", "co") else "dec" if letters.startswith("dec") else "inc"


def _place(word: str) -> Place:
    if word.startswith(("beg", "start")):
        return "beginning"
    if word.startswith(("right", "left")):
        return "right edge" if word.startswith("right") else "left edge"
    if word.startswith(("each", "both")):
        return "each end"
    return "end" if word == "end" else "neck edge" if word.startswith(_INNER) else "outer edge"


def rows_of(words: Phrases) -> Iterator[When]:
    """In which rows something is done, one kind after the other, read.

    Raises:
        Amiss: it is not said how often, or it can be read two ways.
    """
    is_and = False  # the next row and these, told in one breath
    while True:
        at = words.here
        if found := words.may(_FEW) or words.may(_NEXT):
            yield _rows(words, found[2], found[3], words.number(found[1]) if found[1] else 1, 0, at)
        elif found := words.may(_EVERY):
            yield _every(words, found[1], found[2], at, is_and=is_and)
        else:
            return
        joined = words.look(rf",? ?(and then|and|then)\b(?= (?:{_NEXT}|{_FEW}|{_EVERY}))")
        if joined is None:
            return
        words.at, is_and = joined.end(), joined[1].lower() == "and"


def _every(words: Phrases, nth: str | None, side: str | None, at: int, *, is_and: bool) -> When:
    said = " ".join(words.text[at:words.at].split())
    if found := words.may(_TIMES):
        word = found[1] or found[3]
        times = words.number(word) if word else _OFTEN[found[2].lower()]
        if is_and:
            what = f"It can be read two ways: {times} times in all, the row before it counted, or {times} times more."
            raise Amiss(at, what, f'Write ", then {said} {times} times" if it is {times} times more.', "how often")
        return _rows(words, nth, side, times, 0, at)
    if found := words.may(_UNTIL):
        return _rows(words, nth, side, 0, words.number(found[1]), at)
    mend = f'Such as "{said} 3 times", or "{said} until 40 sts remain".'
    raise Amiss(at, f'It is not said how often: "{said}".', mend, "how often")


def _rows(words: Phrases, nth: str | None, side: str | None, times: int, until: int, at: int) -> When:
    every = 1 if nth is None else 2 if nth.lower().startswith(("other", "alt")) else words.nth(nth)
    if not every or not (times or until):
        raise Amiss(at, "Rows are counted from 1 up.", 'Such as "of the next 2 rows", "of every 4th row 3 times".')
    kind: Side = "" if side is None else "RS" if side[0] in "Rr" else "WS"
    return When(every, kind, times, until, at)


def even_rows(words: Phrases) -> int:
    """Rows that are worked even, read; 0 where none are told here.

    Raises:
        Amiss: none at all are meant.
    """
    at = words.here
    found = words.may(_EVEN_ROWS)
    if found is None:
        return 0
    if found[1] and not words.number(found[1]):
        raise Amiss(at, "Rows are counted from 1 up.", "Leave it out.")
    return words.number(found[1]) if found[1] else 1


def count_of(words: Phrases) -> int | None:
    """How many stitches there are said to be then, read; None where it is not said here."""
    at = words.here
    if found := words.may(_COUNT):
        return words.number(found[1] or found[2])
    is_sentence = words.text[max(0, at - 9):at].rstrip().endswith(".")
    if is_sentence and (found := words.may(rf"({NUMBER}) {STS}(?: {_LEFT})?\s*\.?\s*\Z")):
        return words.number(found[1])
    return None
