"""What is needed for the next act stands in letters of two and a half lines and more: over all demos, from the
cast-on to the last thing that is done to the piece, read back from what is drawn on 80 by 24 cells and on others.

At two metres two and a half lines of a 14-inch screen filled by 24 of them are 31 minutes of arc (a cell is 7.3 mm
high); ISO 9241-3, as a vendor quotes it (from memory), asks for 16 at least and prefers 20 to 22.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from at_the_needles import SIZES
from rich.style import Style
from test_never_cut_off import Shown, begin_of, told
from wcag import LEAST, contrast

from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.hands import steps as do
from companion.knitting.hands.runs import run_steps
from companion.plan.demo import demo_plans
from companion.progress.actions import Action, BindOff, Finish, On, Sew, Weave
from companion.progress.deciding import decide
from companion.progress.ends import all_ends
from companion.progress.finishing import next_step
from companion.progress.fold import apply
from companion.progress.mishaps import left_to_sew
from companion.progress.session import Session
from companion.screens.figures import Scale, drawn
from companion.screens.flowing import Line

DEMOS = {path.stem: path for path in demo_plans()}
USUAL = (80, 24)
SCALES = list(dict.fromkeys(scale for n in range(1, 13) for scale in (Scale(n, n), Scale(n, n).narrow)))
"""Every size that counts: a dot is half a line high or more, so that a letter has two and a half."""


@cache
def walked(demo: str) -> tuple[Session, ...]:
    """The sessions of a piece, one for every press from the cast-on to the finish."""
    return worked(begin_of(DEMOS[demo]))


def worked(session: Session) -> tuple[Session, ...]:
    """The same from a session before the first stitch."""
    found = [session]
    while not session.is_worked or session.act is not None:
        session = apply(session, decide(session, On()))
        found.append(session)
    session = apply(session, decide(session, BindOff()))
    found.append(session)
    while (step := next_step(session)) is not None:
        if isinstance(step.doing, do.WeaveIn | do.WeaveAtSeams):
            actions: list[Action] = [Weave(end) for end, state in all_ends(session) if state == "ready"]
        else:
            sewn = isinstance(step.doing, do.SewOn)
            actions = [Sew(area.first) for area in left_to_sew(session)] if sewn else [Finish()]
        for action in actions:
            session = apply(session, decide(session, action))
        found.append(session)
    return tuple(found)


def written(lines: list[Line]) -> list[str]:
    """The lines as they stand on the screen."""
    return ["".join(text for text, _ in line) for line in lines]


@cache
def patterns(text: str) -> list[tuple[str, ...]]:
    """The text in every size, the spaces at the ends of lines left out."""
    return [tuple(line.rstrip() for line in drawn(text, scale)) for scale in SCALES]


def place_of(text: str, lines: list[str]) -> tuple[int, int] | None:
    """The upmost line from which on the text stands there in letters of one of the sizes, and how many they are high:
    each of its lines at the same place, one below the other."""
    return _place_of(text, tuple(re.sub(r"[^ ▀▄█▏▕]", " ", line) for line in lines))


@cache
def _place_of(text: str, lines: tuple[str, ...]) -> tuple[int, int] | None:
    found = []
    for first, *more in patterns(text):
        for y, line in enumerate(lines[:len(lines) - len(more)]):
            x = line.find(first) if first else -1
            while x >= 0:
                below = zip(lines[y + 1:], more, strict=False)
                if all(row[x:x + len(part)] == part for row, part in below):
                    found.append((y, 1 + len(more)))
                    break
                x = line.find(first, x + 1)
    return min(found, default=None)


def wanted(session: Session) -> Iterator[str]:
    """What must be read from afar, word by word from the steps."""
    row = session.rows[session.at.row]
    turned = row.side if row.is_round else "RS" if row.side == "WS" else "WS"
    if (place := session.next_place) is None and session.act is None:
        step = next_step(session)
        doing = step.doing if step else None
        if isinstance(doing, do.BindOff):
            yield turned
        yield {
            do.BindOff: f"BIND OFF {getattr(doing, 'stitches', '')}", do.WeaveIn: "WEAVE IN", do.Wash: "WASH",
            do.WeaveAtSeams: "WEAVE IN", do.Trim: "TRIM", do.SewUp: "SEW UP", do.SewOn: "SEW ON",
            type(None): "FINISHED",
        }[type(doing)]  # fmt: skip
        return
    yield turned if isinstance(session.act, do.BindOff) else side_held(session)
    if session.act is not None or place is None:
        yield from at_row_end(session.row_end[0][-1])
        return
    if session.done and session.is_at_turn and any(isinstance(step, do.Turn) for step in session.row_end[-1]):
        yield "TURN"
    run = run_steps(session.strands, place, session.piece.catching)
    for step in run.steps:
        match step:
            case do.CastOn(_, _, stitches, _):
                yield f"CAST ON {stitches}"
            case do.Join() | do.Cross() | do.Hold() | do.JoinRound():
                yield {do.Join: "JOIN", do.JoinRound: "JOIN", do.Cross: "CROSS", do.Hold: "HOLD"}[type(step)]
            case do.Fetch(_, _, on_needle, _, where):
                yield {"below": "BRING UP", "ahead": f"FETCH {on_needle}"}.get(where, f"CARRY {on_needle}")
            case do.Share(_, works):
                yield f"SHARE {sum(works)}"
            case do.Shape(_, "bind off" | "cast on" | "loops" as how, more, _):
                yield f"{'BIND OFF' if how == 'bind off' else 'CAST ON'} {abs(more)}"
            case do.Shape(_, how, _, _):
                yield how.upper()
            case do.Catch() | do.Rest():
                yield "LEAVE" if isinstance(step, do.Rest) and not step.is_caught else "CATCH"
            case do.Work(_, stitches, ((hand, _),)):
                yield from (str(stitches), "KNIT" if hand == "k" else "PURL")
            case do.Work(_, _, hands) if len(hands) > 3 and hands[:2] == hands[2:4]:
                yield f"{hands[0][0]}{hands[0][1]}".upper()
            case do.Work(_, _, hands):
                yield from (str(hands[0][1]), {"k": "KNIT", "p": "PURL"}[hands[0][0]]) if len(hands) > 3 else ["KNIT"]
            case _:
                raise AssertionError(step)


def side_held(session: Session) -> str:
    """The side of the row; once another part is taken up, that of its first row."""
    is_taken_up = isinstance(session.act, do.TakeUp) or do.TakeUp in (session.acts_done or ())
    if session.act is not None and is_taken_up and (place := session.next_place):
        return session.rows[place.row].side
    return session.rows[session.at.row].side


def at_row_end(step: do.AtEnd) -> Iterator[str]:
    """What is done there."""
    match step:
        case do.Cut(spots, _, left_over):
            yield f"CUT {len(spots) + len(left_over)}"
        case do.HaveReady():
            yield "HAVE READY"
        case do.Divide(first, works, waits, _, _, _):
            yield from ("DIVIDE", first.upper(), str(works), str(waits))
        case do.TakeUp(part, stitches, middle, _):
            yield from ("TAKE UP", part.upper(), str(stitches + middle))
        case do.SetAside(part, stitches, _):
            yield from ("SET ASIDE", part.upper(), str(stitches))
        case do.JoinParts():
            yield from ("JOIN", "PARTS", f"{step.first.upper()} {step.stitches}")
            yield f"{step.then.upper()} {step.then_stitches}"
            yield from [f"BETWEEN {step.between}"] * bool(step.between)
        case do.BindOff(_, _, stitches, _):
            yield f"BIND OFF {stitches}"
        case do.GoFlat() | do.GoRound():
            yield "GO FLAT" if isinstance(step, do.GoFlat) else "GO ROUND"
        case _:
            raise AssertionError(step)


def chips(lines: list[Line], yarn: Yarn) -> int:
    """On how many lines something large stands on the yarn's colour, in ink that reads well on it."""
    grounds = [
        style for line in lines for text, style in line
        if isinstance(style, Style) and style.bgcolor and style.bgcolor.name == yarn.colour and "▏" in text
    ]
    for style in grounds:
        assert style.color is not None
        assert style.bgcolor is not None
        assert contrast(style.color.get_truecolor(), style.bgcolor.get_truecolor()) >= LEAST
    return len(grounds)


