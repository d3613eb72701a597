"""Telling the least length that would be allowed, so that what a tape reads is allowed too."""

from __future__ import annotations

from fractions import Fraction

from takeoff.lengths import (
    INCH,
    TENTH_MILLIMETRES,
    Grid,
    Length,
    Unit,
    from_grid,
    show_with_unit,
    to_grid,
)

SIXTEENTHS = Grid(Fraction(16))


def at_least(value: Length, unit: Unit) -> str:
    """The next sixteenth of an inch, or tenth of a millimetre, not below the value (in)."""
    grid = SIXTEENTHS if unit == INCH else TENTH_MILLIMETRES
    return show_with_unit(from_grid(to_grid(value, grid), grid), unit)
