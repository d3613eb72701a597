"""What holds for every request: how large it may be, and what a browser may do with the answer."""

from __future__ import annotations

import asyncio
import re

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from takeoff.jobs.refusals import MOST_BYTES

MOST_SENT = MOST_BYTES + 100_000
"""Bytes of a request with a file: the largest job list and what stands round it."""
MOST_TYPED = 500_000
"""Bytes of any other request: what a person can type."""
MOST_HEADINGS = 32_000
"""Bytes of all headings together, cookies among them."""
LONGEST_ADDRESS = 8_000
SLOWEST = 30
"""Seconds to wait for the next part of a request before it is given up."""
LONGEST = 600
"""Seconds that a whole request may take to come, however steadily it drips."""
FILES = "multipart/form-data"
_CHARSET = re.compile(r";\s*charset\s*=\s*\"?([^\";\s]*)", re.IGNORECASE)

HEADERS = {
    "Content-Security-Policy": "default-src 'self'; img-src 'self' data:; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
KEPT = "public, max-age=31536000, immutable"
"""For files whose address changes with what is in them."""


class _Refused(Exception):
    """A request is given up while it comes.

    Attributes:
        answer: why.
    """

    def __init__(self, answer: PlainTextResponse) -> None:
        super().__init__()
        self.answer = answer


class BodyLimit:
    """Middleware: refused is a request that is too large, too slow or in an odd encoding.

    What comes is counted, whatever the request says of its size.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, counting what comes."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        if refusal := _refused_at_once(scope):
            await refusal(scope, receive, send)
            return
        most = _most(Headers(scope=scope))
        came = 0
        complete = begun = False
        latest = asyncio.get_running_loop().time() + LONGEST

        async def counted() -> Message:
            nonlocal came, complete
            if complete:  # what is waited for now is that the browser goes away
                return await receive()
            try:
                now = asyncio.get_running_loop().time()
                async with asyncio.timeout_at(min(now + SLOWEST, latest)):
                    message = await receive()
            except TimeoutError as error:
                raise _Refused(_told("This took too long to come. Send it again.", 408)) from error
            came += len(message.get("body", b""))
            complete = not message.get("more_body", False)
            if came > most:
                raise _Refused(_too_large(most))
            return message

        async def sent(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, counted, sent)
        except _Refused as refused:
            if not begun:
                await refused.answer(scope, receive, send)


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
                kept = scope["path"].startswith("/static/") and message["status"] < 400
                headers.setdefault("Cache-Control", KEPT if kept else "no-store")
                if scope["scheme"] == "https" and "set-cookie" in headers:
                    headers["Set-Cookie"] = f"{headers['Set-Cookie']}; secure"
            await send(message)

        await self.app(scope, receive, sent)


def _most(headers: Headers) -> int:
    """Bytes that may come."""
    kind = headers.get("content-type", "").casefold()
    return MOST_SENT if kind.startswith(FILES) else MOST_TYPED


def _refused_at_once(scope: Scope) -> PlainTextResponse | None:
    """Why a request is refused for what it says of itself; None where it is heard."""
    headers = Headers(scope=scope)
    length = headers.get("content-length", "0")
    charset = _CHARSET.search(headers.get("content-type", ""))
    if sum(len(name) + len(value) for name, value in headers.raw) > MOST_HEADINGS:
        return _told("The headings of this request are too long.", 431)
    if len(scope["path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
        return _told("This address is too long.", 414)
    if charset and charset[1].casefold() not in ("utf-8", "utf8"):
        return _told("A form has to be sent as UTF-8.", 415)
    if not length.isdecimal() or len(length) > 15 or int(length) > _most(headers):
        return _too_large(_most(headers))
    return None


def _too_large(most: int) -> PlainTextResponse:
    if most == MOST_TYPED:
        return _told("This is more than a form can hold. Nothing was kept of it.", 413)
    told = f"This is larger than {MOST_BYTES // 1_000_000} MB. Split the list into several."
    return _told(told, 413)


def _told(words: str, status: int) -> PlainTextResponse:
    return PlainTextResponse(words, status)
