"""``python -m companion`` is the same program as ``rowside``: where both begin, and where it is said that it was
stopped, be it while it was loaded: so nothing but ``sys`` is loaded before that can be said."""

from __future__ import annotations

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

INTERRUPTED = 130
STOPPED = "rowside: Stopped by you. Nothing that was saved is lost."


def main() -> int:
    """Run the command line and return its exit code; end the program where it was stopped."""
    try:
        from companion.cli import main as run

        code = run()
        if code == INTERRUPTED:
            _stop(STOPPED)
        return code
    except KeyboardInterrupt:
        _stop(f"\n{STOPPED}")


def _stop(text: str) -> NoReturn:
    """Say so, and end at once. An interrupt that passed through text which was being compiled, as data classes do, is
    kept in mind by Python, which would end by the signal in place of the exit code."""
    import os

    try:
        sys.stderr.write(f"{text}\n")
        sys.stderr.flush()
    finally:
        os._exit(INTERRUPTED)


if __name__ == "__main__":
    sys.exit(main())
