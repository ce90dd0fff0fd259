"""What is open as data for the page: text, colours, places on the chart. Nothing here is worked out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from companion.dialogue.deed import Deed
from companion.dialogue.finding import Finding
from companion.dialogue.listing import Listing
from companion.dialogue.marking import Marking
from companion.dialogue.questions import Choice, Reading, Words, YesNo
from companion.dialogue.sitting import Sitting
from companion.knitting.words import sentence
from companion.page.at_work import at_work, marked
from companion.page.opened import Opened
from companion.problems import plain

Data = dict[str, Any]
"""What becomes JSON."""

_KEYS: Mapping[str, str] = {
    "space": " ", "enter": "Enter", "backspace": "Backspace", "delete": "Delete", "escape": "Escape", "tab": "Tab",
    "pageup": "PageUp", "pagedown": "PageDown", "up": "ArrowUp", "down": "ArrowDown", "left": "ArrowLeft",
    "right": "ArrowRight", "home": "Home", "end": "End", "comma": ",", "full_stop": ".", "question_mark": "?",
    "plus": "+", "minus": "-", "slash": "/",
}  # fmt: skip
"""Keys as browsers call them (W3C, UI Events KeyboardEvent key values), where they call them otherwise."""


def shown(opened: Opened) -> Data:
    """The piece, what is asked over it, and what can be done."""
    top, sitting = opened.top, opened.sitting
    if top is None:
        return {"work": None, "asked": None, "keys": {}}
    asked = None if isinstance(top.request, Sitting) else _asked(opened, top.request)
    work = None if sitting is None else at_work(sitting, opened.said, opened.knitter.deeds)
    keys = {_key(key): deed.name for deed in opened.deeds for key in deed.keys}
    found: Data = _plain({"work": work, "asked": asked})
    return {**found, "keys": keys}


def _key(key: str) -> str:
    """A key as browsers call it: "f1" is "F1"."""
    return _KEYS.get(key, key.upper() if key[:1] == "f" and key[1:].isdigit() else key)


def _asked(opened: Opened, request: object) -> Data:
    match request:
        case YesNo():
            return {"kind": "yes or no", "text": request.text, "yes": request.yes, "no": request.no}
        case Choice():
            return {"kind": "choice", "text": request.text, "lines": request.lines}
        case Words():
            offered = [{"word": word, "meaning": meaning} for word, meaning in request.offered]
            return {"kind": "words", "text": [request.text], "answer": request.answer, "offered": offered,
                    "is_number": request.is_number}
        case Reading():
            lines = [line for lines in request.lines for line in lines.split("\n")]
            return {"kind": "reading", "text": [request.title], "lines": lines}
        case Marking():
            return {"kind": "marking", "text": [marked(request)], "deeds": _buttons(opened)}
        case Listing():
            return _list(opened, request)
    raise TypeError(f"{type(request).__name__} is not shown")


def _list(opened: Opened, listing: Listing) -> Data:
    """Every line in full, and of the one that is meant what is told of it."""
    meant, lines = listing.at, list[Data]()
    for at, row in enumerate(listing.table.rows):
        if isinstance(row, str):
            lines.append({"heading": row})
            continue
        listing.at = at
        yarn = next((cell.yarn for cell in row if cell.yarn), None)
        lines.append({"at": at, "text": listing.in_full(), "colour": yarn.colour if yarn else ""})
    listing.at = meant
    heading = f"{listing.heading.partition(':')[0]}." if isinstance(listing, Finding) else listing.heading
    can_tick = any(deed.name == "tick" for deed in opened.deeds)
    deeds = [one for one in _buttons(opened, listing.verbs) if one["name"] not in ("choose", "tick")]
    return {
        "kind": "list", "text": [*filter(None, (listing.trouble, heading, opened.said))], "lines": lines,
        "at": meant, "about": [] if isinstance(listing, Finding) else listing.about(), "deeds": deeds,
        "choose": sentence(listing.verbs.get("choose", "choose")), "is_ticked": can_tick,
    }  # fmt: skip


def _buttons(opened: Opened, verbs: Mapping[str, str] | None = None) -> list[Data]:
    """What else can be done here; a thing with several deeds in one word is called by each deed's own title."""
    def title(deed: Deed) -> str:
        return sentence((verbs or {}).get(deed.name) or deed.title)

    return [{"name": deed.name, "title": title(deed)} for deed in opened.deeds if deed.name != "palette"]


def _plain(data: Any) -> Any:
    """The same with every text as data that is shown and not obeyed."""
    match data:
        case str():
            return plain(data)
        case dict():
            return {key: _plain(value) for key, value in data.items()}
        case list() | tuple():
            return [_plain(one) for one in data]
    return data
