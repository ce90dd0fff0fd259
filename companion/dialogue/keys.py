"""The keys that stand on a screen: which, what each does in a word, and whether it can be done now."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from companion.dialogue.deed import Deed, Where
from companion.dialogue.deeds import DEEDS, deeds_of
from companion.knitting.latest import latest
from companion.knitting.value import Record
from companion.progress.actions import Action, BindOff, Finish, On, Sew, Weave
from companion.progress.deciding import may
from companion.progress.ends import ready_ends
from companion.progress.session import Session


class KeyTold(Record):
    """``keys``: each as it is printed, with the name of its deed; ``word``: what they do. ``is_kept``: shown however
    little room there is."""

    keys: tuple[tuple[str, str], ...]
    word: str
    is_possible: bool = True
    is_kept: bool = True


def keys_of(
    where: Where, deeds: Iterable[Deed] = DEEDS, verbs: Mapping[str, str] = MappingProxyType({})
) -> tuple[KeyTold, ...]:
    """The keys of a place; ``verbs``: what some are called there. Keys that do the same stand together."""
    groups = dict[str, list[tuple[str, str]]]()
    for deed in deeds_of(where, deeds):
        if word := verbs.get(deed.name, deed.short):
            groups.setdefault(word, []).append((deed.key, deed.name))
    return tuple(KeyTold(tuple(keys), word) for word, keys in groups.items())


def keys_at_the_needles(
    session: Session | None, deeds: Iterable[Deed] = DEEDS, on: str = ""
) -> tuple[KeyTold, ...]:
    """Those of the working screen, in the table's order; ``on``: what On does now, where it does not go on. Help and
    the way out are kept always, and where ends are ready the way to them."""
    shown, asked = _at_the_needles(tuple(deeds))
    possible = {kind for kind in asked if session and may(session, kind)}
    if possible & _AT_ONCE:
        possible.add(On)
    kept = ("help", "quit", *(["ends"] if session and ready_ends(session) else []))
    return tuple(
        KeyTold(
            ((deed.key, deed.name),), on if on and deed.name == "on" else deed.short,
            is_possible=deed.needs is None or deed.needs in possible, is_kept=deed.name in kept,
        )
        for deed in shown
    )  # fmt: skip


_AT_ONCE: frozenset[type[Action]] = frozenset({BindOff, Finish, Weave, Sew})
"""What On does where no run is to be worked."""


@latest
def _at_the_needles(deeds: tuple[Deed, ...]) -> tuple[tuple[Deed, ...], frozenset[type[Action]]]:
    """Those that may stand there, and the actions about which is asked whether they are possible."""
    shown = tuple(deed for deed in deeds_of("work", deeds) if deed.short and not deed.unlisted)
    return shown, frozenset(deed.needs for deed in deeds if deed.needs) | _AT_ONCE
