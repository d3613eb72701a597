"""How often one address may ask for something: tokens that come back with time."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from ipaddress import IPv6Address
from math import ceil
from threading import Lock

from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from takeoff.plural import many

from .names import address_of

MOST_ADDRESSES = 10_000
"""Kept in memory; then those that have all their tokens are forgotten, or else all."""
SAME_NETWORK = 64
"""Bits of an IPv6 address that its owner cannot choose."""


@dataclass(frozen=True)
class Pace:
    """So many at once, and so many a second from then on."""

    at_once: float
    a_second: float


FORMS = Pace(at_once=400, a_second=20)
"""Of one address: some people who type, each with a picture as he does."""
TRIES = Pace(at_once=5, a_second=0.1)
"""Of passwords, of one address."""
ALL_TRIES = Pace(at_once=50, a_second=1)
"""Of passwords, of all addresses together."""


class Tokens:
    """Tokens by who asks; for any number of threads."""

    def __init__(self, pace: Pace, clock: Callable[[], float] = time.monotonic) -> None:
        self._pace = pace
        self._clock = clock
        self._left: dict[str, tuple[float, float]] = {}
        self._lock = Lock()

    def take(self, who: str) -> float:
        """Take one; gives the seconds to wait where there is none, 0 where it was taken."""
        with self._lock:
            now = self._clock()
            left = self._now(who, now)
            if left < 1:
                return (1 - left) / self._pace.a_second
            if len(self._left) >= MOST_ADDRESSES:
                self._forget(now)
            self._left[who] = left - 1, now
            return 0.0

    def _now(self, who: str, now: float) -> float:
        left, since = self._left.get(who, (self._pace.at_once, now))
        return min(self._pace.at_once, left + (now - since) * self._pace.a_second)

    def _forget(self, now: float) -> None:
        full = [who for who in self._left if self._now(who, now) >= self._pace.at_once]
        for who in full or list(self._left):
            del self._left[who]


def asker(scope: Scope) -> str:
    """Who a request comes from: an address, or the network of one."""
    client = scope.get("client")
    address = address_of(client[0]) if client else None
    if isinstance(address, IPv6Address) and address.ipv4_mapped is None:
        return str(int(address) >> (128 - SAME_NETWORK))
    return str(client[0]) if client else ""


class Paced:
    """Middleware: an address that sends forms faster than `pace` has to wait."""

    def __init__(self, app: ASGIApp, pace: Pace) -> None:
        self.app = app
        self._tokens = Tokens(pace)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or tell how long to wait."""
        wait = 0.0
        if scope["type"] == "http" and scope["method"] not in ("GET", "HEAD"):
            wait = self._tokens.take(asker(scope))
        if not wait:
            await self.app(scope, receive, send)
            return
        told = "Too many forms at once from your address. Nothing was kept of this one: go back, "
        told += f"wait {seconds(wait)} and send it again."
        headers = {"Retry-After": str(ceil(wait))}
        await PlainTextResponse(told, 429, headers)(scope, receive, send)


def seconds(wait: float) -> str:
    """`1 second`, `12 seconds`."""
    return many(ceil(wait), "second")
