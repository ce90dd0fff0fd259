"""What is to be shown of where the knitter is: the acts of one press, their yarns, the side, and sentences by length.

Front ends set it out and add no word. Each text is made when it is first asked for, and once, however many parts of a
screen ask: who asks again about the same session in the same terms gets the very same telling.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Literal

from companion.dialogue.acts import ActTold, acts_told
from companion.dialogue.new_lengths import length_of
from companion.dialogue.saying import IN_FULL, Saying
from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.cloth.rows import Row, Side
from companion.knitting.hands.hangs import Hang, hangs
from companion.knitting.hands.row_ends import row_end, side_held
from companion.knitting.hands.runs import RunSteps, row_runs
from companion.knitting.hands.steps import AtEnd, BindOff, Count, Finishing, Share, Step, Turn, WeaveAtSeams, WeaveIn
from companion.knitting.latest import latest
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.knitting.words import Terms
from companion.progress.ends import ready_ends
from companion.progress.finishing import next_step
from companion.progress.session import Session

Act = Literal["run", "row end", "finishing", "finished"]


class RunTold(Record):
    """A run of the row in work. ``is_done`` is None for the run in work; ``work``: its stitches in short."""

    run: RunSteps
    yarn: Yarn
    work: str
    is_done: bool | None


class Telling:
    """One session in one knitter's terms, as much of it as she wants to be said."""

    def __init__(self, session: Session, terms: Terms, saying: Saying) -> None:
        self.session, self.terms, self.saying = session, terms, saying

    # What is done now.

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """Everything the hands do until the next press, in that order."""
        if self.run:
            return (*(self._before_it if self.is_turn else ()), *self.run.steps)
        return self.session.row_end[0] if self.session.act is not None else tuple(filter(None, [self.finishing]))

    @cached_property
    def run(self) -> RunSteps | None:
        """The run in work; None where something else is to be done."""
        place = self.session.next_place
        if place is None or self.session.act is not None:
            return None
        return self._row_runs[place.segment]

    @cached_property
    def finishing(self) -> Finishing | None:
        """What is to be done once every row and its end are worked; None before that, and when all is done."""
        if self.session.act is not None or self.session.next_place is not None:
            return None
        step = next_step(self.session)
        return step.doing if step else None

    @property
    def doing(self) -> AtEnd | Finishing | None:
        """What is to be done now that is no run."""
        return self.session.act if self.session.act is not None else self.finishing

    @property
    def act(self) -> Act:
        """Which of the four it is."""
        if self.run is not None:
            return "run"
        return "row end" if self.session.act is not None else "finishing" if self.finishing else "finished"

    @cached_property
    def acts(self) -> tuple[ActTold, ...]:
        """What the hands do until the next press, in that order."""
        session, terms = self.session, self.terms
        if self.run:
            found = words.run_in_large(self.run, self._before_it if self.is_turn else (), terms)
        elif session.act is not None:
            found = words.end_in_large(session.row_end[0], terms)
        else:
            found = words.finishing_in_large(self.finishing, terms)
        return acts_told(found, session.piece)

    @cached_property
    def row_acts(self) -> tuple[ActTold, ...]:
        """The same where a press is a row: everything to its end; none where no run is to be worked."""
        if self.run is None:
            return ()
        to_come = [one.run for one in self.runs if not one.is_done]
        turn = self._before_it if self.is_turn else ()
        return acts_told(words.runs_in_large(to_come, turn, self.row.side, self.terms), self.session.piece)

    def marks_of(self, yarn: Yarn) -> tuple[str, ...]:
        """What may stand on a yarn's chip in capitals, to be preferred first: its name, its symbol where no other
        yarn has the same in capitals, else as much of the name as no other name begins with."""
        others = [one for one in self.session.piece.yarns if one is not yarn]
        if yarn.symbol.upper() not in (one.symbol.upper() for one in others):
            return yarn.name, yarn.symbol
        lengths = range(1, len(yarn.name))
        starts = (yarn.name[:length] for length in lengths)
        unlike = (start for start in starts if not any(one.name.upper().startswith(start.upper()) for one in others))
        return yarn.name, *list(unlike)[:1]

    @property
    def yarn(self) -> Yarn | None:
        """The run's yarn."""
        return self.session.piece.yarn(self.run.segment.yarn) if self.run else None

    @cached_property
    def into(self) -> str:
        """What to do before the run's first stitch, as sentences, as much of it as she wants to be told."""
        return " ".join(words.into_run(self.run, self.terms, self.saying.register_of, self._tell)) if self.run else ""

    @property
    def in_hand(self) -> str:
        """At a row's start which strand is taken in hand, where nothing else says so and it is not there yet."""
        run, last, strands = self.run, self.session.last_place, self.session.strands
        if run is None or run.before or not all(isinstance(step, Share) for step in run.into):
            return ""
        is_there = last is not None and strands.at(last) == run.strand and not self.saying.is_ready
        return "" if is_there else words.take_in_hand(run.segment.yarn)

    @cached_property
    def work(self) -> str:
        """The run's stitches as sentences: "Knit 3, catch sand, knit 4 in shell. Last of this strand."."""
        if self.run is None:
            return ""
        work = f"{words.sentence(words.work_in_full(self.run, self.terms))} in {self.run.segment.yarn}."
        return f"{work} {words.sentence(words.LAST_OF_STRAND)}." if self.run.is_last else work

    @cached_property
    def to_do(self) -> tuple[str, ...]:
        """What is to be done at the row's end, or once every row is worked, as sentences."""
        return self._to_do(is_short=False)

    @cached_property
    def to_do_in_short(self) -> tuple[str, ...]:
        """The same in few words."""
        return self._to_do(is_short=True)

    def _to_do(self, *, is_short: bool) -> tuple[str, ...]:
        if self.session.act is not None:
            steps = self.session.row_end[0]
            return tuple(words.at_the_end(steps, self.terms, is_short=is_short, tell=self._tell))
        return tuple(words.to_finish(self.finishing, self.terms, self.saying.key))

    @cached_property
    def full(self) -> str:
        """All that is told of what is done now, as much of it as she wants."""
        parts = (self.in_hand, self.into, self.work) if self.run else self.to_do
        return " ".join(filter(None, parts))

    @cached_property
    def short(self) -> str:
        """The same for one line: "Cross: tide over shell. Purl 10 in shell."."""
        if self.run is None:
            return " ".join(self.to_do_in_short)
        is_mark = self.saying.how == "mark"
        steps = [step for step in self.run.into if not is_mark or self.saying.register_of(step)]
        parts = [self._tell(step, "short", self.terms) for step in (*self.run.before, *steps)]
        return " ".join([*parts, *self.known, self.work])

    @cached_property
    def known(self) -> tuple[str, ...]:
        """What of it must be said at any length: where the run's length ends, that its first stitch is slipped."""
        return tuple(words.known_of(self.run, self.terms, _tell)) if self.run else ()

    @cached_property
    def needle(self) -> str:
        """How much is still on the needle, this run included; "" where no run is to be worked."""
        if self.run is None:
            return ""
        return words.still_on_needle(self.run.left, self.run.left + self.run.right, self.terms)

    # The row in work.

    @property
    def row(self) -> Row:
        """The row that is held."""
        return self.session.rows[self.session.at.row]

    @cached_property
    def row_of(self) -> str:
        """Which row of how many."""
        return words.row_of(self.row, self.session.rows.in_part(self.session.at.row))

    @property
    def pressed(self) -> str:
        """What the key that marks done does at a row's end and once every row is worked, in a word or two; "" in a
        row."""
        if self.session.act is not None:
            return words.ACT_DONE
        return words.when_pressed(self.finishing, self.terms) if self.finishing else ""

    @property
    def is_in_rows(self) -> bool:
        """A row is worked, or what is done at its end; after the last one its side does not matter any more."""
        return self.act in ("run", "row end")

    @property
    def side_in_large(self) -> Side | Literal[""]:
        """Which side faces the knitter, RS or WS; "" where neither matters any more."""
        doing, session = self.doing, self.session
        if session.act is None:
            return doing.side if isinstance(doing, BindOff) else self.row.side if self.is_in_rows else ""
        return side_held(row_end(session.strands, session.row, session.cut), session.act, self.row.side)

    @cached_property
    def side(self) -> str:
        """The same in words."""
        return words.side_facing(self.side_in_large) if self.side_in_large else ""

    @property
    def row_in_large(self) -> str:
        """The row for large letters: "ROW 23"; "" once every row is worked."""
        return words.row_in_large(self.row) if self.is_in_rows else ""

    @cached_property
    def height(self) -> str:
        """How high the piece is and will be."""
        heights, whole = _heights(self.session.piece)
        return words.height(heights[self.session.rows_done], whole, self.terms)

    @cached_property
    def runs(self) -> tuple[RunTold, ...]:
        """The runs of the row in working order."""
        session, at = self.session, self.session.at
        return tuple(
            RunTold(run, session.piece.yarn(run.segment.yarn), work, None if run.place == at else run.place < at)
            for run, work in zip(self._row_runs, _works(self._row_runs, self.terms), strict=True)
        )

    @cached_property
    def changes(self) -> tuple[str, ...]:
        """The change into each of them, in short."""
        return _changes(self._row_runs, self.terms)

    @cached_property
    def changes_below_rule(self) -> tuple[str, ...]:
        """The same where the rule stands above them: without the crosses."""
        return tuple(words.change_in_short(run, self.terms, _tell, has_crosses=False) for run in self._row_runs)

    @cached_property
    def rule(self) -> str:
        """How every change of the row is made; "" where there is none."""
        return words.cross_rule(self.row.side, self.terms) if len(self.row.segments) > 1 else ""

    @property
    def rule_in_short(self) -> str:
        """The same in few words."""
        return words.CROSS_RULE_IN_SHORT if self.rule else ""

    @cached_property
    def hanging(self) -> tuple[Hang, ...]:
        """The strands in the order in which they lie along the needles, from the hand the work comes from."""
        session = self.session
        return hangs(session.strands, session.row, session.done, session.cut, is_turned=session.act is None)

    def place_of(self, hang: Hang) -> str:
        """Where one of them hangs, in words."""
        return words.hanging_place(self.session.strands, hang, self.session.at.row, self.terms)

    # Its end.

    @property
    def is_turn(self) -> bool:
        """The row is done, and what stands at its end is what the hands do now."""
        return self.session.is_at_turn and self.session.done > 0

    @cached_property
    def ready(self) -> str:
        """How many ends are ready to be woven in, "" = none, or it is what is told now."""
        is_told = isinstance(self.finishing, WeaveIn | WeaveAtSeams)
        return "" if is_told else words.ends_ready_in_short(ready_ends(self.session))

    @cached_property
    def end_lead(self) -> str:
        """What comes first of what stands at the row's end."""
        row = self.session.rows[self.session.row]
        return words.row_done(row) if self.is_turn else words.row_to_end(row)

    @cached_property
    def end(self) -> tuple[str, ...]:
        """What stands at the row's end; past what is to be done there now, what comes after it."""
        return self._end(is_short=False)

    @cached_property
    def end_in_short(self) -> tuple[str, ...]:
        """The same, cuts by place alone; what comes after an act has no shorter form."""
        return self.end if self.session.act else self._end(is_short=True)

    @property
    def end_beside_letters(self) -> tuple[str, ...]:
        """At a turn what of it large letters do not tell, or not all of it: all but how to turn."""
        steps = [step for step in self._before_it if not isinstance(step, Turn)] if self.is_turn else []
        return tuple(self._tell(step, "short" if isinstance(step, Count) else "full", self.terms) for step in steps)

    @property
    def end_but_turn(self) -> tuple[str, ...]:
        """At a turn all of it but the turn itself."""
        steps = [step for step in self._before_it if not isinstance(step, Turn)] if self.is_turn else []
        return tuple(self._tell(step, "short", self.terms) for step in steps)

    def _end(self, *, is_short: bool) -> tuple[str, ...]:
        session = self.session
        if session.is_bound_off:
            return ()
        if session.act is not None:
            _, *later = session.row_end
            return (words.and_then([step for group in later for step in group], self.terms, self.saying.key),)
        steps = self._before_it if self.is_turn else row_end(session.strands, session.row, session.cut)
        if session.is_worked:
            steps = tuple(step for step in steps if not isinstance(step, BindOff))
        is_turned = self.is_turn and self._before_it != session.row_end[-1]
        turned = (words.turned(self.row),) if is_turned else ()
        return (*words.at_the_end(steps, self.terms, is_short=is_short, tell=self._tell), *turned)

    @cached_property
    def _before_it(self) -> tuple[AtEnd, ...]:
        """What is told with the next run of the end of the row before; the turn only where it is still to be made."""
        steps, is_ready = self.session.row_end[-1], self.saying.is_ready
        return tuple(step for step in steps if not (is_ready and isinstance(step, Turn)))

    def _tell(self, step: Step, register: words.Register, terms: Terms) -> str:
        """A step in words; with it how long new strands are and how they are kept, where that is to be known."""
        return _tell(step, register, terms, length_of(step, self.session, self.run, terms))

    @property
    def note(self) -> str:
        """The knitter's note on the row."""
        return words.note_told(self.session.notes.get(self.session.row, ""))

    @cached_property
    def _row_runs(self) -> tuple[RunSteps, ...]:
        runs = row_runs(self.session.strands, self.session.at.row, self.session.catching)
        if self.saying.is_ready and not self.session.done:  # what is cast on is on the needle
            return (runs[0]._replace(before=()), *runs[1:])
        return runs


