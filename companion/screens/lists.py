"""Each list on a screen of its own, which has its keys; those with pictures stand in files of their own."""

from __future__ import annotations

from typing import ClassVar, cast

from textual.binding import BindingType

from companion.dialogue.listing import Listing
from companion.screens.bound import bound
from companion.screens.picking import PickingScreen


class StrandsScreen(PickingScreen):
    """Every strand."""

    BINDINGS: ClassVar[list[BindingType]] = bound("strands")


class TechniquesScreen(PickingScreen):
    """Every technique."""

    BINDINGS: ClassVar[list[BindingType]] = bound("techniques")


class BasketScreen(PickingScreen):
    """The work basket."""

    BINDINGS: ClassVar[list[BindingType]] = bound("basket")


class SettingsScreen(PickingScreen):
    """The settings."""

    BINDINGS: ClassVar[list[BindingType]] = bound("settings")


class KeysScreen(PickingScreen):
    """The keys."""

    BINDINGS: ClassVar[list[BindingType]] = bound("keys")


_PLAIN: dict[str, type[PickingScreen]] = {
    "strands": StrandsScreen, "techniques": TechniquesScreen, "basket": BasketScreen, "settings": SettingsScreen,
    "keys": KeysScreen,
}  # fmt: skip


def screen_for(listing: Listing) -> PickingScreen:
    """The screen of a list."""
    if listing.where == "ends":
        from companion.dialogue.ends import EndsList
        from companion.screens.ends import EndsScreen

        return EndsScreen(cast(EndsList, listing))
    if listing.where == "finding":
        from companion.dialogue.finding import Finding
        from companion.screens.finding import FindingScreen

        return FindingScreen(cast(Finding, listing))
    if listing.where == "sewing":
        from companion.dialogue.sewing import SewingList
        from companion.screens.sewing import SewingScreen

        return SewingScreen(cast(SewingList, listing))
    return _PLAIN[listing.where](listing)
