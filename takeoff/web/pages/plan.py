"""The plans of a job: start one, and those that were made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from starlette.responses import Response

from takeoff.stockroom import StoredJob
from takeoff.storekeeping.taking import withdrawal
from takeoff.web.asking import Ask, get, post
from takeoff.web.fields import FormField
from takeoff.web.ready import ready
from takeoff.web.runs import Busy, Kind, Order, PlanOrder, Run
from takeoff.web.runs.record import About
from takeoff.web.showing import go, show, tell
from takeoff.withdrawal import Draw

USUAL_SECONDS = "10"
MOST_SECONDS = 1800
MOST_LISTED = 50
DRAWS = {
    Draw.ALL: "offcuts on the rack and sheets on hand, then sheets to buy",
    Draw.OFFCUTS: "offcuts on the rack, then sheets to buy",
    Draw.NOTHING: "sheets to buy, nothing else",
}
"""What a plan takes its metal from, in the words of the form."""


@dataclass(frozen=True)
class RunLine:
    """A run in the list of a job; `changed`: the job is another one by now."""

    run: Run
    changed: bool


def plans(ask: Ask) -> Response:
    """The form for a new plan, and what was planned before."""
    job = ask.desk.jobs.get(ask.number("job"))
    return _form(ask, job, ask.request.query_params.get("seconds", USUAL_SECONDS))


def start(ask: Ask) -> Response:
    """Put a plan into the queue, or tell what is wrong."""
    job = ask.desk.jobs.get(ask.number("job"))
    draw = _draw(ask)
    seconds, wrong = read_seconds(ask.text("seconds"))
    if wrong:
        return _form(ask, job, ask.text("seconds"), wrong, draw=draw, status=422)
    shop = ask.shop
    found = ready(job, ask.desk.reading(job, shop))
    if found.job is None or found.faults:
        return _form(ask, job, ask.text("seconds"), faults=found.faults, draw=draw, status=422)
    taken = withdrawal(ask.desk.room, draw) if draw is not Draw.NOTHING else None
    order = PlanOrder(found.job, shop.stock, shop.profile, seconds, taken)
    about = About(Kind.PLAN, job.id, job.name, job.version, seconds, DRAWS[draw], draw)
    return begun(ask, about, order)


def begun(ask: Ask, about: About, order: Order) -> Response:
    """On to the run that was started, or to the one that is in its way."""
    try:
        run = ask.desk.runs.start(about, order)
    except Busy as error:
        tell(ask, str(error), "wrong")
        there = f"/runs/{error.run.key}" if error.run else f"/jobs/{about.job}/plan"
        return go(ask, there)
    return go(ask, f"/runs/{run.key}")


def read_seconds(written: str) -> tuple[float, str]:
    """The time for a search, and what is wrong with it."""
    try:
        seconds = float(written.strip())
    except ValueError:
        seconds = 0.0
    if 0 < seconds <= MOST_SECONDS:
        return seconds, ""
    return 0.0, f"Give a number of seconds, more than 0 and up to {MOST_SECONDS}."


def seconds_field(value: str, about: str, wrong: str = "") -> FormField:
    """The field for the time of a search."""
    return FormField(
        name="seconds",
        label="Seconds",
        kind="number",
        value=value,
        about=about,
        faults=(wrong,) if wrong else (),
    )


def lines(ask: Ask, job: StoredJob) -> list[RunLine]:
    """The newest runs of a job."""
    mine = ask.desk.runs.of_job(job.id)[:MOST_LISTED]
    return [RunLine(run, run.about.version != job.version) for run in mine]


def _usual_draw(ask: Ask) -> Draw:
    """Everything the shop has, where it has anything."""
    room = ask.desk.room
    any_left = any(kind.free for kind in room.sheets.all()) or bool(room.rack.free())
    return Draw.ALL if any_left else Draw.NOTHING


def _draw(ask: Ask) -> Draw:
    try:
        return Draw(ask.text("draw"))
    except ValueError:
        return Draw.NOTHING


def _form(
    ask: Ask,
    job: StoredJob,
    seconds: str,
    wrong: str = "",
    faults: Sequence[tuple[str, str]] = (),
    draw: Draw | None = None,
    status: int = 200,
) -> Response:
    about = "For nesting; more gives better plans, or a proof that there is none better."
    return show(
        ask,
        "plan.html",
        status,
        job=job,
        seconds=seconds_field(seconds, about, wrong),
        draws=DRAWS,
        drawn=draw or _usual_draw(ask),
        faults=faults,
        runs=lines(ask, job),
    )


ROUTES = [
    get("/jobs/{job:int}/plan", plans),
    post("/jobs/{job:int}/plan", start),
]
