"""order.csv: the sheets to buy."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.bill.order import OrderLine
from takeoff.lengths import Unit
from takeoff.sizes import side

from .cells import Cell, table
from .contents import Contents

NAME = "order.csv"
COLUMNS = (
    "material",
    "gauge",
    "stock",
    "width_in",
    "length_in",
    "width",
    "length",
    "qty",
    "unit_cost",
    "cost",
    "weight_lb",
)


def order_csv(contents: Contents) -> str:
    """One row for each metal, gauge and size; cost and weight are of the row's whole quantity."""
    return table(COLUMNS, rows(contents))


def rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The rows as they are, by column."""
    unit = contents.plan.job.unit
    yield from (row(line, unit) for line in contents.order)


def row(line: OrderLine, unit: Unit) -> dict[str, Cell]:
    """One line of an order, by column."""
    return {
        "material": line.metal.material,
        "gauge": line.metal.gauge,
        "stock": line.item.name,
        "width_in": line.width,
        "length_in": line.length,
        "width": side(line.width, unit),
        "length": side(line.length, unit),
        "qty": line.qty,
        "unit_cost": line.unit_cost,
        "cost": line.cost,
        "weight_lb": line.weight,
    }
