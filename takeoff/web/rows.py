"""Rows of a job as the pages write them: what was changed meanwhile is never written over."""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Callable, Mapping

from takeoff.stockroom import ChangedMeanwhile, StoredJob, StoredRow

Cells = Mapping[str, str]
Write = Callable[[StoredJob, StoredRow], StoredJob]
"""Writes a row of a job as it is now; raises ChangedMeanwhile where it no longer is."""


class OthersWere(Exception):
    """A row is no longer what the form was opened with.

    Attributes:
        job: as it is now.
        row: as it is now; None where it was deleted.
    """

    def __init__(self, job: StoredJob, row: StoredRow | None) -> None:
        self.job = job
        self.row = row
        super().__init__("the row was changed by someone else meanwhile")


def new_row(cells: Cells) -> StoredRow:
    """A row with a key of its own."""
    return StoredRow(secrets.token_hex(6), dict(cells))


def digest(row: StoredRow) -> str:
    """Of what is written in a row, wherever it stands; another one after every change."""
    words = json.dumps(sorted(row.cells.items()))
    return hashlib.sha256(words.encode()).hexdigest()[:16]


def on_row(job: StoredJob, key: str, write: Write, base: str | None = None) -> StoredJob:
    """The job after a row of it was written, done anew where someone else was quicker.

    Args:
        job: as it was read.
        key: of the row.
        write: does it.
        base: what `digest` must give of the row; None: whatever is in it.

    Raises:
        OthersWere: it is not there, or something else is in it.
    """
    while True:
        row = job.row(key)
        if row is None or (base is not None and digest(row) != base):
            raise OthersWere(job, row)
        try:
            return write(job, row)
        except ChangedMeanwhile as error:
            job = error.job
