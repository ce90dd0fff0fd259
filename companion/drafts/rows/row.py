"""The words of one row, read: stitches with their yarns, repeats, what is made and lost, what stands at its end."""

from __future__ import annotations

from typing import cast

from companion.drafts.rows.doings import (
    BindOff,
    CastOn,
    End,
    Group,
    Hand,
    Item,
    Shape,
    Star,
    Stitches,
    ToEnd,
    Words,
)
from companion.drafts.rows.row_ends import ends
from companion.drafts.rows.scanner import RESERVED, Scanner
from companion.knitting.cloth.fabric import Part
from companion.plan.phrases import NUMBER, STS, Amiss
from companion.problems import quoted

_DEEPEST = 20
"""Brackets within brackets; deeper ones nobody follows on the needles."""

_OF_ROW = r"(?: of (?:the )?(?:row|round|rnd))?"
_LAST = rf"(?:to|until) (?:the )?last (?:({NUMBER}) )?{STS}|to ({NUMBER}) {STS} before (?:the )?end{_OF_ROW}"
_END = rf"(?:to (?:the )?end{_OF_ROW}\b|across(?: (?:the )?(?:row|all sts))?\b|around\b)"
_ALL = rf"(?:{_END}|(?:all|every|each)(?: {STS})?|the row\b)"
_WITH = r"(?:with|using|in)\b"

_SHAPES: dict[str, tuple[int, int, Hand, Part]] = {
    "k2tog": (2, 1, "k", "left"), "p2tog": (2, 1, "p", "left"), "k3tog": (3, 1, "k", "left"),
    "p3tog": (3, 1, "p", "left"), "ssk": (2, 1, "k", "right"), "ssp": (2, 1, "p", "right"),
    "sssk": (3, 1, "k", "right"), "sssp": (3, 1, "p", "right"), "skpo": (2, 1, "k", "right"),
    "skp": (2, 1, "k", "right"), "m1r": (0, 1, "k", "right"), "m1l": (0, 1, "k", "left"), "m1": (0, 1, "k", ""),
    "m1p": (0, 1, "p", ""),
}  # fmt: skip
"""What stitches are worked together or made, by the trade's abbreviations; leans as ``shaping`` has them."""

_SHAPE = r"(k ?[23] ?tog|p ?[23] ?tog|sss[kp]|ss[kp]|skpo?|m1[rlp]?)\b(?: (purlwise))?"


