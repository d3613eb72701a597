"""What was done in the stock room, the latest first, and undoing the last of it."""

from __future__ import annotations

from starlette.responses import Response

from takeoff.stockroom import Step
from takeoff.web.asking import Ask, get, post
from takeoff.web.showing import go, show, tell

LISTED = 100


def listing(ask: Ask) -> Response:
    """The last steps."""
    steps = ask.desk.room.steps(LISTED)
    return show(ask, "steps.html", steps=steps, last=_last(steps))


def undo(ask: Ask) -> Response:
    """The step that the page named is undone, if nothing later stands in the way."""
    number = ask.text("step")
    wanted = int(number) if number.isascii() and number.isdigit() and len(number) < 10 else 0
    step = ask.desk.room.undo(wanted)
    tell(ask, f"Step {step.undoes} is undone by step {step.number}.")
    return go(ask, "/stock/steps")


def _last(steps: tuple[Step, ...]) -> Step | None:
    """The last step that can be undone."""
    open_ones = (step for step in steps if not step.undone and step.undoes is None)
    return next(open_ones, None)


ROUTES = [
    get("/stock/steps", listing),
    post("/stock/undo", undo),
]
