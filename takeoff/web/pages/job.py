"""One job: its fittings, what is wrong with them, and their order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from starlette.responses import Response

from takeoff.blanks import MadeLine, make_job
from takeoff.errors import Fault, JobFaults
from takeoff.findings import findings
from takeoff.fittings import Shop
from takeoff.jobs.card_text import for_the_bench
from takeoff.jobs.job import JobLine
from takeoff.lengths import Unit
from takeoff.stockroom import StoredJob, StoredRow
from takeoff.uncut import beyond_shear
from takeoff.web.asking import Ask, get, post
from takeoff.web.fields import label, measured, sentence
from takeoff.web.making import made
from takeoff.web.marks import next_mark
from takeoff.web.paging import paged
from takeoff.web.reading import place_of, row_number
from takeoff.web.rows import OthersWere, digest, new_row, on_row
from takeoff.web.showing import go, show, tell

A_PAGE = 60
"""Rows that one page shows."""


@dataclass(frozen=True)
class RowView:
    """A row as it is shown.

    Attributes:
        row: as it is kept.
        number: as the exported list has it.
        sizes: label and value of what is measured of its fitting.
        metal: what it is made of.
        qty: how many alike.
        faults: what the reader has against it.
        drawn: address of its picture; "" where it cannot be read.
        up: whether it can be moved up, and so down.
    """

    row: StoredRow
    number: int
    sizes: tuple[tuple[str, str], ...]
    metal: str
    qty: str
    faults: tuple[str, ...]
    drawn: str
    up: bool
    down: bool


def whole(ask: Ask) -> Response:
    """The job with its fittings, a page of them at a time."""
    job = ask.desk.jobs.get(ask.number("job"))
    read = ask.desk.reading(job, ask.shop)
    paging = paged(ask, len(job.rows), A_PAGE)
    rows = [_row(ask, job, place, read.lines, read.faults) for place in paging.places]
    count = sum(line.qty for line in read.lines.values())
    return show(
        ask,
        "job.html",
        job=job,
        rows=rows,
        faults=[_told(job, fault) for fault in read.faults],
        paging=paging,
        count=count,
    )


def check(ask: Ask) -> Response:
    """What cannot be made, does not join, or is advised against; for a part of the job's page."""
    job = ask.desk.jobs.get(ask.number("job"))
    shop = ask.shop
    read = ask.desk.reading(job, shop)
    faults: Sequence[Fault] = ()
    said: tuple[str, ...] = ()
    uncut: tuple[str, ...] = ()
    blanks = 0
    if read.job is not None:

        def make(line: JobLine, _: Shop) -> MadeLine:
            return made(ask.desk, shop, line, job.unit)

        try:
            lines = make_job(read.job, shop.profile, shop.sizes, make=make)
            blanks = sum(blank.qty for line in lines for blank in line.blanks)
            uncut = tuple(beyond_shear(read.job, lines, shop.stock, shop.profile))
        except JobFaults as error:
            faults = error.faults
        said = (*read.job.assumed, *findings(read.job, shop.profile))
    told = [_told(job, fault) for fault in faults]
    name = "parts/check.html" if ask.fragment else "check.html"
    return show(
        ask,
        name,
        job=job,
        faults=told,
        uncut=[(sentence, "") for sentence in uncut],
        said=said,
        blanks=blanks,
        unread=len(read.faults),
    )


def move(ask: Ask) -> Response:
    """A row one place up or down."""
    key, by = ask.part("row"), -1 if ask.text("_way") == "up" else 1

    def moved(job: StoredJob, row: StoredRow) -> StoredJob:
        place = job.rows.index(row) + by
        if not 0 <= place < len(job.rows):
            return job
        return ask.desk.jobs.move_row(job.id, key, place, row.version)

    try:
        on_row(ask.desk.jobs.get(ask.number("job")), key, moved)
    except OthersWere:
        return _gone(ask)
    return go(ask, _here(ask, key))


