"""The shape of a plan, version 1: which keys there are, which are needed and what each may hold.

The only package that knows pydantic. Every value arrives as the text that was typed and is converted here, so YAML's
own ideas of numbers and switches never matter. What does not fit becomes problems at the places it was typed.
``editor_schema.py`` makes the JSON Schema that lies beside the demo plans. Annotations are no strings here, since
pydantic would have to read each of them again.
"""

import os
import sys
from types import SimpleNamespace

# Nothing but this package looks on while a plan is checked; to find out whether something would like to, pydantic
# opens the description of every package that is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
# What would look is loaded all the same, and the reader of descriptions with it: 8 ms of every first opening.
sys.modules.setdefault("pydantic.plugin._loader", SimpleNamespace(get_plugins=tuple))  # type: ignore[arg-type]  # so used
