"""Tables of sheet layouts, shop time and costs, by column."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from takeoff.bill.money import exactly
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT

from .cells import Cell
from .contents import Contents

SHEET_COLUMNS = (
    "layout",
    "times",
    "material",
    "gauge",
    "stock",
    "width_in",
    "length_in",
    "unit_cost",
    "cost",
    "weight_lb",
    "used_percent",
    "blanks",
    "cuts",
    "offcuts",
    "from",
    "pieces",
)
WORK_COLUMNS = ("what", "qty", "unit", "minutes_each", "minutes")
COST_COLUMNS = ("what", "amount", "why")
TOTAL = "total"


def sheet_rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """One row for each way a sheet is cut; cost and weight are of all the sheets cut so."""
    for layout in contents.layouts:
        cost = exactly(layout.cost)
        square_feet = layout.area / SQUARE_INCHES_IN_A_SQUARE_FOOT
        yield {
            "layout": layout.number,
            "times": layout.count,
            "material": layout.metal.material,
            "gauge": layout.metal.gauge,
            "stock": layout.item.name,
            "width_in": layout.width,
            "length_in": layout.length,
            "unit_cost": cost,
            "cost": layout.count * cost,
            "weight_lb": layout.count * square_feet * layout.metal.weight,
            "used_percent": Fraction(100) * layout.parts_area / layout.area,
            "blanks": len(layout.parts),
            "cuts": len(layout.cuts),
            "offcuts": ", ".join(offcut.label for offcut in layout.offcuts),
            "from": str(layout.item.supply),
            "pieces": ", ".join(piece.told for piece in layout.pieces),
        }


def work_rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """One row for each kind of operation; minutes are blank where the shop has no rate."""
    for line in contents.bill.work:
        yield {
            "what": line.what,
            "qty": line.qty,
            "unit": line.unit,
            "minutes_each": line.each,
            "minutes": line.minutes,
        }


def cost_rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The sums of the bill, their total, and what is not in it."""
    bill = contents.bill
    for line in bill.lines:
        yield {"what": line.what, "amount": line.amount, "why": line.why}
    yield {"what": TOTAL, "amount": bill.total, "why": "all of the above"}
    for sentence in bill.missing:
        yield {"what": "not in the total", "amount": None, "why": sentence}
