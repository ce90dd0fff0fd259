"""Contrast of two colours by the formula of the Web Content Accessibility Guidelines, written down from its text."""

from __future__ import annotations

from collections.abc import Sequence

LEAST = 4.5
"""Of text and its ground (W3C, WCAG 2.2, success criterion 1.4.3, level AA)."""

HIGH = 7.0
"""The same for a theme of high contrast (success criterion 1.4.6, level AAA)."""


def contrast(one: Sequence[int], other: Sequence[int]) -> float:
    """(L1 + 0.05) / (L2 + 0.05), L1 the lighter one's relative luminance (W3C, WCAG 2.2, "contrast ratio"); channels
    from 0 to 255."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: Sequence[int]) -> float:
    """W3C, WCAG 2.2, "relative luminance"."""
    shares = (channel / 255 for channel in colour)
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
