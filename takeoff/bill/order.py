"""The sheets that a job takes, by metal, gauge and size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from takeoff.layouts import Layout
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT, SheetMetal
from takeoff.stock import StockItem

from .money import exactly


@dataclass(frozen=True)
class OrderLine:
    """Sheets of one metal and size.

    Attributes:
        metal: material and gauge.
        item: the stock they are.
        width: inches.
        length: inches; of a coil the length to draw.
        qty: how many.
        unit_cost: of one.
    """

    metal: SheetMetal
    item: StockItem
    width: Fraction
    length: Fraction
    qty: int
    unit_cost: Fraction

    @property
    def cost(self) -> Fraction:
        """Of all of them."""
        return self.qty * self.unit_cost

    @property
    def weight(self) -> Fraction:
        """Of all of them, lb."""
        square_feet = self.width * self.length / SQUARE_INCHES_IN_A_SQUARE_FOOT
        return self.qty * square_feet * self.metal.weight


def order(layouts: Iterable[Layout]) -> tuple[OrderLine, ...]:
    """One line for each metal, gauge and size, in the order they first occur."""
    lines: dict[tuple[object, ...], OrderLine] = {}
    for layout in layouts:
        key = layout.metal, layout.item.name, layout.length
        before = lines[key].qty if key in lines else 0
        lines[key] = OrderLine(
            layout.metal,
            layout.item,
            layout.width,
            layout.length,
            before + layout.count,
            exactly(layout.cost),
        )
    return tuple(lines.values())
