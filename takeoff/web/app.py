"""The web application, put together."""

from __future__ import annotations

import secrets
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.sessions import SessionMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from takeoff.errors import TakeoffError
from takeoff.stockroom import NotThere

from . import pages
from .desk import Desk
from .door import WORK_WEEK, Door, Locked
from .guard import BodyLimit, SafeHeaders
from .names import KnownNames, Names
from .pace import FORMS, Pace, Paced
from .runs import NoSuchRun
from .showing import render


def build(
    desk: Desk,
    secret: str | None = None,
    door: Door | None = None,
    names: Names | None = None,
    pace: Pace = FORMS,
) -> Starlette:
    """The application.

    Args:
        desk: what the pages work with.
        secret: that sessions are signed with; without one they end with this process.
        door: who may come in; None: everyone.
        names: what the page is called besides the names of loopback.
        pace: how fast one address may send forms.
    """
    door = door or Door()

    @asynccontextmanager
    async def living(_: Starlette) -> AsyncIterator[None]:
        yield
        desk.runs.close()

    app = Starlette(
        lifespan=living,
        routes=[
            Route("/", _first),
            *pages.routes(),
            Mount("/static", StaticFiles(packages=[("takeoff.web", "static")])),
        ],
        middleware=[
            Middleware(SafeHeaders),
            Middleware(KnownNames, names=names or Names()),
            Middleware(Paced, pace=pace),
            Middleware(BodyLimit),
            Middleware(
                SessionMiddleware,
                secret_key=secret or secrets.token_urlsafe(32),
                session_cookie="blankwright",
                max_age=WORK_WEEK,
                same_site="strict",
            ),
            Middleware(Locked, door=door),
        ],
        exception_handlers={
            HTTPException: _refused,
            TakeoffError: _wrong,
            Exception: _broken,
        },
    )
    app.state.desk = desk
    app.state.door = door
    return app


async def _first(_: Request) -> Response:
    return RedirectResponse("/jobs", 303)


async def _refused(request: Request, error: Exception) -> Response:
    status, detail = (
        (error.status_code, error.detail) if isinstance(error, HTTPException) else (400, "")
    )
    told = "There is no such page here." if status == 404 else f"{detail}."
    return _told(request, status, told)


async def _wrong(request: Request, error: Exception) -> Response:
    return _told(request, 404 if isinstance(error, NotThere | NoSuchRun) else 400, str(error))


async def _broken(request: Request, _: Exception) -> Response:
    told = "An error in this program, not in your job. Nothing was changed; your jobs are kept."
    return _told(request, 500, told)


def _told(request: Request, status: int, told: str) -> Response:
    fragment = request.headers.get("HX-Request") == "true"
    name = "parts/error.html" if fragment else "error.html"
    return HTMLResponse(render(request, name, told=told.splitlines()), status)
