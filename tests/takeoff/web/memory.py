"""Jobs kept in memory, for tests that are not about where they are kept."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from itertools import count
from threading import Lock

from takeoff.lengths import Unit
from takeoff.web.store import JobHead, JobRow, NoSuchJob, Stale, StoredJob


class MemoryJobs:
    def __init__(self) -> None:
        self._jobs: dict[int, StoredJob] = {}
        self._numbers = count(1)
        self._lock = Lock()

    def jobs(self) -> Sequence[JobHead]:
        kept = sorted(self._jobs.values(), key=lambda job: job.changed, reverse=True)
        return [JobHead(job.id, job.name, len(job.rows), job.changed) for job in kept]

    def job(self, number: int) -> StoredJob:
        if number not in self._jobs:
            raise NoSuchJob("This job is not here, or no longer.")
        return self._jobs[number]

    def add(self, name: str, unit: Unit, rows: Sequence[JobRow]) -> StoredJob:
        job = StoredJob(next(self._numbers), name, unit, tuple(rows), 1, datetime.now(UTC))
        self._jobs[job.id] = job
        return job

    def put(self, job: StoredJob) -> StoredJob:
        with self._lock:
            if self.job(job.id).version != job.version:
                raise Stale("changed by someone else")
            kept = replace(job, version=job.version + 1, changed=datetime.now(UTC))
            self._jobs[job.id] = kept
            return kept

    def remove(self, number: int) -> None:
        self.job(number)
        del self._jobs[number]
