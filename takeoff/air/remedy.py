"""What size would do, as a sentence: the larger side or the diameter grown by whole steps."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from takeoff.lengths import INCH, MILLIMETRE, Length, Unit, show

from .flow import area, friction, round_area, round_equivalent
from .passages import Passage

LARGEST = 120
"""Inches; past that another duct is wanted, not a larger one."""

FLATTEST = 4
"""Width to height; flatter duct is advised against (trade cards)."""

_SPLIT = "Make it deeper, or share the air out over more than one."


def for_area(place: Passage, factor: float, unit: Unit) -> str:
    """A size with so many times the area."""
    wanted = place.area * factor

    def enough(size: tuple[float, ...]) -> bool:
        # A hair of slack: a size that is exactly enough is enough.
        return (round_area(*size) if len(size) == 1 else area(*size)) >= wanted * (1 - 1e-9)

    return _sentence(place, enough, unit)


def for_friction(place: Passage, cfm: float, limit: float, unit: Unit) -> str:
    """A size of duct that takes no more than so much pressure, in w.g. per 100 ft."""

    def enough(size: tuple[float, ...]) -> bool:
        return friction(cfm, size[0] if len(size) == 1 else round_equivalent(*size)) <= limit

    return _sentence(place, enough, unit)


def _sentence(place: Passage, enough: Callable[[tuple[float, ...]], bool], unit: Unit) -> str:
    """The first size that is enough: the larger side of a rectangle, or the diameter, grows."""
    if place.diameter is not None:
        for size in _steps(place.diameter, unit):
            if enough((float(size),)):
                return f"{show(size, unit)} {unit.name} round would do."
        return _SPLIT
    width, height = place.width or Fraction(0), place.height or Fraction(0)
    for size in _steps(max(width, height), unit):
        new = (size, height) if width >= height else (width, size)
        if max(new) > FLATTEST * min(new):
            break
        if enough((float(new[0]), float(new[1]))):
            return f"{show(new[0], unit)} x {show(new[1], unit)} {unit.name} would do."
    return _SPLIT


def _steps(start: Length, unit: Unit) -> list[Fraction]:
    """Whole inches, or centimetres in a metric job, from above a size to the largest."""
    step = Fraction(1) if unit == INCH else 10 * MILLIMETRE.inches
    first = math.floor(start / step) + 1
    return [step * count for count in range(first, math.floor(LARGEST / step) + 1)]
