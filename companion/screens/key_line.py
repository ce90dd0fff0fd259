"""The line at the bottom: the keys of what is possible now."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from companion.dialogue.deeds import DEEDS, Deed, deeds_of
from companion.progress.actions import BindOff, Finish, On, Sew, Weave
from companion.progress.deciding import allowed
from companion.screens.lines import Line, Lines


class KeyLine(Lines):
    """As many keys as fit, in the table's order; keys and help are always among them."""

    deeds: Sequence[Deed] = DEEDS

    def draw(self, width: int, height: int) -> list[Line]:
        """One line."""
        possible = allowed(self.session) if self.session else frozenset()
        possible |= {On} if possible & {BindOff, Finish, Weave, Sew} else set()  # all that is to be done now
        listed = [deed for deed in deeds_of("work", self.deeds) if deed.short and not deed.unlisted]
        shown = [deed for deed in listed if deed.needs is None or deed.needs in possible]
        must = [deed for deed in shown if deed.name in ("help", "quit")]
        free = width - sum(_width(deed) for deed in must)
        line: Line = []
        for deed in shown:
            needed = 0 if deed in must else _width(deed)
            if needed <= free:
                free -= needed
                line += [(f" {deed.key} ", "now"), (f"{deed.short} ", "quiet")]
        return [line]


def _width(deed: Deed) -> int:
    return cell_len(f" {deed.key} {deed.short} ")

