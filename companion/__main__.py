"""``python -m companion`` is the same program as ``rowside``."""

import sys

from companion.cli import main

sys.exit(main())
