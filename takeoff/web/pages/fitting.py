"""A fitting of a job: picked, measured, looked at while it is measured, and kept."""

from __future__ import annotations

from dataclasses import dataclass, replace

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.errors import Fault
from takeoff.fittings import CannotMake, Fitting, UnknownFitting, families, find
from takeoff.jobs.job import JobLine
from takeoff.stockroom import StoredJob, StoredRow
from takeoff.web.asking import Ask, get, post
from takeoff.web.fields import Form, FormField, form, label
from takeoff.web.making import FittingView, made, view
from takeoff.web.marks import first_mark, next_mark
from takeoff.web.reading import cells_from, read_row
from takeoff.web.rows import Cells, OthersWere, digest, new_row, on_row
from takeoff.web.showing import go, show, tell

FIXED = ("mark", "qty", "material", "gauge", "cfm", "note")
CARRIED = ("material", "gauge")
"""What a new fitting takes over from the last row."""


@dataclass(frozen=True)
class _Sheet:
    """A filled-in form.

    Attributes:
        job: as it is kept.
        family: of the fitting.
        row: as it would be kept.
        faults: what is wrong with it.
        seen: what it comes to, where nothing is.
    """

    job: StoredJob
    family: type[Fitting]
    row: StoredRow
    faults: tuple[Fault, ...]
    seen: FittingView | None


def pick(ask: Ask) -> Response:
    """Which fitting it is, by its picture."""
    job = ask.desk.jobs.get(ask.number("job"))
    shop = ask.shop.version
    return show(ask, "pick.html", job=job, families=families().values(), shop=shop)


def add(ask: Ask) -> Response:
    """The empty form of a family."""
    job, family = ask.desk.jobs.get(ask.number("job")), _family(ask.part("family"))
    last = job.rows[-1].cells if job.rows else {}
    cells = {name: last[name] for name in CARRIED if name in last}
    cells["mark"] = first_mark(job, family)
    return _form(ask, _Sheet(job, family, new_row(cells), (), None))


def save_new(ask: Ask) -> Response:
    """A new fitting is kept, or shown again with what is wrong with it."""
    job, family = ask.desk.jobs.get(ask.number("job")), _family(ask.part("family"))
    return _save(ask, _filled(ask, job, family, _row_of(family.kind)), "")


def edit(ask: Ask) -> Response:
    """The form of a fitting that is kept."""
    job = ask.desk.jobs.get(ask.number("job"))
    row = job.row(ask.part("row"))
    if row is None:
        tell(ask, "This fitting was deleted in the meantime.", "wrong")
        return go(ask, f"/jobs/{job.id}")
    family = _family(row.cells.get("fitting", ""))
    return _form(ask, _looked_at(ask, job, family, row), base=digest(row))


def save(ask: Ask) -> Response:
    """A changed fitting is kept, unless someone else has changed it since the form was opened."""
    job, key, base = ask.desk.jobs.get(ask.number("job")), ask.part("row"), ask.text("_base")
    kind = ask.text("_fitting")
    family = _family(kind)
    sheet = _filled(ask, job, family, _row_of(kind, key))
    return _save(ask, sheet, base)


def preview(ask: Ask) -> Response:
    """What is filled in so far, for a part of the form."""
    job, family = ask.desk.jobs.get(ask.number("job")), _family(ask.part("family"))
    row = _row_of(family.kind, ask.request.query_params.get("row", ""))
    sheet = _filled(ask, job, family, row)
    return show(ask, "parts/live.html", form=_untouched(_fields(ask, sheet)), seen=sheet.seen)


def _row_of(kind: str, key: str = "") -> StoredRow:
    """A row with nothing in it but its fitting; of a key of its own where none is given."""
    row = new_row({"fitting": kind})
    return replace(row, key=key) if key else row


def _family(name: str) -> type[Fitting]:
    try:
        return find(name)
    except UnknownFitting as error:
        raise HTTPException(404) from error


def _filled(ask: Ask, job: StoredJob, family: type[Fitting], row: StoredRow) -> _Sheet:
    names = (*FIXED, *family.model_fields)
    cells = cells_from({name: ask.text(name) for name in names}) | dict(row.cells)
    return _looked_at(ask, job, family, replace(row, cells=cells))


