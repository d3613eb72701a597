"""In with the password, and out again."""

from __future__ import annotations

import re

from starlette.responses import Response

from takeoff.web.asking import Ask, get, post
from takeoff.web.door import ENTER, Door, NotInside
from takeoff.web.showing import go, show

_HERE = re.compile(r"/(?![/\\])[!-~]*")
"""An address on this page: no other place begins with one slash."""


def ask_password(ask: Ask) -> Response:
    """The field for the password."""
    there = _there(ask.request.query_params.get("to", ""))
    if _door(ask).let_in(ask.request.session):
        return go(ask, there)
    return show(ask, "enter.html", there=there, wrong="")


def enter(ask: Ask) -> Response:
    """On to where one wanted to go, if the password fits."""
    there = _there(ask.text("to"))
    door = _door(ask)
    if not door.locked:
        return go(ask, there)
    try:
        door.enter(ask.request, ask.text("password"))
    except NotInside as error:
        return show(ask, "enter.html", 403, there=there, wrong=str(error))
    return go(ask, there)


def leave(ask: Ask) -> Response:
    """Out."""
    _door(ask).leave(ask.request)
    return go(ask, ENTER)


def _door(ask: Ask) -> Door:
    door: Door = ask.request.app.state.door
    return door


def _there(path: str) -> str:
    return path if _HERE.fullmatch(path) else "/"


ROUTES = [
    get(ENTER, ask_password),
    post(ENTER, enter),
    post("/leave", leave),
]
