"""Every sentence that tells a piece, a row or a step, once. Screens, written rows and messages take their words from
here; which dialect, and whether the knitter works mirrored, comes in as ``Terms``.
"""

from typing import TYPE_CHECKING, Any

from companion.knitting.words.areas import (
    AREAS_PLACED,
    NOTHING_SEWN_ON,
    SEWN_ON_COUNTED,
    area_to_sew,
    areas_save,
    areas_sewn,
    how_to_sew,
    sewing_line,
    sewing_title,
    thick,
)
from companion.knitting.words.mishaps import (
    WHAT_HAPPENED,
    WHICH_STRAND,
    ended_after,
    hangs_from,
    joined_after_all,
    length_ended,
    planned_anew,
    went_on,
)
from companion.knitting.words.mistakes import (
    MARK_WRONG,
    MISTAKE_BELOW,
    WHAT_TO_DO,
    WRONG_STITCH,
    close_hole,
    cross_missed,
    no_tail_near,
    now_unpick,
    to_ladder,
    to_leave,
    to_rip,
    to_sew_over,
    worked_in,
)
from companion.knitting.words.piece import (
    AT_ROW_QUESTION,
    BREAK,
    CAUTION,
    best_stop,
    came_out,
    card_line,
    days_ago,
    for_baby,
    note_question,
    rip_question,
    rip_told,
    sides_cue,
    to_finish,
    where_you_are,
)
from companion.knitting.words.places import (
    end_heading,
    end_line,
    ends_ready,
    ends_title,
    hanging_at,
    hanging_place,
    row_key,
    row_number,
    rows_span,
    spot_in_row,
    spot_told,
    strand_joined,
    strand_line,
    strand_place,
    strand_totals,
    strands_title,
)
from companion.knitting.words.rows import (
    LAST_OF_STRAND,
    at_the_end,
    cast_on_heading,
    change_in_short,
    height,
    how_to_read,
    how_to_slip,
    into_run,
    row_done,
    row_of,
    row_title,
    row_to_end,
    still_on_needle,
    still_to_work,
    work_in_full,
    work_in_short,
    written_cast_on,
    written_row,
)
from companion.knitting.words.steps import (
    VERBS,
    Register,
    act_verb,
    cross_rule,
    in_full,
    in_short,
    part_name,
    side_facing,
    tell,
    told_apart,
    verb_of,
    where_strands_lie,
)
from companion.knitting.words.terms import (
    US,
    Terms,
    count,
    how_many,
    listed,
    measured,
    ordinal,
    sentence,
    stitches_in_full,
)
from companion.knitting.words.tubes import sew_tube, worked_flat
from companion.knitting.words.weaving import (
    TURNED_OVER,
    ends_offered,
    ends_offered_on_leaving,
    how_to_weave,
    yarns_beside,
)
from companion.knitting.words.whereabouts import WHERE_QUESTION, rows_found

if TYPE_CHECKING:
    from companion.knitting.words.choices import BEATEN, technique, why_recommended

_LATE = ("BEATEN", "technique", "why_recommended")


def __getattr__(name: str) -> Any:
    """What is said of techniques comes when it is first asked for: nobody needs it, and all that it needs, before the
    first stitch is shown."""
    if name not in _LATE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from companion.knitting.words import choices

    return getattr(choices, name)
