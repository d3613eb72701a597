"""Cells of the tables we write: numbers plain and exact enough to add up, text that stays text."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from takeoff.jobs.cells import guarded
from takeoff.lengths import Length, Unit, show_exactly

Cell = str | int | float | Fraction | bool | None

DECIMALS = 6
"""Of a number in a table: 1/64 in is exact in six."""


def written(cell: Cell) -> str:
    """A cell as the CSV holds it."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, str):
        return guarded(cell)
    if isinstance(cell, int):
        return str(cell)
    return f"{float(cell):.{DECIMALS}f}".rstrip("0").rstrip(".")


def tape(length: Length, unit: Unit) -> str:
    """A length as a tape reads it. With its unit, or a spreadsheet makes a date of 1/2."""
    return f"{show_exactly(length, unit)} {unit.name}"


def table(columns: Sequence[str], rows: Iterable[Mapping[str, Cell]]) -> str:
    """A CSV text; every row must have every column. Raises ValueError for one too many."""
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, lineterminator="\r\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({name: written(row[name]) for name in row})
    return out.getvalue()
