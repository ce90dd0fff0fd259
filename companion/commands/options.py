"""What the options that several commands share mean: the limits on where strands go, and whose words are spoken.

The command line goes before the plan, the plan before the knitter's settings.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import reduce
from typing import TYPE_CHECKING, Any, TypeVar

import click

from companion.problems import plain, quoted

if TYPE_CHECKING:
    from companion.knitting.strands.limits import Carry
    from companion.settings import Settings


def whole_number(least: int, most: int | None = None) -> Callable[[str], int]:
    """Takes a whole number from ``least`` to ``most``; of another it says which are taken."""
    def number(typed: str) -> int:
        from companion.plan.amount import AmissError, whole

        try:
            return whole(least, most)(typed)
        except AmissError as amiss:
            raise click.BadParameter(f"It {amiss.what}") from None

    return number


def address(typed: str) -> str:
    """An address of one computer on a network, as it is written shortest."""
    import ipaddress

    try:
        found = ipaddress.ip_address(typed)
    except ValueError:
        found = ipaddress.ip_address("0.0.0.0")
    is_of_no_page = found.is_unspecified or found.is_multicast or found == ipaddress.ip_address("255.255.255.255")
    if is_of_no_page or (found.version == 6 and (found.is_link_local or "%" in typed)):  # browsers take no zones
        raise click.BadParameter(f"It takes one address of this computer, such as 192.168.1.7, not {quoted(typed)}.")
    return str(found)


_LIMIT = whole_number(0, 100_000)
"""No piece has more stitches or rows."""

F = TypeVar("F", bound=Callable[..., Any])


def limited(asked: Mapping[str, Any], carry: Carry) -> Carry:
    """A plan's limits, those that the command line names in their place."""
    named = {name: asked[name] for name in carry._fields if asked.get(name) is not None}
    return carry._replace(**named)


def one_of(*words: str) -> click.Choice[str]:
    """One of these words, in capitals or not."""
    return click.Choice(words, case_sensitive=False)


def _giving(*options: Callable[[F], F]) -> Callable[[F], F]:
    """Gives a command these options, in the order in which help lists them."""
    return lambda command: reduce(lambda given, option: option(given), reversed(options), command)


class _OnOrOff(click.Option):
    """Two names in one, ``--share`` and ``--no-share``: help has ``--[no-]share``, which leaves room for words."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        """Name and words in the help."""
        found = super().get_help_record(ctx)
        return found and (f"--[no-]{self.opts[0].removeprefix('--')}", found[1])


limits = _giving(
    click.option("--reach", type=_LIMIT, metavar="STS", help="Stitches a strand may go to the next row."),
    click.option("--behind", type=_LIMIT, metavar="STS", help="Stitches it may pass behind in its own row."),
    click.option("--rest", type=_LIMIT, metavar="ROWS", help="Rows that a strand may wait."),
    click.option(
        "--share/--no-share", cls=_OnOrOff, default=None, help="Two joins may share one length, begun at its middle."
    ),
    click.option(
        "--share-runs/--no-share-runs", cls=_OnOrOff, default=None, help="Strands may share a run and cross in it."
    ),
)
_terms = click.option("--terms", type=one_of("us", "uk"), help="Whose words: bind off, or cast off.")
_hands = click.option("--hands", type=one_of("right", "left"), help="Left-handed: worked mirrored.")
units = click.option("--units", type=one_of("cm", "in"), help="Centimetres, or inches and yards.")
size = click.option("--size", metavar="SIZE", default="", help="Of a plan in sizes this one; without it the first.")
spoken = _giving(_terms, _hands, units, size)


def numbers(_ctx: click.Context, param: click.Parameter, typed: str | None) -> tuple[int, ...]:
    """The numbers of "1,3,8"."""
    if typed is None:
        return ()
    if not re.fullmatch(r"[0-9]{1,6}(,[0-9]{1,6}){0,9}", typed):
        raise click.UsageError(f'--{param.name} takes up to ten numbers such as 1,3,8, not "{plain(typed)}".')
    return tuple(sorted({int(number) for number in typed.split(",")}))


def numbers_or_all(ctx: click.Context, param: click.Parameter, typed: str | None) -> tuple[int, ...] | None:
    """The numbers of "1,3", counted from 1; () for "all", None where nothing is said."""
    if typed is None or typed == "all":
        return None if typed is None else ()
    found = numbers(ctx, param, typed)
    if 0 in found:
        raise click.UsageError(f"--{param.name} counts from 1.")
    return found


def settings() -> Settings:
    """The knitter's settings; what is wrong in them the app tells."""
    from companion.progress.folders import settings_file
    from companion.progress.trouble import Trouble
    from companion.settings import Settings, read

    try:
        return read(settings_file())[0]
    except Trouble:
        return Settings()