def plan_says(session: Session) -> str:
    """What the plan says of the rows that begin with the one in work, as long as no run of it is worked."""
    place = session.next_place
    if place is None or place.segment or session.act is not None:
        return ""
    return words.plan_says(session.piece.said_at(place.row))


def telling(session: Session, terms: Terms, saying: Saying = IN_FULL) -> Telling:
    """What is told of a session."""
    return _told(session, terms, saying)


_told = latest(Telling, 2)
"""What is told now, and what will be told next where that was foreseen."""


@latest
def _works(runs: tuple[RunSteps, ...], terms: Terms) -> tuple[str, ...]:
    return tuple(words.work_in_short(run, terms) for run in runs)


@latest
def _changes(runs: tuple[RunSteps, ...], terms: Terms) -> tuple[str, ...]:
    return tuple(words.change_in_short(run, terms, _tell) for run in runs)


_tell = lru_cache(maxsize=512, typed=True)(words.tell)
"""What is told of a step, kept: of a row's end it is the same through the row; a change is told in two places."""


@latest
def _heights(piece: Piece) -> tuple[Sequence[Fraction], Fraction]:
    """How high the piece is after every number of rows, and how high it will be."""
    from companion.knitting.reckoning.size import heights

    found = heights(piece)
    return found, max(found)