class RowReader:
    """Reads one row. A yarn that is named before stitches holds for all that come after it; one that is named behind
    a stitch for that one alone."""

    def __init__(self, scanner: Scanner, *, is_first: bool) -> None:
        self._s, self._is_first = scanner, is_first
        self._yarn = ""
        self._style = ""
        self._ends: list[End] = []
        self._hangs = False  # the last word was a yarn that still wants its stitches
        self._is_more = False  # what comes next may be told as more than the stitch that a bind-off leaves
        self._is_apart = True  # a comma or the like stands before what comes now
        self.cast_on: tuple[str, int, str, int] | None = None  # yarn, stitches, method, offset

    def read(self) -> Words:
        """All words to the end.

        Raises:
            Amiss: something is not understood, or can be read two ways.
        """
        items = self._items(0, "")
        if self._hangs:
            raise Amiss(self._s.here, "The row ends with a yarn, and no stitches for it.", _HOW, "hangs")
        return Words(items, tuple(self._ends))

    def _items(self, depth: int, closing: str) -> tuple[Item, ...]:
        """Items up to a closing bracket, which is read, or to the end."""
        scanner, items = self._s, list[Item]()
        star: tuple[int, int] | None = None  # where it stands, and how many items lie before it
        start = scanner.here
        while True:
            parted = scanner.may(r"(?:[\s,;.]|\band\b|\bthen\b)+")
            self._is_apart = not items or (parted is not None and parted.group().strip() != "")
            if scanner.is_over:
                break
            at = scanner.here
            if closing and scanner.may(closing):
                if star:
                    raise _without_end(star[0])
                return tuple(items)
            if not closing and (ended := ends(scanner)) is not None:
                self._ends += ended
                continue
            if scanner.look(r"\*\*"):
                raise Amiss(at, "Repeats marked with more than one star are not read.", _BRACKETS, "star")
            if scanner.may(r"\*"):
                if star is None:
                    star = at, len(items)
                    continue
                items[star[1]:] = [self._star(tuple(items[star[1]:]), at)]
                star = None
                continue
            if scanner.look(r"rep(?:eat)?\b\.?(?: (?:from|between|the)\b| \*)"):
                if star is None:
                    raise Amiss(at, "Nothing is marked with * before this.", _BRACKETS, "star")
                items[star[1]:] = [self._star(tuple(items[star[1]:]), at)]
                star = None
                continue
            self._item(items, depth)
        if closing:
            raise Amiss(start - 1, "This bracket is not closed.", _BRACKETS, "bracket")
        if star:
            raise _without_end(star[0])
        return tuple(items)

    def _star(self, items: tuple[Item, ...], at: int) -> Item:
        """What is marked by a star, with how often it is done, read."""
        scanner = self._s
        if not items:
            raise Amiss(at, "Nothing lies between the star and this.", _BRACKETS, "star")
        start = items[0].at
        is_rep = scanner.may(r"rep(?:eat)?\b\.?(?:,)? ?(?:(?:from )?(?:the )?\*(?: to \*)?)?,?")
        if found := scanner.may(_LAST):
            return Star(items, scanner.number(found[1] or found[2] or "1"), start)
        if scanner.may(_END):
            return Star(items, 0, start)
        if found := scanner.may(rf"({NUMBER}) (?:more times?|times? more)\b|(once|twice) more\b"):
            more = scanner.number(found[1]) if found[1] else {"once": 1, "twice": 2}[found[2].lower()]
            return Group(items, more + 1, start)
        if found := scanner.may(rf"({NUMBER}) times?\b|(once|twice|thrice)\b"):
            times = scanner.number(found[1]) if found[1] else {"once": 1, "twice": 2, "thrice": 3}[found[2].lower()]
            if not is_rep:
                return Group(items, times, start)
            raise Amiss(
                at, f'"{" ".join(scanner.text[at:scanner.at].split())}" can be read two ways: {times} times in all, '
                f"or once and then {times} times more, {times + 1} in all.",
                f"Write what is repeated in brackets: (...) {times} times, or (...) {times + 1} times.", "how often",
            )  # fmt: skip
        raise Amiss(
            at, "It is not said how often this is repeated.",
            'Such as "rep from * to end", "rep from * to last 2 sts", or (...) 3 times.', "star",
        )  # fmt: skip

    def _item(self, items: list[Item], depth: int) -> None:
        """One thing to do, read; or what only leads to it."""
        scanner, at = self._s, self._s.here
        if self._leads() or self._aside():
            return
        if found := scanner.look(r"[(\[{]"):
            items.append(self._group(found.group(), depth))
            return
        if self._binds_or_casts(items):
            return
        if found := scanner.may(_SHAPE):
            takes, makes, hand, leans = _SHAPES["".join(found[1].lower().split())]
            items.append(Shape(takes, makes, "p" if found[2] else hand, leans, self._of(at), at))
            return
        if scanner.may(r"make 1 by a backward loop\b"):
            items.append(Shape(0, 1, "?", "", self._of(at), at))
            return
        if found := scanner.may(r"(kfb|k1f&b|k1fb|pfb)\b"):
            hand = cast(Hand, found[1][0].lower())
            items += [Stitches(hand, 1, self._yarn, at), Shape(0, 1, hand, "", self._of(at), at)]
            return
        if scanner.may(r"(?:sl(?:ip)? ?1|sl(?:ip)? the first stitch)\b(?: purlwise\b)?(?:,? wy[if][bf]\b)?"):
            items.append(Stitches("sl", 1, self._of(at), at))
            return
        if item := self._worked():
            items.append(item)
            return
        if self._yarn_alone():
            return
        raise _unknown(scanner, at)

    def _leads(self) -> bool:
        """A yarn told by a word before it, and where its strand comes from."""
        scanner, start = self._s, self._s.at
        lead = scanner.may(
            r"(?:with|using|in)\b|join(?: new)?\b|change to\b|start at the middle of a length of\b"
            r"|start with the other half of that length of\b"
        )  # fmt: skip
        if lead is None:
            return False
        name = self._s.known_yarn() or self._other() or self._s.named_yarn()
        if not name:
            scanner.at = start
            raise Amiss(scanner.here, f"{quoted(scanner.rest())}: which yarn is meant?", _HOW, "which yarn")
        self._take(name, "prefix")
        scanner.may(r"\(hangs \d{1,7} sts? (?:ahead|back)\)")
        if scanner.may(r",? bring it under (?:the old )?|, bring it under (?:the old )?"):
            scanner.yarn()
        scanner.may(r"[,:]")
        return True

    def _other(self) -> str:
        """The yarn of "the other" strand of two that share a run; "" where none is told of."""
        start = self._s.at
        if self._s.may(r"the other\b") and (name := self._s.known_yarn()):
            return name
        self._s.at = start
        return ""

    def _take(self, name: str, style: str) -> None:
        if self._hangs:
            raise Amiss(self._s.at, f"Two yarns stand here and no stitches between them: {quoted(self._yarn)} and "
                        f"{quoted(name)}.", _HOW, "hangs")  # fmt: skip
        self._yarn, self._style, self._hangs = name, self._style or style, True

    def _aside(self) -> bool:
        """What says nothing of the fabric: crosses, catches, tails."""
        scanner = self._s
        if scanner.may(r"cross(?= *[,;])"):
            return True
        start = scanner.at
        if scanner.may(r"(?:lay the|catch(?: the resting)?|leave the resting|splice)\b") and scanner.yarn():
            scanner.may(r"tail in under the next \d{1,7}\b")
            return True
        scanner.at = start
        return False

    def _group(self, bracket: str, depth: int) -> Item:
        """What stands in brackets, and how often."""
        scanner, at = self._s, self._s.here
        if depth == _DEEPEST:
            raise Amiss(at, f"Brackets lie in one another, more than {_DEEPEST} deep.", _BRACKETS, "bracket")
        scanner.at = at + 1
        before, style = self._yarn, self._style
        items = self._items(depth + 1, {"(": r"\)", "[": r"\]", "{": r"\}"}[bracket])
        if not items:
            raise Amiss(at, "Nothing to be worked lies in these brackets.", cause="bracket")
        is_open = self._yarn != before and _takes_over(items, before)
        times: int | None = None
        if found := scanner.may(
            rf"({NUMBER}) times?\b|(\d{{1,9}})\s?[x×](?!\w)|[x×]\s*({NUMBER})|(twice|once|thrice)\b"
        ):
            word = found[1] or found[2] or found[3]
            times = scanner.number(word) if word else {"once": 1, "twice": 2, "thrice": 3}[found[4].lower()]
            if times < 1:
                raise Amiss(at, "What is in brackets is done once at least.", cause="bracket")
        elif scanner.may(r",?\s*rep(?:eat)?\b\.?(?: this)? (?=to\b)") or scanner.look(r"to\b|across\b|around\b"):
            if found := scanner.may(_LAST):
                return Star(items, scanner.number(found[1] or found[2] or "1"), at)
            if scanner.may(_END):
                return Star(items, 0, at)
        if is_open and times != 1 and style != "suffix":
            raise Amiss(
                at, "Within these brackets the yarn changes, and their first stitches name none: the second time "
                "they may be in either.", "Name the yarn of every stitch within brackets.", "which yarn",
            )  # fmt: skip
        if self._is_more:
            scanner.may(r"more\b")
        return Group(items, times or 1, at)

    def _binds_or_casts(self, items: list[Item]) -> bool:
        scanner, at = self._s, self._s.here
        if found := scanner.may(
            rf"(?:bind off|cast off|bo) ({NUMBER})(?: {STS})?(?: \((1) on the (?:right|left) needle\))?"
            r"(?: at (?:the )?(?:beg|beginning|start)\b\.?(?: of (?:the |this )?row)?)?"
        ):
            self._is_more = bool(found[2])
            items.append(BindOff(scanner.number(found[1]), self._is_more, self._of(at), at))
            return True
        found = scanner.may(rf"(?:cast on|co) ({NUMBER})(?: {STS})?")
        if found is None:
            return False
        stitches = scanner.number(found[1])
        if self._is_first and not items and scanner.look(r"(?:in|with|using)\b"):
            scanner.may(r"(?:in|with|using)\b")
            yarn = self._s.named_yarn()
            method = scanner.may(r"\((long-tail|knitted|cable)(?:[^)]{0,40})?\)")
            scanner.may(r", cut it\b")
            scanner.may(r", join into a round, the cast-on not twisted\b")
            self.cast_on = yarn, stitches, method[1].lower() if method else "", at
            return True
        how = scanner.may(r"\((?:knitted or cable|(backward loops?))\)")
        items.append(CastOn(stitches, bool(how and how[1]), self._of(at), at))
        return True

    def _worked(self) -> Item | None:
        """Knits and purls; or a number alone, and its yarn."""
        scanner, at = self._s, self._s.here
        if found := scanner.may(rf"(knit|purl|k\.?|p\.?)\s?(\d{{1,9}})(?!\s?tog)(?: {STS})?(?: more\b)?"):
            return Stitches(_hand(found[1]), int(found[2]), self._of(at), at)
        if found := scanner.may(rf"(knit|purl|k|p) (?:{_LAST})"):
            return ToEnd(_hand(found[1]), scanner.number(found[2] or found[3] or "1"), self._of(at), at)
        if found := scanner.may(rf"(knit|purl|k|p) {_ALL}|(knit|purl|k|p)(?!\w)"):
            return ToEnd(_hand(found[1] or found[2]), 0, self._of(at), at)
        if found := scanner.look(r"([A-Z]{1,3}\d?|\w{1,40}?)([kp])(\d{1,9})(?!\w)"):
            is_known = bool(self._s.yarns.known(found[1], 0, len(found[1])))
            if is_known or (found[1].isupper() and not scanner.yarns.is_closed):
                scanner.at = found.end()
                self._take(scanner.yarns.declare(found[1]), "prefix")
                self._hangs = False
                return Stitches(_hand(found[2]), int(found[3]), self._yarn, at)
            if found[1].isupper():
                raise scanner.unknown(found[1], at)
        if found := scanner.may(rf"(\d{{1,9}})(?: {STS})?\s*(?:of\b)?"):
            self._style = self._style or "suffix"
            yarn = self._suffix()
            if not yarn and not (self._style == "prefix" and self._yarn):
                rest = scanner.rest()
                what = f"Here stands {quoted(found.group().strip())}, and then {quoted(rest)}." if rest else (
                    f"Here stands {quoted(found.group().strip())}, and it is not said of what."
                )
                raise Amiss(at, what, _HOW, "number")
            self._hangs = False
            return Stitches("", int(found[1]), yarn or self._yarn, at)
        return None

    def _of(self, at: int) -> str:
        """The yarn of stitches that were just read: named behind them, or before."""
        yarn = self._suffix()
        if not self._style:
            self._style = "suffix"
        self._hangs = False
        return yarn or self._yarn

    def _suffix(self) -> str:
        scanner, start = self._s, self._s.at
        if scanner.may(r"[(\[]\s*") and (name := scanner.yarn()) and scanner.may(r"[)\]]"):
            return self._behind(name)
        scanner.at = start
        is_prefix = self._style == "prefix"
        if scanner.may(r"in\b" if is_prefix else _WITH):
            if name := self._s.named_yarn():
                return self._behind(name)
            scanner.at = start
        if not is_prefix and not scanner.look(rf"(?:knit|purl|k|p)\s?\d|{_SHAPE}"):
            if name := scanner.named_yarn():
                return self._behind(name)
            scanner.at = start
        return ""

    def _behind(self, name: str) -> str:
        """A yarn named behind a stitch; the one named before holds no longer, since nobody knows which would."""
        self._style = self._style or "suffix"
        if self._style == "suffix":
            self._yarn = ""
        return name

    def _yarn_alone(self) -> bool:
        """A yarn that stands before its stitches with no word between."""
        scanner, at = self._s, self._s.here
        name = scanner.known_yarn() or (scanner.yarn() if not scanner.yarns.is_closed else "")
        if not name:
            return False
        is_behind = not self._is_apart and scanner.look(r"[,;.]") is not None
        scanner.may(r"[:,]")
        if found := scanner.look(r"\d{1,9}(?!\w)"):
            raise Amiss(
                at, f"{quoted(f'{name} {found.group()}')} can be read two ways: {found.group()} stitches in {name}, "
                f"or {name} and then {found.group()} of the yarn that follows.",
                f"Write the number first, {found.group()}{name}, or with its stitch, {name} k{found.group()}.",
                "yarn or number",
            )  # fmt: skip
        is_lead = scanner.look(
            rf"[(\[*]|(?:knit|purl|k|p)(?!\w)|(?:knit|purl|k|p)\d|sl(?:ip)? ?1\b|{_SHAPE}|bind\b|cast\b"
        )  # fmt: skip
        if not is_lead and not is_behind:
            scanner.at = at
            return False
        if self._style == "suffix" or is_behind:
            raise Amiss(
                at, f"The yarn {quoted(name)} stands between stitches, and may belong to those before it or to those "
                "after it.", _HOW, "which yarn",
            )  # fmt: skip
        self._take(name, "prefix")
        return True


