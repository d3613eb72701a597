"""A job back to a job list, as `read_csv` reads it."""

from __future__ import annotations

import csv
import io

from .card_text import filled_in
from .cells import text
from .columns import AIR
from .job import Job, JobLine
from .table import Table, job_table


def write_csv(job: Job) -> str:
    """The text of a job list that reads back as the same job, row numbers apart.

    Columns at their default are left blank. A text that a spreadsheet would take for a formula has
    an apostrophe in front.
    """
    return csv_text(job_table(job.name, job.unit, [cells(line, job) for line in job.lines]))


def csv_text(table: Table) -> str:
    """A table as CSV."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows(table)
    return out.getvalue()


def cells(line: JobLine, job: Job) -> dict[str, str]:
    """What stands in a line's row, by column."""
    return {
        "mark": line.mark,
        "fitting": line.fitting.kind,
        "qty": str(line.qty),
        "material": line.metal.material,
        "gauge": str(line.metal.gauge),
        AIR: _air(line),
        "note": line.note,
        **filled_in(line.fitting, job.unit),
    }


def _air(line: JobLine) -> str:
    if line.cfm is None:
        return ""
    return " ".join(filter(None, (text(line.cfm), line.air_side)))
