"""hardware.csv: what the job needs beside its sheets."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.bill.counted import HardwareLine

from .cells import Cell, table
from .contents import Contents

NAME = "hardware.csv"
COLUMNS = ("what", "detail", "qty", "unit", "unit_cost", "cost", "why")


def hardware_csv(contents: Contents) -> str:
    """One row for each thing and size; the costs are blank where no price is known."""
    return table(COLUMNS, rows(contents))


def rows(contents: Contents) -> Iterator[dict[str, Cell]]:
    """The rows as they are, by column."""
    yield from (_row(line) for line in contents.bill.hardware)


def _row(line: HardwareLine) -> dict[str, Cell]:
    return {
        "what": line.what,
        "detail": line.detail,
        "qty": line.qty,
        "unit": line.unit,
        "unit_cost": line.unit_cost,
        "cost": line.cost,
        "why": line.why,
    }
