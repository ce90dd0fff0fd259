"""``python -m companion`` is the same program as ``rowside``: where both begin, and where it is said that it was
stopped, be it while it was loaded: so nothing but ``sys`` is loaded before that can be said."""

from __future__ import annotations

import sys

INTERRUPTED = 130
STOPPED = "rowside: Stopped by you. Nothing that was saved is lost."


def main() -> int:
    """Run the command line and return its exit code."""
    try:
        from companion.cli import main as run

        code = run()
        if code == INTERRUPTED:
            _tell(STOPPED)
        return code
    except KeyboardInterrupt:
        _tell(f"\n{STOPPED}")
        return INTERRUPTED


def _tell(text: str) -> None:
    try:  # noqa: SIM105 (what suppresses is not loaded)
        sys.stderr.write(f"{text}\n")
    except OSError:
        pass


if __name__ == "__main__":
    sys.exit(main())
