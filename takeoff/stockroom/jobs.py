"""Job lists that are kept, row by row, so that several people may write in one at a time.

Every row has a version. Who saves a row says which version he changed; where that is not the
present one, nothing is written and he gets what stands there now.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Mapping, Sequence

import sqlalchemy as sa

from takeoff.lengths import UNITS, Unit

from . import exact, steps
from .errors import ChangedMeanwhile, NotThere, Unkeepable
from .job_records import JobHead, StoredJob, StoredRow
from .plans import set_aside
from .tables import job_rows, jobs
from .transactions import Transactions

Cells = Mapping[str, str]

MOST_ROWS = 100_000


class Jobs:
    """The jobs of a stock room."""

    def __init__(self, transactions: Transactions) -> None:
        self._transactions = transactions

    def all(self) -> tuple[JobHead, ...]:
        """Every job, the one changed last first."""
        query = (
            sa.select(jobs, sa.func.count(job_rows.c.id).label("rows"))
            .outerjoin(job_rows, job_rows.c.job_id == jobs.c.id)
            .group_by(jobs.c.id)
            .order_by(jobs.c.changed.desc(), jobs.c.id.desc())
        )
        return self._transactions.read(lambda c: tuple(map(_head, c.execute(query))))

    def get(self, job: int) -> StoredJob:
        """One job with its rows. Raises NotThere."""
        return self._transactions.read(lambda c: _stored(c, job))

    def create(
        self,
        name: str,
        unit: Unit,
        rows: Sequence[StoredRow] = (),
        header: Mapping[str, str] | None = None,
    ) -> StoredJob:
        """Keep a new job; its rows begin at version 1 whatever theirs says. Raises Unkeepable."""
        exact.name(name, "name of the job")

        def work(connection: sa.Connection) -> StoredJob:
            return _stored(connection, _created(connection, name, unit, dict(header or {}), rows))

        return self._transactions.write(work)

    def copy(self, job: int, name: str) -> StoredJob:
        """Keep a job once more under another name. Raises NotThere, Unkeepable."""
        exact.name(name, "name of the job")

        def work(connection: sa.Connection) -> StoredJob:
            old = _stored(connection, job)
            return _stored(connection, _created(connection, name, old.unit, old.header, old.rows))

        return self._transactions.write(work)

    def delete(self, job: int, version: int | None = None, plans: Sequence[str] = ()) -> None:
        """Throw a job away; what plans made of it have reserved stays.

        Args:
            job: which.
            version: that it must have, if any.
            plans: keys of those that are set aside with it, for their papers go too.

        Raises:
            NotThere: no such job.
            ChangedMeanwhile: it has another version than the one that is given.
            WrongState: metal is reserved for one of the plans. Job and plans are as they were.
        """

        def work(connection: sa.Connection) -> None:
            now = _stored(connection, job)
            if version not in (None, now.version):
                raise _changed(now)
            set_aside(connection, plans)
            connection.execute(sa.delete(job_rows).where(job_rows.c.job_id == job))
            connection.execute(sa.delete(jobs).where(jobs.c.id == job))

        self._transactions.write(work)

    def rename(self, job: int, name: str, was: str | None = None) -> StoredJob:
        """Give a job another name.

        Raises:
            NotThere: no such job.
            Unkeepable: it is no name.
            ChangedMeanwhile: it is not called `was` any more, where that is given.
        """
        values = {"name": exact.name(name, "name of the job")}

        def write(connection: sa.Connection, now: StoredJob) -> None:
            if was not in (None, now.name):
                raise _changed(now)
            _write_job(connection, job, values)

        return self._change(job, write)

    def replace(self, stored: StoredJob) -> StoredJob:
        """Keep a whole job as it is given, where `stored.version` is still the present one.

        Raises:
            NotThere: no such job.
            ChangedMeanwhile: someone has changed it since.
            Unkeepable: a blank name, or a row's key given twice.
        """
        values = {
            "name": exact.name(stored.name, "name of the job"),
            "unit": stored.unit.name,
            "header": json.dumps(dict(stored.header)),
        }

        def write(connection: sa.Connection, now: StoredJob) -> None:
            if now.version != stored.version:
                raise _changed(now)
            _write_job(connection, stored.id, values)
            versions = {row.key: row for row in now.rows}
            _write_rows(connection, stored.id, [_next(row, versions) for row in stored.rows])

        return self._change(stored.id, write)

    def add_row(
        self, job: int, cells: Cells, position: int | None = None, key: str | None = None
    ) -> StoredJob:
        """Put a row in before the one at `position` (from 0), at the end for None.

        Raises:
            NotThere: no such job.
            ChangedMeanwhile: a row of that key is there already.
        """
        row = StoredRow(key or secrets.token_hex(6), dict(cells))

        def write(connection: sa.Connection, now: StoredJob) -> None:
            if now.row(row.key) is not None:
                raise ChangedMeanwhile("the row is there already.", now, now.row(row.key))
            rows = list(now.rows)
            rows.insert(len(rows) if position is None else position, row)
            _write_rows(connection, job, rows)

        return self._change(job, write)

    def save_row(self, job: int, key: str, cells: Cells, version: int) -> StoredJob:
        """Write a row anew, where it still has that version.

        Raises:
            NotThere: no such job.
            ChangedMeanwhile: someone has changed the row since, or deleted it.
        """

        def write(connection: sa.Connection, now: StoredJob) -> None:
            _expect(now, key, version)
            here = sa.and_(job_rows.c.job_id == job, job_rows.c.key == key)
            values = {"cells": _text(cells), "version": version + 1}
            connection.execute(sa.update(job_rows).where(here).values(values))

        return self._change(job, write)

    def move_row(self, job: int, key: str, position: int, version: int) -> StoredJob:
        """Bring a row to a position (from 0). Raises as `save_row`."""

        def write(connection: sa.Connection, now: StoredJob) -> None:
            row = _expect(now, key, version)
            rows = [each for each in now.rows if each.key != key]
            rows.insert(position, StoredRow(key, row.cells, version + 1))
            _write_rows(connection, job, rows)

        return self._change(job, write)

    def delete_row(self, job: int, key: str, version: int) -> StoredJob:
        """Take a row out. Raises as `save_row`."""

        def write(connection: sa.Connection, now: StoredJob) -> None:
            _expect(now, key, version)
            _write_rows(connection, job, [each for each in now.rows if each.key != key])

        return self._change(job, write)

    def _change(self, job: int, write: Callable[[sa.Connection, StoredJob], None]) -> StoredJob:
        """Let `write` change a job, and count its version up."""

        def work(connection: sa.Connection) -> StoredJob:
            now = _stored(connection, job)
            write(connection, now)
            _write_job(connection, job, {"version": now.version + 1, "changed": steps.now()})
            return _stored(connection, job)

        return self._transactions.write(work)


def _created(
    connection: sa.Connection,
    name: str,
    unit: Unit,
    header: Mapping[str, str],
    rows: Sequence[StoredRow],
) -> int:
    moment = steps.now()
    values = {
        "name": name,
        "unit": unit.name,
        "header": json.dumps(dict(header)),
        "version": 1,
        "created": moment,
        "changed": moment,
    }
    added = connection.execute(sa.insert(jobs).values(values).returning(jobs.c.id))
    job = int(added.scalar_one())
    _write_rows(connection, job, [StoredRow(row.key, row.cells) for row in rows])
    return job


def _stored(connection: sa.Connection, job: int) -> StoredJob:
    found = connection.execute(sa.select(jobs).where(jobs.c.id == job)).one_or_none()
    if found is None:
        raise NotThere("the job is not kept here, or no longer.")
    query = sa.select(job_rows).where(job_rows.c.job_id == job).order_by(job_rows.c.position)
    rows = tuple(
        StoredRow(row.key, json.loads(row.cells), row.version) for row in connection.execute(query)
    )
    return StoredJob(
        found.id,
        found.name,
        UNITS[found.unit],
        json.loads(found.header),
        rows,
        found.version,
        found.created,
        found.changed,
    )


def _head(row: sa.Row[tuple[object, ...]]) -> JobHead:
    return JobHead(
        row.id, row.name, UNITS[row.unit], row.rows, row.version, row.created, row.changed
    )


def _changed(now: StoredJob) -> ChangedMeanwhile:
    return ChangedMeanwhile("the job was changed by someone else meanwhile.", now)


def _expect(now: StoredJob, key: str, version: int) -> StoredRow:
    """The row of a key. Raises ChangedMeanwhile: it has another version, or is not there."""
    row = now.row(key)
    if row is None:
        raise ChangedMeanwhile("the row was deleted by someone else meanwhile.", now)
    if row.version != version:
        raise ChangedMeanwhile("the row was changed by someone else meanwhile.", now, row)
    return row


def _next(row: StoredRow, now: Mapping[str, StoredRow]) -> StoredRow:
    """The row with the version that it gets beside what is there."""
    old = now.get(row.key)
    if old is None:
        return StoredRow(row.key, row.cells)
    same = dict(old.cells) == dict(row.cells)
    return StoredRow(row.key, row.cells, old.version + (0 if same else 1))


def _write_job(connection: sa.Connection, job: int, values: Mapping[str, object]) -> None:
    connection.execute(sa.update(jobs).where(jobs.c.id == job).values(dict(values)))


def _write_rows(connection: sa.Connection, job: int, rows: Sequence[StoredRow]) -> None:
    """Write all rows of a job in their order."""
    if len({row.key for row in rows}) < len(rows):
        raise Unkeepable(
            "rows", len(rows), "are there, two of the same key", "Give each its own key."
        )
    if len(rows) > MOST_ROWS:
        raise Unkeepable("rows", len(rows), "are too many", f"Give up to {MOST_ROWS}.")
    connection.execute(sa.delete(job_rows).where(job_rows.c.job_id == job))
    written = [
        {
            "job_id": job,
            "key": exact.name(row.key, "key of a row"),
            "position": position,
            "cells": _text(row.cells),
            "version": row.version,
        }
        for position, row in enumerate(rows)
    ]
    steps.in_bulk(connection, job_rows, written)


def _text(cells: Cells) -> str:
    return json.dumps(dict(cells))
