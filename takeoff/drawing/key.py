"""Samples of the kinds of line on a flat pattern."""

from __future__ import annotations

from . import theme
from .primitives import Drawing, Lines, Pen

SAMPLE = (48.0, 8.0)
"""Points."""


def samples() -> dict[str, Drawing]:
    """A short line of each kind: up, down, formed, cross."""
    pens = {
        "up": theme.BEND_UP,
        "down": theme.BEND_DOWN,
        "formed": theme.FORMED,
        "cross": theme.CROSS_BREAK,
    }
    return {name: _sample(pen, name) for name, pen in pens.items()}


def _sample(pen: Pen, name: str) -> Drawing:
    middle = SAMPLE[1] / 2
    line = Lines((((0.0, middle), (SAMPLE[0], middle)),), pen)
    return Drawing((0.0, 0.0), SAMPLE, 1.0, (line,), f"sample: {name}")
