"""Where the metal goes: blanks, offcuts and scrap add up to the stock, exactly."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from takeoff.layouts import Layout
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT


@dataclass(frozen=True)
class Weights:
    """Pounds of metal.

    Attributes:
        stock: of the sheets as they are bought.
        blanks: of the blanks' rectangles as they are cut.
        offcuts: of what is worth keeping.
        scrap: of the rest: leftovers, trim and kerf.
    """

    stock: Fraction = Fraction(0)
    blanks: Fraction = Fraction(0)
    offcuts: Fraction = Fraction(0)
    scrap: Fraction = Fraction(0)

    def __add__(self, other: Weights) -> Weights:
        return Weights(
            self.stock + other.stock,
            self.blanks + other.blanks,
            self.offcuts + other.offcuts,
            self.scrap + other.scrap,
        )


def weights(layouts: Iterable[Layout]) -> Weights:
    """Of all the sheets that are cut in these ways."""
    return sum((_weights(layout) for layout in layouts), Weights())


def scrap_by_metal(layouts: Iterable[Layout]) -> dict[str, Fraction]:
    """Pounds of scrap of every metal that is cut."""
    found: dict[str, Fraction] = {}
    for layout in layouts:
        metal = layout.metal.material
        found[metal] = found.get(metal, Fraction(0)) + weights([layout]).scrap
    return found


def _weights(layout: Layout) -> Weights:
    per_square_inch = layout.count * layout.metal.weight / SQUARE_INCHES_IN_A_SQUARE_FOOT
    areas = layout.area, layout.parts_area, layout.offcuts_area, layout.scrap_area
    return Weights(*(area * per_square_inch for area in areas))
