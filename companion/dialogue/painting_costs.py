"""What takes time at the drawing board and is worked out beside the painting: figures, metres, marks, bargains. What
is found for a drawing that has changed since is thrown away."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from fractions import Fraction

from companion.board.board import Board
from companion.board.costs import Figures
from companion.board.marks import KINDS, Kind, marked
from companion.dialogue import painting_words
from companion.knitting.cloth.areas import Cell
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.reckoning.tidying import Patch
from companion.knitting.value import Record


class News(Record):
    """Something that was worked out: of what kind, for which piece and which stitch (its row in working order; None:
    none is there), and what was found."""

    what: str
    piece: Piece
    at: Cell | None
    found: object


class Wanted(Record):
    """What is to be worked out: which kinds of things, for the board as it was then, the stitch that was meant, and
    the kind of marks."""

    what: frozenset[str]
    board: Board
    at: Cell | None
    kind: Kind | None


class _NotWanted(Exception):
    """What is being worked out is so no more."""


class Costs:
    """``figures``: the last that are known; ``metres``: for each yarn how many more the stitch that is meant would
    take in it; ``kind``: what is to be marked, ``marked`` where that is, in working order; ``bargains``: those not
    shown yet, None where they are not known."""

    def __init__(self, board: Board) -> None:
        self._board = board
        self.figures: Figures | None = None
        self.metres: dict[str, Fraction] = {}
        self.kind: Kind | None = None
        self.marked: frozenset[Cell] = frozenset()
        self.bargains: list[Patch] | None = None
        self._at: Cell | None = None
        self._unknown = {"figures", "metres"}

    def is_meant(self, at: Cell | None) -> None:
        """Another stitch is meant."""
        self._at, self.metres = at, {}
        self._unknown.add("metres")

    def is_changed(self) -> None:
        """The drawing is another one: what was worked out from it is so no more."""
        self.bargains, self.metres = None, {}
        self._unknown |= {"figures", "metres"} | ({"marks"} if self.kind else set())
        self._unknown.discard("bargains")

    def mark_next(self) -> str:
        """The next kind is to be marked, after the last one none; what is to be said of that."""
        ways: list[Kind | None] = [None, *KINDS]
        self.kind, self.marked = ways[(ways.index(self.kind) + 1) % len(ways)], frozenset()
        if self.kind:
            self._unknown.add("marks")
        return "" if self.kind else painting_words.NOT_MARKED

    def unmark(self) -> None:
        """Nothing is marked."""
        self.kind, self.marked = None, frozenset()

    def want_bargains(self) -> None:
        """They are to be looked for."""
        self._unknown.add("bargains")

    @property
    def is_slow(self) -> bool:
        """Something is still to be worked out."""
        return bool(self._unknown)

    @property
    def wanted(self) -> Wanted:
        """It, to be worked out beside what is done to the board meanwhile."""
        return Wanted(frozenset(self._unknown), copy(self._board), self._at, self.kind)

    def work_out(self, wanted: Wanted, is_left: Callable[[], bool], tell: Callable[[News], object]) -> None:
        """What takes time, told as it is found, until all is or it is not wanted any more. Whoever is told has it
        taken up where keys are."""
        what, board, at, kind = wanted

        def is_old() -> bool:
            return is_left() or self._board.piece is not board.piece

        def came(what: str, found: object) -> None:
            if not is_old():
                tell(News(what, board.piece, at, found))

        def go_on(_: float) -> None:
            if is_old():
                raise _NotWanted

        try:
            if "figures" in what:
                came("figures", board.figures())
            if "metres" in what:
                found = dict[str, Fraction]()
                for yarn, more in board.metres_at([at] if at else []):
                    found[yarn] = more
                    if is_old() or self._at != at:
                        return
                came("metres", found)
            if "marks" in what:
                came("marks", (kind, marked(board.piece, kind, go_on) if kind else frozenset()))
            if "bargains" in what:
                came("bargains", board.bargains(done=go_on))
        except _NotWanted:
            return
        except TooMuchToWeigh as much:
            came("trouble", str(much))

    def take_up(self, news: News) -> str:
        """Something was worked out; what is to be said of it."""
        what, piece, at, found = news
        if piece is not self._board.piece or (what == "metres" and at != self._at):
            return ""
        self._unknown.discard(what)
        match what, found:
            case "figures", Figures():
                self.figures = found
            case "metres", dict():
                self.metres = found
            case "marks", (kind, frozenset() as where) if self.kind and kind == self.kind:
                self.marked = where
                return painting_words.marked(self.kind, len(where))
            case "bargains", list():
                self.bargains = found
            case "trouble", str():
                self._unknown.clear()
                return found
        return ""