def _looked_at(ask: Ask, job: StoredJob, family: type[Fitting], row: StoredRow) -> _Sheet:
    read = read_row(job, row, ask.shop.profile.code)
    if read.line is None:
        return _Sheet(job, family, row, read.faults, None)
    return _made(ask, job, family, row, read.line)


def _made(ask: Ask, job: StoredJob, family: type[Fitting], row: StoredRow, line: JobLine) -> _Sheet:
    try:
        return _Sheet(
            job, family, row, (), view(made(ask.desk, ask.shop, line, job.unit), job.unit)
        )
    except CannotMake as error:
        fault = Fault(None, error.column, error.value, error.problem, error.allowed)
        return _Sheet(job, family, row, (fault,), None)


def _save(ask: Ask, sheet: _Sheet, base: str) -> Response:
    wanted = ask.text("_do")
    if wanted == "look" or (sheet.faults and wanted != "keep"):
        return _form(ask, sheet, base, 200 if wanted == "look" else 422)
    try:
        _keep(ask, sheet, base)
    except OthersWere as others:
        return _conflict(ask, replace(sheet, job=others.job), others.row)
    number = sheet.job.id
    mark = sheet.row.cells.get("mark", "The fitting")
    left = " It still has faults, told below." if sheet.faults else ""
    tell(ask, f"{mark} is kept.{left}")
    if wanted == "another":
        return go(ask, f"/jobs/{number}/add")
    return go(ask, f"/jobs/{number}#row-{sheet.row.key}")


def _keep(ask: Ask, sheet: _Sheet, base: str) -> None:
    """The row is written; OthersWere where it is no longer what the form was opened with."""
    jobs, row = ask.desk.jobs, sheet.row
    if not base:
        jobs.add_row(sheet.job.id, row.cells, key=row.key)
        return

    def saved(job: StoredJob, now: StoredRow) -> StoredJob:
        return jobs.save_row(job.id, row.key, row.cells, now.version)

    try:
        on_row(sheet.job, row.key, saved, base)
    except OthersWere as others:
        if others.row is None or dict(others.row.cells) != dict(row.cells):
            raise


def _conflict(ask: Ask, sheet: _Sheet, now: StoredRow | None) -> Response:
    """What the other one wrote beside what was written here."""
    theirs: Cells = now.cells if now else {}
    mine = sheet.row.cells
    names = [name for name in {**theirs, **mine} if theirs.get(name, "") != mine.get(name, "")]
    beside = [(label(name), theirs.get(name, ""), mine.get(name, "")) for name in names]
    return show(
        ask,
        "conflict.html",
        409,
        job=sheet.job,
        family=sheet.family,
        key=sheet.row.key,
        base=digest(now) if now else "",
        gone=now is None,
        beside=beside,
        mine=mine,
        other_mark=next_mark(sheet.job, mine.get("mark", "")),
    )


def _fields(ask: Ask, sheet: _Sheet) -> Form:
    profile = ask.shop.profile
    return form(sheet.family, sheet.row.cells, sheet.faults, sheet.job.unit, profile)


def _untouched(form: Form) -> Form:
    """The form without faults of fields that nobody has come to yet: they are told as lacking."""

    def spared(fields: tuple[FormField, ...]) -> tuple[FormField, ...]:
        return tuple(
            replace(each, faults=()) if each.needed and not each.value else each for each in fields
        )

    first, sizes, metal, more = map(spared, (form.first, form.sizes, form.metal, form.more))
    return replace(form, first=first, sizes=sizes, metal=metal, more=more)


def _form(ask: Ask, sheet: _Sheet, base: str = "", status: int = 200) -> Response:
    return show(
        ask,
        "fitting.html",
        status,
        job=sheet.job,
        family=sheet.family,
        row=sheet.row,
        base=base,
        form=_fields(ask, sheet),
        seen=sheet.seen,
    )


ROUTES = [
    get("/jobs/{job:int}/add", pick),
    get("/jobs/{job:int}/add/{family}", add),
    post("/jobs/{job:int}/add/{family}", save_new),
    get("/jobs/{job:int}/rows/{row}", edit),
    post("/jobs/{job:int}/rows/{row}", save),
    post("/jobs/{job:int}/preview/{family}", preview),
]
