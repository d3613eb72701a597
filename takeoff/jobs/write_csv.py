"""A job back to a job list, as `read_csv` reads it."""

from __future__ import annotations

import csv
import io

from .card_text import filled_in
from .cells import guarded, text
from .columns import AIR, FIXED
from .heading import REMARK
from .job import Job, JobLine


def write_csv(job: Job) -> str:
    """The text of a job list that reads back as the same job, row numbers apart.

    Columns at their default are left blank. A text that a spreadsheet would take for a formula has
    an apostrophe in front.
    """
    cards = [filled_in(line.fitting, job.unit) for line in job.lines]
    dimensions = list(dict.fromkeys(name for card in cards for name in card))
    *first, last = (name for name in FIXED if name != AIR or _tells_air(job))
    columns = [*first, *dimensions, last]
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow([f"{REMARK} job = {job.name}"])
    rows.writerow([f"{REMARK} units = {job.unit.name}"])
    rows.writerow(columns)
    for line, card in zip(job.lines, cards, strict=True):
        cells = card | _fixed(line)
        rows.writerow([guarded(cells.get(column, "")) for column in columns])
    return out.getvalue()


def _tells_air(job: Job) -> bool:
    return any(line.cfm is not None for line in job.lines)


def _air(line: JobLine) -> str:
    if line.cfm is None:
        return ""
    return " ".join(filter(None, (text(line.cfm), line.air_side)))


def _fixed(line: JobLine) -> dict[str, str]:
    return {
        "mark": line.mark,
        "fitting": line.fitting.kind,
        "qty": str(line.qty),
        "material": line.metal.material,
        "gauge": str(line.metal.gauge),
        AIR: _air(line),
        "note": line.note,
    }
