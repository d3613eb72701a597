"""A QR code (ISO/IEC 18004) as marks: any phone reads it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from .primitives import Area, Spot, rectangle

QUIET = 4
"""Modules kept white all round; the standard asks for four."""
RECOVERY = "m"
"""Level of error correction: 15 % of the code may be dirty."""


def modules(text: str) -> list[list[bool]]:
    """The code for a text, row by row from the top; True is dark, the quiet zone left out."""
    import segno  # noqa: PLC0415 - slow to import

    code = segno.make(text, error=RECOVERY, micro=False, boost_error=False)
    return [[bool(module) for module in row] for row in code.matrix]


def qr_marks(text: str, low: Spot, side: float) -> Iterator[Area]:
    """The code in a square, its quiet zone included; dark modules side by side are one mark.

    Args:
        text: what a reader shows.
        low: lower left corner of the square.
        side: of the square, in the drawing's unit.
    """
    rows = modules(text)
    step = side / (len(rows) + 2 * QUIET)
    for number, row in enumerate(rows):
        top = low[1] + side - (number + QUIET) * step
        at = QUIET
        for dark, run in groupby(row):
            many = len(list(run))
            if dark:
                left = low[0] + at * step
                yield Area(rectangle((left, top - step), (left + many * step, top)), 0.0)
            at += many
