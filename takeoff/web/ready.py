"""A stored job as work is started on it: read, or all that the reader has against it."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.jobs.job import Job
from takeoff.stockroom import StoredJob

from .reading import ReadJob, place_of


@dataclass(frozen=True)
class Ready:
    """A job as it reads.

    Attributes:
        job: None where it has no sound row.
        faults: sentences, and where each can be mended, "" for the list as a whole; with any of
            them no work is started.
    """

    job: Job | None
    faults: tuple[tuple[str, str], ...]


def ready(stored: StoredJob, read: ReadJob) -> Ready:
    """What a job that was read comes to; whether it can be made is for the work to find out."""
    if not stored.rows:
        return Ready(None, (("Nothing is measured yet.", f"/jobs/{stored.id}/add"),))
    rows = [place_of(stored, fault) for fault in read.faults]
    faults = [
        (str(fault), f"/jobs/{stored.id}/rows/{row.key}" if row else "")
        for fault, row in zip(read.faults, rows, strict=True)
    ]
    return Ready(read.job, tuple(faults))