def missing(session: Session, width: int, height: int) -> set[str]:
    """What cannot be read from afar, though it is needed."""
    shown = Shown(session, width, height).now
    lines = written(shown)
    found = {text for text in wanted(session) if place_of(text, lines) is None}
    yarns = []
    if (place := session.next_place) is not None and session.act is None:
        yarns = [session.piece.yarn(session.rows.segment(place).yarn)]
    elif isinstance(session.act, do.Cut | do.HaveReady):
        names = [one.yarn for one in session.act.spots] if isinstance(session.act, do.Cut) else session.act.yarns
        yarns = [session.piece.yarn(name) for name in names]
    return found | {yarn.name for yarn in yarns if chips(shown, yarn) < 3}


@pytest.mark.parametrize("demo", DEMOS)
def test_what_the_next_act_needs_is_two_and_a_half_lines_high_from_the_cast_on_to_the_last_thing(demo: str) -> None:
    assert [(at, lost) for at, session in enumerate(walked(demo)) if (lost := missing(session, *USUAL))] == []


@pytest.mark.parametrize(("width", "height"), [size for size in SIZES if size != USUAL])
def test_the_same_on_every_other_size_of_screen(width: int, height: int) -> None:
    """On the smallest one words that have no room beside each other stand below each other."""
    sessions = [*walked("swatch"), *walked("ferry-jumper-front")[::5]]
    short = [(at, lost) for at, session in enumerate(sessions) if (lost := missing(session, width, height))]
    assert [(at, lost) for at, lost in short if width > 40 or not all(" " in text for text in lost)] == []


