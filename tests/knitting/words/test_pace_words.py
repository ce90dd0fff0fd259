"""Times and speeds as a person would say them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.words.pace import about_time, pace_told, row_time, speed, time_in_round

HOUR = 3600


@pytest.mark.parametrize(("seconds", "told"), [
    (0, "1 min"), (29, "1 min"), (89, "1 min"), (91, "2 min"), (6 * 60 + 20, "6 min"), (9.4 * 60, "9 min"),
    (9.6 * 60, "10 min"), (12 * 60, "10 min"), (13 * 60, "15 min"), (57 * 60, "55 min"), (58 * 60, "1 h"),
    (1.28 * HOUR, "1 h 20"), (2 * HOUR + 60, "2 h"), (2.95 * HOUR, "3 h"), (3.6 * HOUR, "3 h 30"),
    (4.8 * HOUR, "5 h"), (9.2 * HOUR, "9 h"), (19.4 * HOUR, "19 h"), (19.6 * HOUR, "20 h"), (23 * HOUR, "25 h"),
    (98 * HOUR, "100 h"), (123 * HOUR, "120 h"), (1234 * HOUR, "1230 h"),
])  # fmt: skip
def test_a_time_is_told_in_round_figures(seconds: float, told: str) -> None:
    assert time_in_round(seconds) == told
    assert about_time(seconds) == f"about {told}"


def minutes(told: str) -> int:
    """What was told, in minutes."""
    if told.endswith("min"):
        return int(told.removesuffix(" min"))
    hours, rest = told.split(" h")
    return 60 * int(hours) + int(rest or 0)


@given(st.floats(60, 10**7), st.floats(60, 10**7))
def test_what_takes_longer_is_never_told_as_shorter_and_no_time_is_an_eighth_off(one: float, other: float) -> None:
    shorter, longer = sorted((one, other))
    assert minutes(time_in_round(shorter)) <= minutes(time_in_round(longer))
    if one >= 5 * 60:
        assert minutes(time_in_round(one)) * 60 == pytest.approx(one, rel=0.25)


@pytest.mark.parametrize(("an_hour", "told"), [
    (3, "10"), (344, "340"), (496, "500"), (1234, "1200"), (812, "800"), (830, "850"), (7200, "7200"),
])  # fmt: skip
def test_a_speed_is_told_in_round_figures(an_hour: float, told: str) -> None:
    assert speed(an_hour) == f"{told} stitches an hour"


def test_it_says_about_and_which_row() -> None:
    assert pace_told(380, 9.2 * HOUR, 1234, False, False, False) == (
        "About 6 min to the end of this row, about 9 h left, 1200 stitches an hour.",
        "About 6 min to the end of this row, about 9 h left.",
    )
    assert pace_told(1500, 4800, 1234, True, False, True) == (
        "About 25 min for the next round, about 1 h 20 left, 1200 stitches an hour.",
        "About 25 min for the next round, about 1 h 20 left.",
    )
    assert pace_told(380, 380, 1234, True, True, False) == (
        "About 6 min for the last row, 1200 stitches an hour.", "About 6 min for the last row.",
    )
    assert pace_told(380, 380, 1234, False, True, False) == (
        "About 6 min to the end of this row, 1200 stitches an hour.", "About 6 min to the end of this row.",
    )
    assert row_time(380, is_next=False, is_last=False, is_round=True) == "About 6 min to the end of this round."
