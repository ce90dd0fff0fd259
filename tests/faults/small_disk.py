"""The program on a disk on which no file may grow beyond ROOM bytes: ``python -m tests.faults.small_disk WORDS``."""

from __future__ import annotations

import os
import resource
import signal
import sys

from companion.cli import main

if __name__ == "__main__":
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(os.environ["ROOM"]), resource.RLIM_INFINITY))
    sys.exit(main())
