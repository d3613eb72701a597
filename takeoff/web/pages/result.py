"""A plan that is made: what it takes, its sheets, its fittings and their layout cards."""

from __future__ import annotations

import json
from typing import Any

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.errors import TakeoffError
from takeoff.web.asking import Ask, get
from takeoff.web.paging import paged
from takeoff.web.runs import Kind, Run, State
from takeoff.web.runs.plan_view import SUMMARY, fitting_name, sheet_name
from takeoff.web.showing import picture_response, show

A_PAGE = 40
"""Sheets, and so fittings, that one page shows."""


class Unreadable(TakeoffError):
    """What was kept of a run cannot be read any more."""

    def __init__(self, run: Run, error: Exception) -> None:
        reason = getattr(error, "strerror", None) or "it is damaged"
        super().__init__(
            f"What was kept of this {run.about.kind} cannot be read: {reason}. Make it again."
        )


def whole(ask: Ask, run: Run, changed: str) -> Response:
    """The plan as a whole, a page of its sheets at a time."""
    plan = summary(ask, run)
    paging = paged(ask, len(plan["layouts"]), A_PAGE)
    return show(
        ask,
        "result.html",
        run=run,
        changed=changed,
        plan=plan,
        layouts=[plan["layouts"][place] for place in paging.places],
        paging=paging,
    )


def sheet(ask: Ask) -> Response:
    """One layout: drawn large, its blanks, its offcuts and its cuts."""
    run = finished(ask)
    number, count = ask.number("number"), len(summary(ask, run)["layouts"])
    layout = _record(ask, run, sheet_name(number), number, count)
    return show(ask, "sheet.html", run=run, layout=layout, number=number, count=count)


def picture(ask: Ask) -> Response:
    """One layout, small."""
    run = finished(ask)
    try:
        path = ask.desk.runs.view(run) / f"{sheet_name(ask.number('number'))}.svg"
        return picture_response(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise HTTPException(404) from error


def fittings(ask: Ask) -> Response:
    """The rows of the job, each leads to its card."""
    run = finished(ask)
    every = summary(ask, run)["fittings"]
    paging = paged(ask, len(every), A_PAGE)
    shown = [(place + 1, every[place]) for place in paging.places]
    return show(ask, "fittings.html", run=run, fittings=shown, paging=paging)


def fitting(ask: Ask) -> Response:
    """The card of a row: what it is, how it is put together, and its blanks."""
    run = finished(ask)
    number, card = _card(ask, run)
    return show(ask, "fitting_card.html", run=run, card=card, number=number)


def blank(ask: Ask) -> Response:
    """The layout card of a blank: flat pattern, running marks, bends in their order."""
    run = finished(ask)
    number, card = _card(ask, run)
    place = ask.number("place")
    if not 1 <= place <= len(card["pieces"]):
        raise HTTPException(404)
    piece = card["pieces"][place - 1]
    return show(ask, "blank_card.html", run=run, card=card, number=number, piece=piece, place=place)


def finished(ask: Ask, kind: Kind | None = Kind.PLAN) -> Run:
    """The run of an address; 404 where it is not made, or of another kind."""
    run = ask.desk.runs.run(ask.part("run"))
    if run.state is not State.DONE or kind not in (None, run.about.kind):
        raise HTTPException(404)
    return run


def summary(ask: Ask, run: Run) -> dict[str, Any]:
    """What is shown of a run as a whole."""
    return _read(ask, run, SUMMARY)


def _card(ask: Ask, run: Run) -> tuple[int, dict[str, Any]]:
    number = ask.number("number")
    count = len(summary(ask, run)["fittings"])
    return number, _record(ask, run, fitting_name(number), number, count)


def _record(ask: Ask, run: Run, name: str, number: int, count: int) -> dict[str, Any]:
    if not 1 <= number <= count:
        raise HTTPException(404)
    return _read(ask, run, f"{name}.json")


def _read(ask: Ask, run: Run, name: str) -> dict[str, Any]:
    try:
        text = (ask.desk.runs.view(run) / name).read_text(encoding="utf-8")
        record: dict[str, Any] = json.loads(text)
    except (OSError, ValueError) as error:
        raise Unreadable(run, error) from error
    return record


ROUTES = [
    get("/runs/{run}/sheets/{number:int}", sheet),
    get("/runs/{run}/sheets/{number:int}.svg", picture),
    get("/runs/{run}/fittings", fittings),
    get("/runs/{run}/fittings/{number:int}", fitting),
    get("/runs/{run}/fittings/{number:int}/{place:int}", blank),
]
