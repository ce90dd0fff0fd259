"""Once every row is worked: what is to be done, how, and with which key; how many ends are ready is told once."""

from __future__ import annotations

from pathlib import Path

from at_the_needles import at_the_needles, on_disk
from msgspec.structs import replace

from companion.knitting.hands.steps import BindOff as BindOffStep
from companion.knitting.hands.steps import Wash


async def test_after_the_last_row_on_binds_off_and_the_ends_are_what_is_left(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=32) as at:
        await at.press("space")
        told = "Bind off 24 stitches in shell, the strand in hand, right side toward you, in pattern and not tightly:"
        assert told in at.part("now")
        assert "Then press space: it is bound off." in at.part("now")
        assert at.part("keys").startswith("space bound off")
        assert at.part("head").startswith("Row 32 of 32 6 ends ready right side toward you")
        await at.press("w")
        assert at.text.count("Every row is worked.") == 1
        await at.press("space")
        assert on_disk(tmp_path).is_bound_off
        told = "Weave in 12 ends; do not trim before the piece is washed and dry. Press space for the list of ends."
        assert told in at.part("now")
        assert at.part("keys").startswith("space list of ends")
        assert at.part("head").startswith("Row 32 of 32 11.5 of 11.5 cm high Harbour practice")
        await at.press("e", *["space", "down"] * 12, "escape")
        assert "Wash the piece as its yarns allow and dry it flat. Then press space: it is washed." in at.part("now")
        assert at.part("keys").startswith("space washed")
        await at.press("space")
        assert on_disk(tmp_path).finished == {BindOffStep, Wash}
        assert "Trim the ends, not too close to the fabric. Then press space: they are trimmed." in at.part("now")
        assert at.part("keys").startswith("space trimmed")
        await at.press("space")
        assert "Finished: bound off, every end woven in, washed and trimmed." in at.part("now")
        assert "space" not in at.part("keys").split("backspace")[0]
        await at.press("space")
        assert "The piece is finished." in at.part("end")


async def test_how_many_ends_are_ready_is_told_once_and_under_one_name(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=27) as at:
        at.app.knitter.settings = replace(at.app.settings, offer_at=4)
        await at.press("w", "space")
        assert "4 ends are ready to weave in, and the wrong side faces you: press e, or knit on." in at.part("end")
        assert at.text.count("ready") == 1
        await at.press("e")
        assert "Ends ready to weave in: 4. State" in at.text
        await at.press("escape", "space")
        assert at.part("head").startswith("Row 28 of 32 WS ──▶ 4 ends ready")
