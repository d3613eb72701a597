"""Pictures that stand in pages: families, and the rows of a job."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.responses import Response

from takeoff.fittings import CannotMake, UnknownFitting, find
from takeoff.web.asking import Ask, get
from takeoff.web.making import family_picture, small_picture
from takeoff.web.reading import read_alone
from takeoff.web.showing import picture_response

NOTHING = '<svg viewBox="0 0 1 1" width="1pt"></svg>'


def family(ask: Ask) -> Response:
    """A family, by one of its examples."""
    try:
        drawn = family_picture(ask.desk, ask.shop, find(ask.part("family")))
    except UnknownFitting as error:
        raise HTTPException(404) from error
    return picture_response(drawn or NOTHING)


def row(ask: Ask) -> Response:
    """The fitting of a row, folded; nothing where it cannot be made, which the page tells."""
    job = ask.desk.jobs.get(ask.number("job"))
    found = job.row(ask.part("row"))
    if found is None:
        raise HTTPException(404)
    line = read_alone(job, found, ask.shop.profile.code).line
    try:
        drawn = small_picture(ask.desk, ask.shop, line, job.unit) if line else NOTHING
    except CannotMake:
        drawn = NOTHING
    return picture_response(drawn)


ROUTES = [
    get("/families/{family}.svg", family),
    get("/jobs/{job:int}/pictures/{row}.svg", row),
]
