"""Where the program begins, and what becomes of everything that can go wrong in it.

Exit codes: 0 done, warnings allowed; 2 the command line or what was given is wrong; 1 the machine failed, or a bug;
130 interrupted. Standard output holds the answer and nothing else.
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from companion.commands.common import DONE, FAILED, INTERRUPTED, WRONG, is_by_lines, knit_plan, open_basket, report
from companion.knitting.howfar import TooMuchToWeigh
from companion.pages import printing
from companion.problems import Problem, Problems, plain
from companion.progress.trouble import Refused, Trouble


def main(words: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code. Nothing but a request to exit is raised."""
    words = sys.argv[1:] if words is None else words
    printing.make_safe()
    # No garbage is looked for, a third of the time that a large plan takes and a tenth of a start: what a command
    # makes is there to stay until it ends. An app looks for it again from its first paint on.
    gc.disable()
    try:
        return _run(words)
    except Problems as found:
        report(found.problems)
        return WRONG
    except (Refused, TooMuchToWeigh) as refused:
        report([Problem(str(refused))])
        return WRONG
    except KeyboardInterrupt:
        printing.silence()
        return INTERRUPTED
    except Trouble as trouble:
        printing.tell(f"rowside: {trouble}")
        return FAILED
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


def _run(words: Sequence[str]) -> int:
    """A plan to knit and nothing else, as every evening begins, and the basket by lines go without the library that
    reads command lines, a tenth of what such a start takes beyond its screen."""
    is_completing = "_ROWSIDE_COMPLETE" in os.environ
    is_plain, is_page = "--plain" in words, "--page" in words
    match [] if is_completing else [word for word in words if word not in ("--plain", "--page")]:
        case ["knit", plan] if not plan.startswith("-") and not (is_plain and is_page):
            return knit_plan(plan, is_plain=is_plain, is_page=is_page)
        case [] if (is_plain or is_by_lines()) and not is_page and not is_completing:
            return open_basket(is_plain=is_plain)
    from companion.commands import every

    return every.run(words)


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
