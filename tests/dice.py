"""Bytes that decide what is drawn, cell by cell, in random charts."""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st


@st.composite
def dice(draw: st.DrawFn, number: int) -> bytes:
    """So many, of every kind: bytes alone are drawn all alike more often than not, and a chart would have one yarn.
    When an example is made smaller, the seed goes first, and then they become plain."""
    plain, seed = draw(st.binary(min_size=number, max_size=number)), draw(st.integers(0, 2**16))
    if not seed:
        return plain
    return bytes(one ^ other for one, other in zip(plain, Random(seed).randbytes(number), strict=True))
