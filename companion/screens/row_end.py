"""The row's end line: the count, what to cut, how to turn, what to have ready for the next row."""

from __future__ import annotations

from collections.abc import Sequence

from companion.dialogue.telling import Telling
from companion.screens.flowing import Line, broken, cut_off, paragraphs, whole_sentences
from companion.screens.lines import Lines

NOTE = 2
"""Lines that a note has for certain; the rest of it where there is room."""


class RowEndPanel(Lines):
    """Quiet while the row is worked, in bold at the turn. ``notice`` comes first: what must be said once; ``pace``
    goes on where what must be said ends, as much of it as there is room for; ``is_alone``: above a chart that fills
    the screen nothing but the notice. ``more`` ends a notice that is cut (``is_cut``)."""

    notice = ""
    more = "..."
    pace: tuple[str, ...] = ()
    is_alone = is_cut = False

    def draw(self, width: int, height: int) -> list[Line]:
        """Wrapped sentences; at the turn they are what the hands do now, and notice and note give way to them, but
        for a line of the notice: it may be the answer to a key. Where not even few words have room, the large letters
        say the rest."""
        telling = self.telling
        if telling is None:
            return []
        if self.is_alone:
            return self._noticed(height, width)
        notice, note, about = _notice(self.notice, width), _note(telling, width), _about(telling, width)
        noted = min(NOTE, len(note))
        if telling.is_turn:
            if len(notice) + len(about) + noted > height:
                about = _about(telling, width, is_short=True)
            if len(about) + bool(notice) > height:
                room = max(1, height - bool(notice))
                texts = telling.end_beside_letters, telling.end_but_turn
                ways = (_beside_letters(telling, width, each) for each in texts)
                most = _beside_letters(telling, width, texts[0], room)
                about = next((way for way in ways if len(way) <= room), most)
            notice = self._noticed(max(height - len(about), bool(notice)), width)
            about = _with_pace(about, self.pace, width, height - len(notice) - noted)
            lines = [*notice, *cut_off(about, height - len(notice), width)]
        else:
            notice = self._noticed(height, width)
            lines = [*notice, *cut_off(about, height - noted - len(notice), width)]
        return [*lines, *cut_off(note, height - len(lines), width)]

    def _noticed(self, height: int, width: int) -> list[Line]:
        """As much of the notice as has room."""
        lines = whole_sentences(self.notice, height, width, "alert", self.more)
        self.is_cut = lines != _notice(self.notice, width)
        return lines


MOST_ABOVE = 4
"""Lines of a notice above a chart that fills the screen."""


def lines_above(notice: str, width: int, more: str) -> int:
    """How many lines it takes there, ``more`` at its end where it is cut."""
    return len(whole_sentences(notice, MOST_ABOVE, width, more=more)) if notice else 0


def end_lines(
    telling: Telling, width: int, notice: str, pace: Sequence[str] = (), *, is_short: bool = False
) -> int:
    """How many lines must be seen now: everything at a turn, whatever must be said once, the beginning of a note; and
    how long the rest takes."""
    about = _with_pace(_about(telling, width, is_short=is_short), pace, width) if telling.is_turn else []
    return len(_notice(notice, width)) + len(about) + min(NOTE, len(_note(telling, width)))


def fewest_end_lines(telling: Telling, width: int, notice: str) -> int:
    """How many lines are enough beside large letters."""
    beside = _beside_letters(telling, width, telling.end_beside_letters) if telling.is_turn else []
    return len(beside) + bool(notice)


def _with_pace(about: list[Line], pace: Sequence[str], width: int, height: int | None = None) -> list[Line]:
    """How long the rest takes after what stands at the row's end, in full or in short, if that has room."""
    for text in pace if about else ():
        longer = [*about[:-1], *broken([*about[-1], (f" {text}", "quiet")], width)]
        if height is None or len(longer) <= height:
            return longer
    return about


def _notice(notice: str, width: int) -> list[Line]:
    return paragraphs([notice], width, "alert")


def _note(telling: Telling, width: int) -> list[Line]:
    return paragraphs([telling.note], width, "strong")


def _about(telling: Telling, width: int, *, is_short: bool = False) -> list[Line]:
    """What stands at the row's end."""
    if telling.session.is_bound_off:
        return []
    lead, texts = telling.end_lead, telling.end_in_short if is_short else telling.end
    return _led(lead, texts, width) if telling.is_turn else paragraphs([" ".join([lead, *texts])], width, "quiet")


def _beside_letters(telling: Telling, width: int, texts: Sequence[str], height: int = 99) -> list[Line]:
    """At a turn these texts, which the large letters leave to be said, in a line if that is possible; as many
    sentences of them as have room."""
    lines = _led(telling.end_lead, texts, width)
    return whole_sentences(" ".join(texts), height, width, "strong") if texts and len(lines) > 1 else lines


def _led(lead: str, texts: Sequence[str], width: int) -> list[Line]:
    """Sentences of which the first stands out."""
    lines = paragraphs([" ".join([lead, *texts])], width, "strong")
    first = lines[0][0][0]
    return [[(lead, "now"), (first[len(lead):], "strong")], *lines[1:]]
