"""Job lists as they are kept: plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from takeoff.lengths import Unit


@dataclass(frozen=True)
class StoredRow:
    """A row of a kept job.

    Attributes:
        key: its own for as long as the row is there, wherever it is moved.
        cells: texts by column, as they were written.
        version: one more after every change.
    """

    key: str
    cells: Mapping[str, str]
    version: int = 1


@dataclass(frozen=True)
class JobHead:
    """A job in the list of jobs; `rows`: how many."""

    id: int
    name: str
    unit: Unit
    rows: int
    version: int
    created: datetime
    changed: datetime


@dataclass(frozen=True)
class StoredJob:
    """A job list as it is kept.

    Attributes:
        id: its number here.
        name: of the job.
        unit: of bare numbers in its cells.
        header: other settings of the list.
        rows: in their order.
        version: one more after every change of the job or of any row.
        created: when, UTC.
        changed: when last, UTC.
    """

    id: int
    name: str
    unit: Unit
    header: Mapping[str, str]
    rows: tuple[StoredRow, ...]
    version: int
    created: datetime
    changed: datetime

    def row(self, key: str) -> StoredRow | None:
        """The row of a key; None where there is none."""
        return next((row for row in self.rows if row.key == key), None)
