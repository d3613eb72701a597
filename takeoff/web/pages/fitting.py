"""A fitting of a job: picked, measured, looked at while it is measured, and kept."""

from __future__ import annotations

from dataclasses import dataclass, replace

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.errors import Fault
from takeoff.fittings import CannotMake, Fitting, UnknownFitting, families, find
from takeoff.jobs.job import JobLine
from takeoff.web.asking import Ask, get, post
from takeoff.web.fields import Form, FormField, form, label
from takeoff.web.making import FittingView, made, view
from takeoff.web.marks import first_mark, next_mark
from takeoff.web.reading import Cells, cells_from, read_row
from takeoff.web.showing import go, show, tell
from takeoff.web.store import JobRow, StoredJob, change, with_row

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
    row: JobRow
    faults: tuple[Fault, ...]
    seen: FittingView | None


def pick(ask: Ask) -> Response:
    """Which fitting it is, by its picture."""
    job = ask.desk.jobs.job(ask.number("job"))
    shop = ask.desk.shop().version
    return show(ask, "pick.html", job=job, families=families().values(), shop=shop)


def add(ask: Ask) -> Response:
    """The empty form of a family."""
    job, family = ask.desk.jobs.job(ask.number("job")), _family(ask.part("family"))
    last = job.rows[-1].cells if job.rows else {}
    cells = {name: last[name] for name in CARRIED if name in last}
    cells["mark"] = first_mark(job, family)
    return _form(ask, _Sheet(job, family, JobRow(cells), (), None))


def save_new(ask: Ask) -> Response:
    """A new fitting is kept, or shown again with what is wrong with it."""
    job, family = ask.desk.jobs.job(ask.number("job")), _family(ask.part("family"))
    return _save(ask, _filled(ask, job, family, JobRow({"fitting": family.kind})), "")


def edit(ask: Ask) -> Response:
    """The form of a fitting that is kept."""
    job = ask.desk.jobs.job(ask.number("job"))
    row = job.row(ask.part("row"))
    if row is None:
        tell(ask, "This fitting was deleted in the meantime.", "wrong")
        return go(ask, f"/jobs/{job.id}")
    family = _family(row.cells.get("fitting", ""))
    return _form(ask, _looked_at(ask, job, family, row), base=row.digest)


def save(ask: Ask) -> Response:
    """A changed fitting is kept, unless someone else has changed it since the form was opened."""
    job, key, base = ask.desk.jobs.job(ask.number("job")), ask.part("row"), ask.text("_base")
    kind = ask.text("_fitting")
    family = _family(kind)
    sheet = _filled(ask, job, family, JobRow({"fitting": kind}, key))
    return _save(ask, sheet, base)


def preview(ask: Ask) -> Response:
    """What is filled in so far, for a part of the form."""
    job, family = ask.desk.jobs.job(ask.number("job")), _family(ask.part("family"))
    key = ask.request.query_params.get("row", "")
    row = JobRow({"fitting": family.kind}, key) if key else JobRow({"fitting": family.kind})
    sheet = _filled(ask, job, family, row)
    return show(ask, "parts/live.html", form=_untouched(_fields(ask, sheet)), seen=sheet.seen)


def _family(name: str) -> type[Fitting]:
    try:
        return find(name)
    except UnknownFitting as error:
        raise HTTPException(404) from error


def _filled(ask: Ask, job: StoredJob, family: type[Fitting], row: JobRow) -> _Sheet:
    names = (*FIXED, *family.model_fields)
    cells = cells_from({name: ask.text(name) for name in names}) | dict(row.cells)
    return _looked_at(ask, job, family, replace(row, cells=cells))


def _looked_at(ask: Ask, job: StoredJob, family: type[Fitting], row: JobRow) -> _Sheet:
    read = read_row(job, row, ask.desk.shop().profile.code)
    if read.line is None:
        return _Sheet(job, family, row, read.faults, None)
    return _made(ask, job, family, row, read.line)


def _made(ask: Ask, job: StoredJob, family: type[Fitting], row: JobRow, line: JobLine) -> _Sheet:
    try:
        return _Sheet(job, family, row, (), view(made(ask.desk, line, job.unit), job.unit))
    except CannotMake as error:
        fault = Fault(None, error.column, error.value, error.problem, error.allowed)
        return _Sheet(job, family, row, (fault,), None)


def _save(ask: Ask, sheet: _Sheet, base: str) -> Response:
    wanted = ask.text("_do")
    if wanted == "look" or (sheet.faults and wanted != "keep"):
        return _form(ask, sheet, base, 200 if wanted == "look" else 422)
    kept: list[JobRow | None] = []

    def enter(job: StoredJob) -> StoredJob:
        now = job.row(sheet.row.key)
        kept[:] = [now]
        if base and (now is None or now.digest != base):
            return job
        return with_row(job, sheet.row)

    job = change(ask.desk.jobs, sheet.job.id, enter)
    now = kept[0]
    if base and (now is None or now.digest != base) and now != sheet.row:
        return _conflict(ask, replace(sheet, job=job), now)
    mark = sheet.row.cells.get("mark", "The fitting")
    left = " It still has faults, told below." if sheet.faults else ""
    tell(ask, f"{mark} is kept.{left}")
    if wanted == "another":
        return go(ask, f"/jobs/{job.id}/add")
    return go(ask, f"/jobs/{job.id}#row-{sheet.row.key}")


def _conflict(ask: Ask, sheet: _Sheet, now: JobRow | None) -> Response:
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
        base=now.digest if now else "",
        gone=now is None,
        beside=beside,
        mine=mine,
        other_mark=next_mark(sheet.job, mine.get("mark", "")),
    )


def _fields(ask: Ask, sheet: _Sheet) -> Form:
    profile = ask.desk.shop().profile
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
