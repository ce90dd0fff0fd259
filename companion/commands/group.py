"""Commands that belong together: each told in full, and the nearest where there is none of a name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import click

from companion.pages import printing
from companion.problems import nearest, plain, quoted


class Commands(click.Group):
    """A group whose list cuts no summary, and which says what was probably meant."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """A command a line, or as many as its summary takes."""
        found = [(name, self.get_command(ctx, name)) for name in self.list_commands(ctx)]
        with formatter.section("Commands"):
            formatter.write_dl([(name, command.get_short_help_str(10_000)) for name, command in found if command])

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names.

        Raises:
            click.UsageError: there is none of that name; which may be meant is told.
        """
        if not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            raise click.UsageError(f"No command is called {quoted(args[0])}.{self.meant(ctx, args)}", ctx)
        return super().resolve_command(ctx, args)

    def meant(self, ctx: click.Context, args: Sequence[str]) -> str:
        """A sentence on what may be meant by words that begin with no command; "" where nothing is like them."""
        near = nearest(args[0], self.list_commands(ctx))
        return f' Did you mean "{plain(ctx.command_path)} {near}"?' if near else ""


def example(*lines: str) -> str:
    """How a command is typed, as the end of its help: a line each, broken only where it has no room."""
    room = printing.columns() - 4
    shown = [f"  {part}" for line in lines for part in _continued(line, room)]
    return "\n".join(["\b", "For example:" if len(lines) == 1 else "Examples:", *shown])


def _continued(line: str, room: int) -> Iterator[str]:
    """A line that is typed, broken between its words as a shell takes it, where it has no room."""
    words, kept = re.findall(r'(?:"[^"]*"|\S)+', line), ""
    for word in words:
        if kept and len(kept) + len(word) + len("  \\") > room:
            yield f"{kept} \\"
            kept = f"  {word}"
        else:
            kept = f"{kept} {word}" if kept else word
    yield kept
