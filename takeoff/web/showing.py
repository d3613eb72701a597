"""Pages as they are sent: templates, messages, and where to go next."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from jinja2 import Environment
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from takeoff.papers.cautions import CAUTIONS
from takeoff.papers.markup import environment
from takeoff.plural import many

from . import pages
from .asking import TOKEN, TOKEN_HEADER, Ask, token
from .door import PASS

MESSAGES = "messages"
"""Key of the session for what the next page tells first."""


def show(ask: Ask, template: str, status: int = 200, **values: object) -> Response:
    """A template filled in; every value is escaped."""
    return HTMLResponse(render(ask.request, template, **values), status)


def render(request: Request, template: str, **values: object) -> str:
    """The text of a template; see `templates/base.html` for what a whole page fills in."""
    return (
        _environment()
        .get_template(template)
        .render(
            values
            | {
                "here": request.url.path,
                "token": token(request),
                "inside": PASS in request.session,
                "messages": lambda: request.session.pop(MESSAGES, []),
            }
        )
    )


def tell(ask: Ask, words: str, kind: Literal["done", "wrong"] = "done") -> None:
    """A message for the top of the next page."""
    told = ask.request.session.setdefault(MESSAGES, [])
    told.append([kind, words])


def go(ask: Ask, path: str) -> Response:
    """On to another page, after a form; where a part of a page was asked for, the whole goes."""
    if ask.fragment:
        return Response(status_code=204, headers={"HX-Redirect": path})
    return RedirectResponse(path, 303)


@cache
def _environment() -> Environment:
    templates = environment("takeoff.web")
    templates.globals |= {
        "static": static,
        "links": pages.links,
        "token_field": TOKEN,
        "token_header": TOKEN_HEADER,
        "cautions": CAUTIONS,
    }
    templates.filters["many"] = many
    return templates


@cache
def static(name: str) -> str:
    """The address of a file that ships with the page, a new one whenever the file is another."""
    data = files("takeoff.web").joinpath("static", name).read_bytes()
    return f"/static/{name}?{hashlib.sha256(data).hexdigest()[:10]}"


def picture_response(svg: str) -> Response:
    """An SVG element as an image of its own, which the browser keeps under its address."""
    alone = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    headers: dict[str, Any] = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(alone, media_type="image/svg+xml", headers=headers)
