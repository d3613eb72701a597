"""The sheets that a job takes, by metal, gauge and size: those to order, and those in the shop."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from takeoff.layouts import Layout
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT, SheetMetal
from takeoff.stock import StockItem
from takeoff.supply import RackPiece, Supply

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
        unit_cost: of one; of what the shop has, its worth.
        pieces: off the rack, one for each of `qty`.
    """

    metal: SheetMetal
    item: StockItem
    width: Fraction
    length: Fraction
    qty: int
    unit_cost: Fraction
    pieces: tuple[RackPiece, ...] = ()

    @property
    def cost(self) -> Fraction:
        """Of all of them."""
        return self.qty * self.unit_cost

    def of(self, piece: RackPiece) -> OrderLine:
        """The line for one of its pieces."""
        return replace(self, qty=1, pieces=(piece,))

    @property
    def weight(self) -> Fraction:
        """Of all of them, lb."""
        square_feet = self.width * self.length / SQUARE_INCHES_IN_A_SQUARE_FOOT
        return self.qty * square_feet * self.metal.weight


def order(layouts: Iterable[Layout]) -> tuple[OrderLine, ...]:
    """What must be bought: a line for each metal, gauge and size, in the order they first occur."""
    return _lines(layout for layout in layouts if layout.item.supply is Supply.BUY)


def from_stock(layouts: Iterable[Layout]) -> tuple[OrderLine, ...]:
    """What the shop has: offcuts off the rack and sheets on hand, as `order` lists the others."""
    return _lines(layout for layout in layouts if layout.item.supply is not Supply.BUY)


def _lines(layouts: Iterable[Layout]) -> tuple[OrderLine, ...]:
    lines: dict[tuple[object, ...], OrderLine] = {}
    for layout in layouts:
        key = layout.metal, layout.item.name, layout.length
        before = lines.get(key)
        lines[key] = OrderLine(
            layout.metal,
            layout.item,
            layout.width,
            layout.length,
            layout.count + (before.qty if before else 0),
            exactly(layout.cost),
            (*(before.pieces if before else ()), *layout.pieces),
        )
    return tuple(lines.values())