def copy(ask: Ask) -> Response:
    """A row once more, below it, under the next mark that is free."""
    job = ask.desk.jobs.get(ask.number("job"))
    row = job.row(ask.part("row"))
    if row is None:
        return _gone(ask)
    new = new_row({**row.cells, "mark": next_mark(job, row.cells.get("mark", ""))})
    ask.desk.jobs.add_row(job.id, new.cells, job.rows.index(row) + 1, new.key)
    return go(ask, f"/jobs/{job.id}/rows/{new.key}")


def ask_delete(ask: Ask) -> Response:
    """Whether a row is to be deleted."""
    job = ask.desk.jobs.get(ask.number("job"))
    row = job.row(ask.part("row"))
    if row is None:
        return _gone(ask)
    return _asked(ask, job, row)


def delete(ask: Ask) -> Response:
    """A row is deleted, unless it was changed since its deletion was asked for."""
    job, key = ask.desk.jobs.get(ask.number("job")), ask.part("row")

    def deleted(now: StoredJob, row: StoredRow) -> StoredJob:
        return ask.desk.jobs.delete_row(now.id, key, row.version)

    before = job.row(key)
    try:
        on_row(job, key, deleted, ask.text("_base"))
    except OthersWere as others:
        if others.row is None:
            return _gone(ask)
        return _asked(ask, others.job, others.row, changed=True)
    tell(ask, f"{before.cells.get('mark', 'The row') if before else 'The row'} is deleted.")
    return go(ask, f"/jobs/{job.id}")


def _asked(ask: Ask, job: StoredJob, row: StoredRow, changed: bool = False) -> Response:
    """The question before a row is deleted, asked anew where it was changed meanwhile."""
    values = {"job": job, "row": row, "base": digest(row), "changed": changed}
    return show(ask, "row_delete.html", 409 if changed else 200, **values)


def _gone(ask: Ask) -> Response:
    tell(ask, "This row was deleted in the meantime.", "wrong")
    return go(ask, f"/jobs/{ask.number('job')}")


def _row(
    ask: Ask,
    job: StoredJob,
    place: int,
    lines: Mapping[str, JobLine],
    faults: Sequence[Fault],
) -> RowView:
    row = job.rows[place]
    line = lines.get(row.key)
    number = row_number(place)
    version = f"{digest(row)}-{ask.shop.version}"
    return RowView(
        row=row,
        number=number,
        sizes=_sizes(line, job.unit) if line else (),
        metal=line.metal.name if line else "",
        qty=str(line.qty) if line else row.cells.get("qty", "1"),
        faults=tuple(_beside(fault) for fault in faults if fault.row == number),
        drawn=f"/jobs/{job.id}/pictures/{row.key}.svg?{version}" if line else "",
        up=place > 0,
        down=place < len(job.rows) - 1,
    )


def _sizes(line: JobLine, unit: Unit) -> tuple[tuple[str, str], ...]:
    fitting = line.fitting
    words = for_the_bench(fitting, unit)
    return tuple((label(name), words[name]) for name in measured(type(fitting)) if name in words)


def _beside(fault: Fault) -> str:
    """A fault within the card of its row: `Width: 20 1/ is not a length. Write ...`."""
    where = f"{label(fault.column)}: " if fault.column else ""
    return f"{where}{sentence(fault)}"


def _told(job: StoredJob, fault: Fault) -> tuple[str, str]:
    """A fault as a sentence, and where it can be mended; "" for the list as a whole."""
    row = place_of(job, fault)
    return str(fault), f"/jobs/{job.id}/rows/{row.key}" if row else ""


def _here(ask: Ask, key: str) -> str:
    """Back to where the row is shown."""
    page = ask.text("_page")
    there = f"?page={page}" if page.isdecimal() else ""
    return f"/jobs/{ask.number('job')}{there}#row-{key}"


ROUTES = [
    get("/jobs/{job:int}", whole),
    get("/jobs/{job:int}/check", check),
    post("/jobs/{job:int}/rows/{row}/move", move),
    post("/jobs/{job:int}/rows/{row}/copy", copy),
    get("/jobs/{job:int}/rows/{row}/delete", ask_delete),
    post("/jobs/{job:int}/rows/{row}/delete", delete),
]