def test_the_same_where_parts_are_joined_again(tmp_path: Path) -> None:
    """No demo has a slit; in the second one here stitches are left out, which are cast on in the joining row."""
    plan = tmp_path / "slits.yaml"
    plan.write_text(SLITS, encoding="utf-8")
    sessions = worked(begin_of(plan))
    joins = [one.act for one in sessions if isinstance(one.act, do.JoinParts)]
    assert [(one.stitches, one.then_stitches, one.between) for one in joins] == [(10, 10, 0), (9, 9, 2)]
    for size in (USUAL, (120, 40)):
        assert [(at, lost) for at, session in enumerate(sessions) if (lost := missing(session, *size))] == []


SLITS = """\
plan: 1
title: Two slits
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  tide: {colour: "#2c6a7b"}
  sail: {colour: "#f2e6c8"}
symbols: {t: tide, s: sail}
rows:
  - plain: {rows: 2, stitches: 20, yarn: tide}
  - opening: {first: left, at: 10, rows: 2}
    chart: 10s 10t
    repeat: 3
  - plain: {rows: 1, stitches: 20, yarn: tide}
  - opening: {first: right}
    chart: |
      20t
      9t 2. 9t
      8t 4. 8t
      9t 2. 9t
"""


def test_the_same_where_long_floats_are_caught(tmp_path: Path) -> None:
    """No demo has one: strands are carried behind others of the same row there nowhere."""
    plan = tmp_path / "floats.yaml"
    plan.write_text(FLOATS, encoding="utf-8")
    sessions = worked(begin_of(plan))
    assert len([one for one in sessions if "CATCH" in wanted(one)]) == 5
    for size in (USUAL, (120, 40), (200, 60)):
        assert [(at, lost) for at, session in enumerate(sessions) if (lost := missing(session, *size))] == []


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_catches_that_have_no_room_are_told_in_words_and_no_yarn_stands_without_its_act(
    tmp_path: Path, width: int, height: int
) -> None:
    plan = tmp_path / "floats.yaml"
    plan.write_text(FLOATS, encoding="utf-8")
    for session in worked(begin_of(plan)):
        if "CATCH" in wanted(session):
            [place] = [session.next_place] if session.next_place else []
            run = run_steps(session.strands, place, session.piece.catching)
            shown = Shown(session, width, height).now
            in_words = [words.work_in_full(run, words.US), words.work_in_short(run, words.US)]
            assert missing(session, width, height) == set() or any(one in told(shown).lower() for one in in_words)
            assert not [line for line in written(shown) if line.startswith("▏")]


FLOATS = """\
plan: 1
title: Two lights over one sea
gauge: {stitches: 20, rows: 28, over: 10 cm}
carry: {behind: 14, rest: 2}
yarns:
  tide: {colour: "#2c6a7b"}
  lamplight: {colour: "#f2c14e"}
symbols: {t: tide, l: lamplight}
rows:
  - plain: {rows: 2, stitches: 30, yarn: tide}
  - chart: 5t 3l 7t 3l 12t
    repeat: 3
  - plain: {rows: 4, stitches: 30, yarn: tide}
  - chart: 5t 3l 11t 3l 8t
    repeat: 2
"""


def test_what_is_bound_off_first_is_told_first_and_largest() -> None:
    """Both shoulders of the jumper, and the stitches between its parts, are bound off at a row's start."""
    seen = 0
    for session in walked("ferry-jumper-front"):
        if session.act is not None or (place := session.next_place) is None:
            continue
        first, *others = run_steps(session.strands, place, session.piece.catching).inside
        if isinstance(first, do.Shape) and first.how == "bind off":
            [rest] = [step for step in others if isinstance(step, do.Work)]
            lines = written(Shown(session, *USUAL).now)
            off, knit = place_of(f"BIND OFF {-first.more}", lines), place_of(str(rest.stitches), lines)
            assert off is not None
            assert knit is not None
            assert off < knit
            assert off[1] == 5
            assert place_of(f"{rest.stitches} {'KNIT' if rest.hands[0][0] == 'k' else 'PURL'}", lines) == (knit[0], 3)
            seen += 1
    assert seen == 3


def test_alone_on_the_screen_the_acts_are_larger_and_the_row_stands_with_them() -> None:
    for session in walked("swatch")[::3]:
        if session.next_place is None and session.act is None:
            continue
        lines = written(Shown(session, *USUAL, is_alone=True).now)
        row = session.rows[session.at.row]
        for text in (*wanted(session), f"ROW {row.number}"):
            place = place_of(text, lines)
            assert place is not None, text
            assert place[1] >= 5 or len([*wanted(session)]) > 6
