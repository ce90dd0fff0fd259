"""The command line: its commands together, and what becomes of everything that can go wrong in them.

Exit codes: 0 done, warnings allowed; 2 the command line or what was given is wrong; 1 the machine failed, or a bug;
130 interrupted. Standard output holds the answer and nothing else.
"""

from __future__ import annotations

import gc
import io
import os
import shlex
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path

import click

from companion import __version__
from companion.commands.given import DONE, FAILED, INTERRUPTED, WRONG, is_plan_word, need_terminal, report
from companion.commands.group import Commands, example
from companion.knitting.howfar import TooMuchToWeigh
from companion.pages import printing
from companion.problems import Problem, Problems, plain
from companion.progress.trouble import Refused, Trouble

_COMMANDS = (
    "areas", "check", "compare", "copy", "draft", "ends", "knit", "pieces", "progress", "rows", "schema", "strands",
    "where",
)
"""Each in the file of its name under ``commands/``; only the one that is asked for is loaded."""


class _Commands(Commands):
    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names, in the order in which help lists them."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name; None where there is none."""
        if cmd_name not in _COMMANDS:
            return None
        found: click.Command = getattr(import_module(f"companion.commands.{cmd_name}"), cmd_name)
        return found

    def meant(self, ctx: click.Context, args: Sequence[str]) -> str:
        """A plan without a command is one to knit."""
        if is_plan_word(args[0]):
            return f" To knit this plan: rowside knit {shlex.quote(args[0])}"
        return super().meant(ctx, args)


@click.group(
    cls=_Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]},
    epilog=example("rowside", "rowside knit swatch", "rowside copy swatch my-swatch.yaml"),
)
@click.version_option(__version__, "--version", prog_name="rowside", message="%(prog)s %(version)s")
@click.pass_context
def rowside(ctx: click.Context) -> int:
    """Beside your needles, row by row: knit a picture in blocks of colour from a plan.

    PLAN is a plan file, the name of a demo plan, or - for a plan on standard input. Without a command the work
    basket opens: what is on the needles, and where each piece was left.
    """
    if ctx.invoked_subcommand is not None:
        return DONE
    need_terminal()
    from companion.screens import app

    return app.basket()


class _AsTyped(io.StringIO):
    """Text from which the library takes no control sequences out, since it takes it for a terminal."""

    def isatty(self) -> bool:
        """It is one, so to speak."""
        return True


def main(words: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code. Nothing but a request to exit is raised."""
    words = sys.argv[1:] if words is None else words
    printing.make_safe()
    # No garbage is looked for, a third of the time that a large plan takes and a tenth of a start: what a command
    # makes is there to stay until it ends. An app looks for it again from its first paint on.
    gc.disable()
    try:
        # A group without a command to run returns what its function does.
        code: int = rowside.main(list(words), prog_name="rowside", standalone_mode=False)
        return code
    except click.ClickException as error:
        said = _AsTyped()
        error.show(said)
        for line in said.getvalue().splitlines():
            printing.tell(plain(line))
        return error.exit_code
    except Problems as found:
        report(found.problems)
        return WRONG
    except (Refused, TooMuchToWeigh) as refused:
        report([Problem(str(refused))])
        return WRONG
    except (click.Abort, KeyboardInterrupt):
        printing.silence()
        return INTERRUPTED
    except Trouble as trouble:
        printing.tell(f"rowside: {trouble}")
        return FAILED
    except SystemExit:
        # So the library ends when it has completed a word for a shell, and when nobody reads its help any more.
        if "_ROWSIDE_COMPLETE" in os.environ:
            raise
        return DONE
    except BrokenPipeError:
        printing.silence()
        return DONE
    except OSError as error:
        printing.silence()
        printing.tell(f"rowside: {plain(_reason(error))}")
        return FAILED
    except Exception as error:  # the outermost edge: whatever reaches it is a bug
        printing.silence()
        printing.tell(_told_bug(error, words))
        return FAILED
    finally:
        gc.enable()


def _reason(error: OSError) -> str:
    """What the system says, and of which file."""
    if not error.strerror:
        return str(error)
    return f"{error.filename}: {error.strerror}" if error.filename else error.strerror


def _told_bug(error: Exception, words: Sequence[str]) -> str:
    """One sentence that names the report of a bug."""
    from companion import bug_report

    for folder in _report_folders():
        with suppress(OSError):
            path = bug_report.write(error, folder, words)
            return f"rowside: This is a bug in Rowside, not in your plan; {path} tells more."
    return f"rowside: This is a bug in Rowside, and no report could be written: {type(error).__name__}."


def _report_folders() -> Iterator[Path]:
    """Where a report may be written, best first."""
    with suppress(Exception):  # the bug may be in finding the data folder
        from companion.progress.folders import home

        yield home()
    yield Path(tempfile.gettempdir())
