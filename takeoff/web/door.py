"""Who has given the password. Where there is none, everyone of this computer is inside."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable, MutableMapping
from threading import Lock
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from takeoff.errors import TakeoffError

from . import passwords
from .pace import ALL_TRIES, TRIES, Tokens, asker, seconds

PASS = "pass"
"""Key of the session of one who is inside."""
WORK_WEEK = 7 * 24 * 3600
"""Seconds until the password is asked for again."""
MOST_INSIDE = 1000

ENTER = "/enter"
OPEN = (ENTER, "/static/")
"""Where paths begin that are open to all."""

OUTSIDE = (
    "You are logged out, so nothing was kept. Log in from another page, come back to this one, "
    "copy what you typed, reload it and send it again."
)


class NotInside(TakeoffError):
    """A password that does not fit, or too many of them."""


class Door:
    """The password, and who gave it; for any number of threads.

    Args:
        kept: hash of the password; "": there is none, and everyone is inside.
        clock: seconds.
    """

    def __init__(self, kept: str = "", clock: Callable[[], float] = time.monotonic) -> None:
        self._kept = kept
        self._clock = clock
        self._inside: dict[str, float] = {}
        self._lock = Lock()
        self._tries = Tokens(TRIES, clock)
        self._all_tries = Tokens(ALL_TRIES, clock)

    @property
    def locked(self) -> bool:
        """Whether there is a password."""
        return bool(self._kept)

    def enter(self, request: Request, password: str) -> None:
        """Let the sender of a request in, under a new session. Raises NotInside."""
        wait = self._tries.take(asker(request.scope)) or self._all_tries.take("")
        if wait:
            raise NotInside(f"Too many tries. Wait {seconds(wait)}.")
        if not passwords.fits(password, self._kept):
            raise NotInside("This is not the password.")
        key = secrets.token_urlsafe(24)
        with self._lock:
            now = self._clock()
            self._inside = {each: till for each, till in self._inside.items() if till > now}
            while len(self._inside) >= MOST_INSIDE:
                del self._inside[min(self._inside, key=self._inside.__getitem__)]
            self._inside[key] = now + WORK_WEEK
        request.session.clear()
        request.session[PASS] = key

    def leave(self, request: Request) -> None:
        """Let him out; a copy of his cookie is worth nothing from now on."""
        with self._lock:
            self._inside.pop(str(request.session.get(PASS)), None)
        request.session.clear()

    def let_in(self, session: MutableMapping[str, Any]) -> bool:
        """Whether the owner of a session is inside."""
        if not self.locked:
            return True
        with self._lock:
            return self._inside.get(str(session.get(PASS)), 0.0) > self._clock()


class Locked:
    """Middleware: those outside see the page that asks for the password, and no other."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self.app = app
        self.door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or ask for the password first."""
        if (
            scope["type"] != "http"
            or scope["path"].startswith(OPEN)
            or self.door.let_in(scope["session"])
        ):
            await self.app(scope, receive, send)
            return
        await _sent_away(Request(scope))(scope, receive, send)


def _sent_away(request: Request) -> Response:
    if request.headers.get("HX-Request") == "true":
        return Response(status_code=204, headers={"HX-Redirect": ENTER})
    if request.method not in ("GET", "HEAD"):
        return PlainTextResponse(OUTSIDE, 401)
    there = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    return RedirectResponse(f"{ENTER}?to={quote(there, safe='/')}", 303)
