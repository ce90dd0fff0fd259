"""What a plan says on the working screen: letter by letter, and never in the place of what the hands do."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import at_the_needles

from companion.plan.amount import LONGEST_SAID
from companion.screens.asking import ReadingScreen
from companion.screens.knitting import KnittingScreen
from companion.screens.large import large_lines
from companion.screens.now import NowPanel
from tests.plan.plans import HEAD

HOSTILE = "[red]x[/] $y [@click=app.bell]z[/] "
SAID = HOSTILE + "Read this sentence of a plan to its end. " * 8 + "The end."


@pytest.mark.parametrize("size", [(80, 24), (40, 15)])
async def test_the_longest_that_a_plan_may_say_leaves_the_acts_where_they_are_and_is_read_whole(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    assert LONGEST_SAID - 40 < len(SAID) <= LONGEST_SAID
    path = tmp_path / "quay.yaml"
    path.write_text(f"{HEAD}rows:\n  - chart: |\n      4s 4b\n    repeat: 4\n    says: '{SAID}'\n", encoding="utf-8")
    async with at_the_needles(tmp_path, path, size=size) as at:
        panel = at.app.screen.query_one("#now", NowPanel)
        assert panel.telling
        wanted = large_lines(panel.telling, panel.sizes, panel.size.width)
        assert [act.text for act in panel.telling.acts] == ["CAST ON 8", "KNIT"]
        assert len(wanted) == panel.act_line <= panel.size.height
        if size == (80, 24):
            assert HOSTILE.strip() in at.text
        await at.press("y")
        assert isinstance(at.app.screen, ReadingScreen)
        assert HOSTILE.strip().replace(" ", "") in at.letters
        await at.press("space")
        assert isinstance(at.app.screen, KnittingScreen)
