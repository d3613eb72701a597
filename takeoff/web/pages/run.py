"""A plan or comparison while it is made: how far it is, take what is there, discard."""

from __future__ import annotations

import hashlib

from starlette.responses import Response

from takeoff.plural import many
from takeoff.stockroom import NotThere
from takeoff.web.asking import Ask, get, post
from takeoff.web.pages import comparison, result
from takeoff.web.runs import Kind, Run, State
from takeoff.web.runs.runner import Moment
from takeoff.web.showing import go, show, tell


def whole(ask: Ask) -> Response:
    """How far it is, and what came of it when it is over."""
    run = ask.desk.runs.run(ask.part("run"))
    if run.live:
        return _live(ask, run)
    if ask.fragment:
        return go(ask, f"/runs/{run.key}")
    if run.state is not State.DONE:
        return show(ask, "run_over.html", run=run, changed=changed(ask, run))
    page = result.whole if run.about.kind is Kind.PLAN else comparison.whole
    return page(ask, run, changed(ask, run))


def cancel(ask: Ask) -> Response:
    """Take the best that is found until now."""
    run = ask.desk.runs.run(ask.part("run"))
    ask.desk.runs.cancel(run)
    return go(ask, f"/runs/{run.key}")


def discard(ask: Ask) -> Response:
    """End it at once where it runs, and delete what came of it.

    Who wanted to end a run has not seen what it came to: it is kept if it came to an end meanwhile.
    """
    run = ask.desk.runs.run(ask.part("run"))
    if ask.text("_live") and not run.live:
        tell(ask, f"The {run.about.kind} was over meanwhile, so it is kept. Look at it.", "wrong")
        return go(ask, f"/runs/{run.key}")
    ask.desk.runs.discard(run)
    tell(ask, f"The {run.about.kind} is deleted.")
    return go(ask, f"/jobs/{run.about.job}/plan")


def changed(ask: Ask, run: Run) -> str:
    """What happened to the job since, in a sentence; "" for nothing."""
    try:
        job = ask.desk.jobs.get(run.about.job)
    except NotThere:
        return "The job was deleted since."
    if job.version != run.about.version:
        return f"The job was changed since: this {run.about.kind} is of the job as it was before."
    return ""


def _live(ask: Ask, run: Run) -> Response:
    moment = ask.desk.runs.moment(run)
    words = _words(moment)
    seen = hashlib.sha256("".join(words).encode()).hexdigest()[:8]
    name = "parts/progress.html" if ask.fragment else "run.html"
    return show(
        ask,
        name,
        run=run,
        moment=moment,
        words=words,
        seen=seen,
        news=ask.request.query_params.get("seen") != seen,
    )


def _words(moment: Moment) -> tuple[str, str]:
    """What is being done, and what is found so far."""
    if moment.progress is None:
        return f"Waiting for {many(moment.ahead, 'other')}." if moment.ahead else "Starting.", ""
    doing, found = moment.progress.doing, moment.progress.found
    if moment.stopping:
        doing = f"Taking what is found. {doing}"
    return f"{doing}.", found


ROUTES = [
    get("/runs/{run}", whole),
    post("/runs/{run}/cancel", cancel),
    post("/runs/{run}/discard", discard),
]
