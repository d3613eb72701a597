"""What the pages need of the place where jobs are kept."""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Protocol

from takeoff.errors import TakeoffError
from takeoff.lengths import Unit


class NoSuchJob(TakeoffError, LookupError):
    """A job that is not kept here, or no longer."""


class Stale(TakeoffError):
    """A job has been changed by someone else since it was read."""


def _new_key() -> str:
    return secrets.token_hex(6)


@dataclass(frozen=True)
class JobRow:
    """A row of a job list as it is written.

    Attributes:
        cells: texts by column; blank ones are left out.
        key: its own for as long as the row is there, wherever it is moved.
    """

    cells: Mapping[str, str]
    key: str = field(default_factory=_new_key)

    @property
    def digest(self) -> str:
        """Of what is written in it; another one after every change."""
        words = json.dumps(sorted(self.cells.items()))
        return hashlib.sha256(words.encode()).hexdigest()[:16]


@dataclass(frozen=True)
class StoredJob:
    """A job as it is kept.

    Attributes:
        id: its number here.
        name: of the job.
        unit: of bare numbers in its cells.
        rows: in their order.
        version: another one after every change.
        changed: when it was kept last.
    """

    id: int
    name: str
    unit: Unit
    rows: tuple[JobRow, ...]
    version: int
    changed: datetime

    def row(self, key: str) -> JobRow | None:
        """The row of a key; None where there is none."""
        return next((row for row in self.rows if row.key == key), None)


@dataclass(frozen=True)
class JobHead:
    """A job in the list of jobs."""

    id: int
    name: str
    rows: int
    changed: datetime


class JobStore(Protocol):
    """Where jobs are kept; every method is one transaction, and raises NoSuchJob."""

    def jobs(self) -> Sequence[JobHead]:
        """All jobs, the one changed last first."""

    def job(self, number: int) -> StoredJob:
        """One job."""

    def add(self, name: str, unit: Unit, rows: Sequence[JobRow]) -> StoredJob:
        """Keep a new job."""

    def put(self, job: StoredJob) -> StoredJob:
        """Keep a changed job. Raises Stale: `job.version` is not that of the job as it is kept."""

    def remove(self, number: int) -> None:
        """Delete a job."""


def change(store: JobStore, number: int, edit: Callable[[StoredJob], StoredJob]) -> StoredJob:
    """A job changed and kept; where someone else was quicker, changed again as it is by then."""
    while True:
        try:
            return store.put(edit(store.job(number)))
        except Stale:
            continue


def with_row(job: StoredJob, row: JobRow) -> StoredJob:
    """The job with a row in the place of the one of its key, at the end where there is none."""
    if job.row(row.key) is None:
        return replace(job, rows=(*job.rows, row))
    return replace(job, rows=tuple(row if each.key == row.key else each for each in job.rows))
