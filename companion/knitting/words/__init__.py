"""Every sentence that tells a piece, a row or a step, once. Screens, written rows and messages take their words from
here; which dialect, and whether the knitter works mirrored, comes in as ``Terms``. What is said of yarn, of
techniques and of time stands in ``words.yarn``, ``words.choices`` and ``words.pace``: nobody needs that, and all that
it needs, before the first stitch is shown.
"""

from companion.knitting.words.areas import *
from companion.knitting.words.large import *
from companion.knitting.words.mishaps import *
from companion.knitting.words.piece import *
from companion.knitting.words.places import *
from companion.knitting.words.rows import *
from companion.knitting.words.seams import *
from companion.knitting.words.steps import *
from companion.knitting.words.stitches import *
from companion.knitting.words.terms import *
from companion.knitting.words.weaving import *
