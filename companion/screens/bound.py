"""Keys bound to the deeds of the table."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from companion.dialogue.deed import Where
from companion.dialogue.deeds import DEEDS, deeds_of


def bound(where: Where) -> list[BindingType]:
    """The keys of a place. Each is known by its deed's name, so that a knitter's own key takes its place."""
    is_first = where == "anywhere"  # before whatever else the key may do
    return [
        Binding(",".join(one.keys), f"deed('{one.name}')", one.title, id=one.name, show=False, priority=is_first)
        for one in deeds_of(where)
    ]


def bound_to(action: str, *names: str) -> list[BindingType]:
    """The keys of these deeds where a part of a screen does them by an action of its own."""
    return [Binding(",".join(deed.keys), action, id=deed.name, show=False) for deed in DEEDS if deed.name in names]
