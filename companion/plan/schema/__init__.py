"""The shape of a plan, version 1: which keys there are, which are needed and what each may hold.

The only package that knows pydantic. Every value arrives as the text that was typed and is converted here, so YAML's
own ideas of numbers and switches never matter. What does not fit becomes problems at the places it was typed.
``editor_schema.py`` makes the JSON Schema that lies beside the demo plans. Annotations are no strings here, since
pydantic would have to read each of them again.
"""

import os

# Nothing but this package looks on while a plan is checked; to find out whether something would like to, pydantic
# opens the description of every package that is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
