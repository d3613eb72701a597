"""from_stock.csv: what the job takes of the shop's own, off the rack and of the sheets on hand."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.bill.order import OrderLine
from takeoff.lengths import Unit
from takeoff.supply import RackPiece

from .cells import Cell, table
from .contents import Contents
from .order_csv import COLUMNS as ORDER_COLUMNS
from .order_csv import row

NAME = "from_stock.csv"
COLUMNS = ("from", "label", "place", *ORDER_COLUMNS)


def from_stock_csv(contents: Contents) -> str:
    """One row for each offcut and each size of sheet; columns as in order.csv after the first."""
    return table(COLUMNS, rows(contents))


def rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The rows as they are, by column."""
    unit = contents.plan.job.unit
    for line in contents.from_stock:
        for piece, part in pieces(line):
            yield _row(piece, part, unit)


def pieces(line: OrderLine) -> Iterator[tuple[RackPiece | None, OrderLine]]:
    """The line for each piece off the rack by itself; sheets on hand stay one line."""
    if not line.pieces:
        yield None, line
    for piece in line.pieces:
        yield piece, line.of(piece)


def _row(piece: RackPiece | None, line: OrderLine, unit: Unit) -> dict[str, Cell]:
    where: dict[str, Cell] = {
        "from": str(line.item.supply),
        "label": piece.label if piece else None,
        "place": piece.place if piece else None,
    }
    return where | row(line, unit)
