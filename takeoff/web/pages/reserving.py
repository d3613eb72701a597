"""The metal of a plan: reserve it, cut it, release it; what is gone by now, and planning anew."""

from __future__ import annotations

from starlette.responses import Response

from takeoff.plural import many
from takeoff.sizes import size
from takeoff.stockroom import NotThere, PiecesGone, PlanRecord, PlanState
from takeoff.storekeeping.plan_file import PlanOnFile, read_plan
from takeoff.web.asking import Ask, get, post
from takeoff.web.pages.result import finished
from takeoff.web.runs import Run
from takeoff.web.showing import go, show, tell
from takeoff.withdrawal import Draw

MOST_KEPT = 200
"""Offcuts of a plan that are listed."""


def metal(ask: Ask) -> Response:
    """What a plan takes of the stock room, and what became of that."""
    return _shown(ask, finished(ask))


def reserve(ask: Ask) -> Response:
    """All that it takes is promised to it, or nothing."""
    run = finished(ask)
    plan = _plan(ask, run)
    plan.check_room(ask.desk.room.identity, ask.desk.room.place)
    try:
        ask.desk.room.plans.commit(run.key, plan.name, plan.needs, str(ask.desk.runs.papers(run)))
    except PiecesGone as error:
        return _shown(ask, run, tuple(map(str, error.gone)), 409)
    sheets = sum(need.qty for need in plan.needs.sheets)
    offcuts = many(len(plan.needs.offcuts), "offcut")
    tell(ask, f"Reserved: {offcuts} and {many(sheets, 'sheet')} on hand.")
    return go(ask, f"/runs/{run.key}/metal")


def cut(ask: Ask) -> Response:
    """What was reserved goes out, and the offcuts that are kept go onto the rack."""
    run = finished(ask)
    plan = _plan(ask, run)
    step = ask.desk.room.plans.cut(run.key, plan.kept_at(ask.text("place").strip()))
    kept = ", ".join(
        f"{piece.sheet} is {label}" for piece, label in zip(plan.kept, step.labels, strict=True)
    )
    tell(ask, f"Cut. Offcuts to mark: {kept}." if kept else "Cut. It left no offcuts to keep.")
    return go(ask, f"/runs/{run.key}/metal")


def release(ask: Ask) -> Response:
    """What was reserved is released."""
    run = finished(ask)
    ask.desk.room.plans.release(run.key)
    tell(ask, "Released: nothing is reserved for this plan any more.")
    return go(ask, f"/runs/{run.key}/metal")


def _shown(ask: Ask, run: Run, gone: tuple[str, ...] = (), status: int = 200) -> Response:
    plan = _plan(ask, run)
    record = _record(ask, run)
    state = record.state if record else PlanState.PLANNED
    if state is not PlanState.COMMITTED and state is not PlanState.CUT and not gone:
        gone = tuple(map(str, ask.desk.room.plans.missing(plan.needs)))
    unit = ask.shop.profile.unit
    return show(
        ask,
        "metal.html",
        status,
        run=run,
        plan=plan,
        state=state,
        gone=gone,
        draw=run.about.draw or Draw.NOTHING,
        kept=[(piece, size(piece.width, piece.length, unit)) for piece in plan.kept[:MOST_KEPT]],
        labels=[each.label for each in ask.desk.room.plans.left(run.key)] if record else (),
    )


def _plan(ask: Ask, run: Run) -> PlanOnFile:
    return read_plan(ask.desk.runs.papers(run))


def _record(ask: Ask, run: Run) -> PlanRecord | None:
    try:
        return ask.desk.room.plans.get(run.key)
    except NotThere:
        return None


ROUTES = [
    get("/runs/{run}/metal", metal),
    post("/runs/{run}/metal/reserve", reserve),
    post("/runs/{run}/metal/cut", cut),
    post("/runs/{run}/metal/release", release),
]
