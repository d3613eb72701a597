"""The rows of a stored job, read by the reader of job lists."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.errors import Fault, JobFaults
from takeoff.jobs.cells import text
from takeoff.jobs.job import Job, JobLine
from takeoff.jobs.rows import raw_list, read_rows
from takeoff.jobs.table import ABOVE, Table, job_table
from takeoff.lengths import INCH, Unit
from takeoff.settings import Code
from takeoff.stockroom import StoredJob, StoredRow

from .rows import Cells, new_row

UNNAMED = "Job"
"""What a list is called that neither says nor has a name."""


@dataclass(frozen=True)
class ReadJob:
    """A stored job as it reads.

    Attributes:
        job: None where no row is sound.
        lines: the sound rows by their keys.
        faults: what the reader has against the others.
    """

    job: Job | None
    lines: Mapping[str, JobLine]
    faults: tuple[Fault, ...]


@dataclass(frozen=True)
class ReadRow:
    """A row as it reads: its line, or all that is wrong with it."""

    line: JobLine | None
    faults: tuple[Fault, ...]


def row_number(place: int) -> int:
    """The number of a row (counted from 0) as its list has it when it is exported."""
    return place + ABOVE + 1


def place_of(job: StoredJob, fault: Fault) -> StoredRow | None:
    """The row that a fault is about; None for the list as a whole."""
    place = (fault.row or 0) - ABOVE - 1
    return job.rows[place] if 0 <= place < len(job.rows) else None


def table_of(job: StoredJob) -> Table:
    """The job as a table, as it is exported."""
    return job_table(job.name, job.unit, [row.cells for row in job.rows])


def read_stored(job: StoredJob, code: Code) -> ReadJob:
    """The whole job; a job without rows has no faults either."""
    faults: tuple[Fault, ...] = ()
    table = table_of(job)
    if not job.rows:
        return ReadJob(None, {}, ())
    try:
        read = read_rows(table, job.name, job.unit, code=code)
    except JobFaults as error:
        faults = error.faults
        wrong = {fault.row for fault in faults}
        # a row that is left blank keeps the numbers of the others
        sound = [[] if number in wrong else row for number, row in enumerate(table, 1)]
        if None in wrong or len(wrong) == len(job.rows):
            return ReadJob(None, {}, faults)
        try:
            read = read_rows(sound, job.name, job.unit, code=code)
        except JobFaults:
            return ReadJob(None, {}, faults)
    keys = {row_number(place): row.key for place, row in enumerate(job.rows)}
    return ReadJob(read, {keys[line.row]: line for line in read.lines}, faults)


def read_row(job: StoredJob, row: StoredRow, code: Code) -> ReadRow:
    """A row as it would read among the others, of which only the marks are looked at.

    It is read below them, so that a mark that is taken is told of it and of no other.
    """
    others: list[Cells] = [
        {} if each.key == row.key else {"mark": each.cells.get("mark", "")} for each in job.rows
    ]
    number = row_number(len(others))
    try:
        read_rows(job_table(job.name, job.unit, [*others, row.cells]), code=code)
    except JobFaults as error:
        if mine := tuple(fault for fault in error.faults if fault.row == number):
            return ReadRow(None, mine)
    return read_alone(job, row, code)


def read_alone(job: StoredJob, row: StoredRow, code: Code) -> ReadRow:
    """A row as it reads with nothing beside it."""
    try:
        (line,) = read_rows(job_table(job.name, job.unit, [row.cells]), code=code).lines
    except JobFaults as error:
        return ReadRow(None, error.faults)
    return ReadRow(line, ())


def cells_from(written: Mapping[str, object]) -> dict[str, str]:
    """What was filled in, as the cells of a row; blank ones left out."""
    cells = {name: text(value) for name, value in written.items()}
    return {name: cell for name, cell in cells.items() if cell}


def imported(
    table: Sequence[Sequence[object]], name: str, source: str, code: Code, unit: Unit = INCH
) -> tuple[str, Unit, tuple[StoredRow, ...]]:
    """Name, unit and rows of a job list that is sound.

    Raises:
        JobFaults: all that is wrong with it.
    """
    read_rows(table, name, unit, source, code)
    raw = raw_list(table, unit)
    return (
        raw.name or text(name) or UNNAMED,
        raw.unit,
        tuple(new_row(cells) for _, cells in raw.rows),
    )
