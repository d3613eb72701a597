"""A job list as a table of texts: heading, titles and rows, ready for `read_rows` or a file.

A text that a spreadsheet would take for a formula has an apostrophe in front; see `.cells`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.lengths import Unit

from .cells import guarded
from .columns import AIR, FIXED
from .heading import REMARK

Table = list[list[str]]

ABOVE = 3
"""Rows above the first fitting: the job, its unit, the titles."""


def job_table(name: str, unit: Unit, rows: Sequence[Mapping[str, str]]) -> Table:
    """The table that says a job.

    Args:
        name: of the job.
        unit: of bare numbers.
        rows: the cells of each by column; blank ones may be left out.
    """
    told = list(dict.fromkeys(column for row in rows for column, cell in row.items() if cell))
    dimensions = [column for column in told if column not in FIXED]
    *first, last = (column for column in FIXED if column != AIR or AIR in told)
    columns = [*first, *dimensions, last]
    return [
        [f"{REMARK} job = {name}"],
        [f"{REMARK} units = {unit.name}"],
        columns,
        *([guarded(row.get(column, "")) for column in columns] for row in rows),
    ]