_HOW = "Write such as k5 A, with A k5, or 5A."
_BRACKETS = "Write what is repeated in brackets, and how often: (k2 A, k2 B) 3 times."


def _hand(word: str) -> Hand:
    return "k" if word[0] in "kK" else "p"


def _takes_over(items: tuple[Item, ...], before: str) -> bool:
    """Whether the first stitches of a bracket are in the yarn named before it."""
    first = items[0]
    while isinstance(first, Group | Star):
        first = first.items[0]
    return first.yarn == before


def _without_end(at: int) -> Amiss:
    return Amiss(at, "What begins at this star is repeated nowhere.", _BRACKETS, "star")


def _unknown(scanner: Scanner, at: int) -> Amiss:
    if (found := scanner.look(r"([A-Z]{1,3})(\d{1,7})(?!\w)")) and found[1].casefold() not in RESERVED:
        what = f"{quoted(found.group())} may be a yarn, or a number of stitches in the yarn {found[1]}."
        return Amiss(at, what, f"Write the number first: {found[2]}{found[1]}.", "yarn or number")
    what = f"{quoted(scanner.rest())} is not understood."
    mend = "Read are knits and purls with their yarns (k5 A, with A k5, 5A), repeats, and edges that are shaped."
    return Amiss(at, what, mend, "unknown")
