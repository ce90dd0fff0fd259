"""Demos worked from the first stitch to the finish on a screen and without one, the journals compared: longer than the
suite may take. Run by hand, ``python -m tests.dialogue.walked [DEMO ...]``; without a name all demos, the shortest
first."""

from __future__ import annotations

import asyncio
import sys
import tempfile
import time
from pathlib import Path

from tests.dialogue.test_same_journal import DEMOS, worked_both_ways


async def _walk(demo: str) -> int:
    """How many keys it took. A journal that is another one ends it."""
    with tempfile.TemporaryDirectory() as home:
        return await worked_both_ways(Path(home), demo)


def main() -> int:
    """The exit code: 0 where every journal was the same."""
    differ = 0
    for demo in sys.argv[1:] or sorted(DEMOS, key=lambda demo: DEMOS[demo].stat().st_size):
        start = time.monotonic()
        try:
            keys = asyncio.run(_walk(demo))
        except AssertionError as error:
            differ += 1
            print(f"{demo}: NOT the same: {error}", flush=True)
        else:
            print(f"{demo}: {keys} keys, the same journal, {time.monotonic() - start:.0f} s", flush=True)
    return int(differ > 0)


if __name__ == "__main__":
    sys.exit(main())
