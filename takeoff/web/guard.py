"""What holds for every request: how large it may be, and what a browser may do with the answer."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from takeoff.jobs.refusals import MOST_BYTES

MOST_SENT = MOST_BYTES + 100_000
"""Bytes of a request: the largest job list and what stands round it."""

HEADERS = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data:; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
KEPT = "public, max-age=31536000, immutable"
"""For files whose address changes with what is in them."""


class _TooLarge(Exception):
    """More was sent than is allowed."""


class BodyLimit:
    """Middleware: a request larger than `MOST_SENT` is refused, however it is sent."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, counting what comes."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        length = Headers(scope=scope).get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_SENT:
            await _refusal()(scope, receive, send)
            return
        came = 0
        begun = False

        async def counted() -> Message:
            nonlocal came
            message = await receive()
            came += len(message.get("body", b""))
            if came > MOST_SENT:
                raise _TooLarge
            return message

        async def sent(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, counted, sent)
        except _TooLarge:
            if not begun:
                await _refusal()(scope, receive, send)


class SafeHeaders:
    """Middleware: the answer tells the browser to load nothing from elsewhere."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, and the answer back with `HEADERS`."""

        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                kept = scope["path"].startswith("/static/")
                headers.setdefault("Cache-Control", KEPT if kept else "no-store")
            await send(message)

        await self.app(scope, receive, sent)


def _refusal() -> PlainTextResponse:
    told = f"This is larger than {MOST_BYTES // 1_000_000} MB. Split the list into several."
    return PlainTextResponse(told, 413)
