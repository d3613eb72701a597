"""All jobs: start one, copy, rename and delete."""

from __future__ import annotations

from starlette.responses import Response

from takeoff.jobs.cells import text
from takeoff.lengths import INCH, UNITS
from takeoff.plural import many
from takeoff.stockroom import ChangedMeanwhile, StoredJob
from takeoff.web.asking import Ask, get, post
from takeoff.web.pages import Nav
from takeoff.web.showing import go, show, tell

NAV = Nav(10, "Jobs", "/jobs")
LONGEST_NAME = 120
COPIED = ", copied"


def listing(ask: Ask) -> Response:
    """All jobs."""
    return _listed(ask)


def start(ask: Ask) -> Response:
    """A new job without rows."""
    name, wrong = named(ask)
    if wrong:
        return _listed(ask, 422, name=name, wrong=wrong)
    job = ask.desk.jobs.create(name, UNITS.get(ask.text("units"), INCH))
    return go(ask, f"/jobs/{job.id}")


def rename(ask: Ask) -> Response:
    """Another name for a job."""
    job = ask.desk.jobs.get(ask.number("job"))
    name, wrong = named(ask)
    if wrong:
        return show(ask, "job_name.html", 422, job=job, name=name, wrong=wrong)
    try:
        ask.desk.jobs.rename(job.id, name, ask.text("_was"))
    except ChangedMeanwhile as error:
        if error.job.name != name:
            told = f"Someone else called this job {error.job.name} meanwhile. Keep yours if it is "
            return show(ask, "job_name.html", 409, job=error.job, name=name, wrong=f"{told}right.")
    tell(ask, f"This job is now called {name}.")
    return go(ask, f"/jobs/{job.id}")


def copy(ask: Ask) -> Response:
    """A job once more."""
    job = ask.desk.jobs.get(ask.number("job"))
    made = ask.desk.jobs.copy(job.id, f"{job.name[: LONGEST_NAME - len(COPIED)]}{COPIED}")
    tell(ask, f"Copied with {many(len(made.rows), 'row')}. Give it a name of its own.")
    return go(ask, f"/jobs/{made.id}")


def ask_delete(ask: Ask) -> Response:
    """Whether a job is to be deleted."""
    return show(ask, "job_delete.html", job=ask.desk.jobs.get(ask.number("job")), changed=False)


def delete(ask: Ask) -> Response:
    """A job is deleted with all its plans, unless it was changed since that was asked for."""
    job = ask.desk.jobs.get(ask.number("job"))
    plans = [run.key for run in ask.desk.runs.of_job(job.id)]
    try:
        ask.desk.jobs.delete(job.id, _version(ask), plans)
    except ChangedMeanwhile as error:
        return show(ask, "job_delete.html", 409, job=error.job, changed=True)
    ask.desk.runs.drop(job.id)
    tell(ask, f"{_called(job)} is deleted.")
    return go(ask, "/jobs")


def named(ask: Ask) -> tuple[str, str]:
    """The name that was filled in, and what is wrong with it."""
    name = text(ask.text("name"))
    if not name:
        return name, "A job needs a name. Give the street, the customer or a number."
    if len(name) > LONGEST_NAME:
        return name, f"This name has more than {LONGEST_NAME} letters. Give a shorter one."
    return name, ""


def _version(ask: Ask) -> int:
    """Of the job that the page showed; 0, which no job has, where none is told."""
    told = ask.text("_version")
    return int(told) if told.isascii() and told.isdigit() and len(told) < 10 else 0


def _called(job: StoredJob) -> str:
    return job.name or "The job without a name"


def _listed(ask: Ask, status: int = 200, name: str = "", wrong: str = "") -> Response:
    heads = ask.desk.jobs.all()
    return show(ask, "jobs.html", status, jobs=heads, name=name, wrong=wrong)


ROUTES = [
    get("/jobs", listing),
    post("/jobs", start),
    post("/jobs/{job:int}/name", rename),
    post("/jobs/{job:int}/copy", copy),
    get("/jobs/{job:int}/delete", ask_delete),
    post("/jobs/{job:int}/delete", delete),
]
