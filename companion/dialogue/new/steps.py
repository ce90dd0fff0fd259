"""Several questions, one after the other, of which each may be gone back to.

Whoever asks yields steps and is sent what each answer means. Going back, all is asked anew, and what was answered
already is not asked but sent again: so a step depends on the answers before it and on nothing else. What goes wrong
between two steps was wrong with the answer before, which is asked for again.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from functools import partial
from typing import Any, TypeAlias, TypeVar

from companion.dialogue.questions import Asking, Before, Choice, Kept, Lasting, Reading, Words, YesNo
from companion.knitting.howfar import HowFar
from companion.knitting.value import Record
from companion.plan.amount import AmissError
from companion.problems import Problems, show

T = TypeVar("T")


def as_it_is(answer: Any) -> Any:
    """The answer is what is meant."""
    return answer


class Step(Record):
    """A question, or something to read, which is no step back. ``meant``: what an answer means, never None, or
    something ``Lasting`` of which that comes; it may raise ``AmissError`` or ``Problems``, and then the question
    stays. ``about``: what is said above the question; ``is_seen``: that is to be seen, so that keeping the rest of
    the answers ends here."""

    request: Words | Choice | Reading
    meant: Callable[[Any], Any] = as_it_is
    about: str = ""
    is_seen: bool = False


Steps: TypeAlias = Generator[Step, Any, T]
"""Yields steps, and returns what came of them."""


def in_turn(begin: Callable[[], Steps[T]], leaving: YesNo) -> Asking[T | None]:
    """Ask all that ``begin`` asks; what came of it, or None where it was left. ``leaving``: is asked before that, but
    for the first question."""
    answers: list[Any] = []
    known: dict[object, Any] = {}
    amiss, is_keeping = "", False
    while True:
        steps = begin()
        try:
            step = _asked_again(steps, answers)
            while True:
                if isinstance(step.request, Reading):
                    yield step.request
                    step = steps.send(None)
                    continue
                value = _standing(step, known) if is_keeping and not step.is_seen else None
                if value is None:
                    value = yield from _answered(step, known, amiss, leaving, goes_back=bool(answers))
                    is_keeping, value = (True, value.answer) if isinstance(value, Kept) else (False, value)
                amiss = ""
                if value is None:
                    return None
                if isinstance(value, Before):
                    answers.pop()
                    break
                answers.append(value)
                if isinstance(value, Lasting):
                    answers[-1] = value = yield from _come_of(value)
                step = steps.send(value)
        except StopIteration as done:
            came: T = done.value
            return came
        except (AmissError, Problems) as found:
            if not answers:
                raise
            answers.pop()
            amiss, is_keeping = _told(found), False
        finally:
            steps.close()


def _asked_again(steps: Steps[T], answers: list[Any]) -> Step:
    """The step after those that are answered."""
    step = next(steps)
    for value in answers:
        while isinstance(step.request, Reading):
            step = steps.send(None)
        step = steps.send(value)
    return step


def _told(found: AmissError | Problems) -> str:
    """Why an answer cannot be."""
    if isinstance(found, AmissError):
        return f"It {found.what} {found.mend}".strip()
    return "\n".join(show(problem) for problem in found.problems[:3])


def _answered(
    step: Step, known: dict[object, Any], amiss: str, leaving: YesNo, *, goes_back: bool
) -> Asking[Any]:
    """What the answer means, ``Kept`` where it and the rest are; ``BEFORE`` where the question before is wanted, None
    where all is left. ``known``: what was answered last, by question, which stands there when it is asked again;
    ``amiss``: why that cannot be."""
    question = _asked(step)
    while True:
        answer = yield _shown(step, known.get(question), amiss, goes_back=goes_back)
        if isinstance(answer, Before):
            if goes_back:
                return answer
            continue
        if answer is None:
            if not goes_back or (yield leaving):
                return None
            continue
        is_kept, answer = isinstance(answer, Kept), answer.answer if isinstance(answer, Kept) else answer
        known[question] = answer
        try:
            meant = step.meant(answer)
            return Kept(meant) if is_kept else meant
        except (AmissError, Problems) as found:
            amiss = _told(found)


def _come_of(lasting: Lasting) -> Asking[Any]:
    """What an answer means that takes long.

    Raises:
        AmissError, Problems: it cannot be.
    """
    came = yield Lasting(lasting.what, partial(_caught, lasting.do))
    if isinstance(came, AmissError | Problems):
        raise came
    return came


def _caught(do: Callable[[HowFar], object], told: HowFar) -> object:
    """What came of it, or what is wrong with the answer."""
    try:
        return do(told)
    except (AmissError, Problems) as found:
        return found


def _asked(step: Step) -> object:
    """The question in words."""
    return () if isinstance(step.request, Reading) else step.request.text


def _standing(step: Step, known: dict[object, Any]) -> Any:
    """What is meant by what stands there as the answer; None where that cannot be, and must be asked for."""
    request = _shown(step, known.get(_asked(step)), "", goes_back=True)
    try:
        return step.meant(request.answer if isinstance(request, Words) else request.at)
    except (AmissError, Problems):
        return None


def _shown(step: Step, last: Any, amiss: str, *, goes_back: bool) -> Words | Choice:
    """The question, with what is amiss and what it is about above it, and what was answered last."""
    above = tuple(filter(None, (amiss, step.about)))
    request = step.request
    if isinstance(request, Words):
        text = "\n".join((*above, request.text))
        return request._replace(text=text, answer=request.answer if last is None else last, goes_back=goes_back)
    assert isinstance(request, Choice)
    at = last if isinstance(last, int) and last < len(request.lines) else request.at
    return request._replace(text=(*above, *request.text), at=at, goes_back=goes_back)
