"""The commands together, and what is told where the command line is wrong."""

from __future__ import annotations

import io
import os
import shlex
from collections.abc import Sequence
from importlib import import_module
from keyword import iskeyword
from pathlib import Path

import click

from companion import __version__
from companion.commands.common import DONE, INTERRUPTED, is_plan_word, open_basket
from companion.commands.group import Commands, example
from companion.pages import printing
from companion.problems import plain

_COMMANDS = (
    "areas", "check", "class", "compare", "copy", "draft", "draw", "ends", "knit", "new", "picture", "pieces",
    "print", "progress", "regauge", "rows", "schema", "strands", "tidy", "watch", "where", "write",
)
"""Each in the file of its name under ``commands/``, a word of Python's with "_" behind it; only the one that is asked
for is loaded."""

_DRAWN = (".png", ".jpg", ".jpeg", ".gif", ".bmp", ".webp", ".xlsx", ".ods", ".csv")
_WIDEST_HELP = 80
"""In a wider terminal help is no wider: longer lines are hard to read."""


class _Commands(Commands):
    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names, in the order in which help lists them."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; None where there is none."""
        if cmd_name not in _COMMANDS:
            return None
        name = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        found: click.Command = getattr(import_module(f"companion.commands.{name}"), name)
        return found

    def meant(self, ctx: click.Context, args: Sequence[str]) -> str:
        """A plan without a command is one to knit; a picture or a sheet is one to make a plan of."""
        if Path(args[0]).suffix.lower() in _DRAWN:
            return f" To make a plan of it: rowside draft {shlex.quote(args[0])}"
        if is_plan_word(args[0]):
            return f" To knit this plan: rowside knit {shlex.quote(args[0])}"
        return super().meant(ctx, args)


@click.group(
    cls=_Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]},
    epilog=example("rowside", "rowside knit swatch", "rowside copy swatch my-swatch.yaml"),
)
@click.option("--plain", "is_plain", is_flag=True, help="The work basket by lines, in place of a screen.")
@click.version_option(__version__, "--version", prog_name="rowside", message="%(prog)s %(version)s")
@click.pass_context
def rowside(ctx: click.Context, is_plain: bool) -> int:
    """Beside your needles, row by row: knit a picture in blocks of colour from a plan.

    PLAN is a plan file, the name of a demo plan, or - for a plan on standard input. Without a command the work
    basket opens: what is on the needles, and where each piece was left.
    """
    if ctx.invoked_subcommand is not None:
        return DONE
    return open_basket(is_plain=is_plain)


class _AsTyped(io.StringIO):
    """Text from which the library takes no control sequences out, since it takes it for a terminal."""

    def isatty(self) -> bool:
        """It is one, so to speak."""
        return True


def run(words: Sequence[str]) -> int:
    """Run the command that the words name; its exit code. Of what the library raises nothing is left."""
    try:
        # A group without a command to run returns what its function does.
        room = min(printing.columns(), _WIDEST_HELP) - 2
        code: int = rowside.main(list(words), prog_name="rowside", standalone_mode=False, terminal_width=room)
        return code
    except click.ClickException as error:
        said = _AsTyped()
        error.show(said)
        for line in said.getvalue().splitlines():
            printing.tell(plain(line))
        return error.exit_code
    except click.Abort:
        printing.silence()
        return INTERRUPTED
    except SystemExit:
        # So the library ends when it has completed a word for a shell, and when nobody reads its help any more.
        if "_ROWSIDE_COMPLETE" in os.environ:
            raise
        return DONE
