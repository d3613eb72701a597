"""By what names the page is asked for, and from where its forms come.

A page of elsewhere can let its own name lead to this computer (DNS rebinding); the browser then
takes both for one place. So a request has to name an address or a name that is ours.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address, ip_address

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

_HOST = re.compile(r"(?:\[(?P<six>[0-9a-f:.]+)\]|(?P<name>[a-z0-9._-]+))(?::\d{1,5})?")
_LOOKS = ("GET", "HEAD")
_OWN_FORMS = ("same-origin", "none")


@dataclass(frozen=True)
class Names:
    """What the page is called.

    Attributes:
        known: names and addresses besides those of loopback, in lower case.
        any_address: whether any address will do, as where it listens on all there are; a foreign
            page can lend its name to this computer, but not an address.
    """

    known: frozenset[str] = frozenset()
    any_address: bool = False

    def know(self, host: str) -> bool:
        """Whether the header Host names this page; the port is of no matter."""
        found = _HOST.fullmatch(host.casefold())
        if found is None:
            return False
        name = (found["six"] or found["name"]).rstrip(".")
        address = address_of(name)
        if name == "localhost" or name in self.known:
            return True
        return address is not None and (self.any_address or address.is_loopback)


def address_of(name: str) -> IPv4Address | IPv6Address | None:
    """The address that a name is; None for any other name."""
    try:
        return ip_address(name)
    except ValueError:
        return None


class KnownNames:
    """Middleware: refused is a request to another name, and a form that a foreign page sends."""

    def __init__(self, app: ASGIApp, names: Names) -> None:
        self.app = app
        self.names = names

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        host = headers.getlist("host")
        if len(host) != 1 or not self.names.know(host[0]):
            told = "This page is not known by the name in the address. Use the one it told."
            await PlainTextResponse(told, 421)(scope, receive, send)
        elif scope["method"] not in _LOOKS and _foreign(headers, host[0]):
            told = "This form was sent by another page. Nothing was changed."
            await PlainTextResponse(told, 403)(scope, receive, send)
        else:
            await self.app(scope, receive, send)


def _foreign(headers: Headers, host: str) -> bool:
    """Whether the browser tells that another page sends the form."""
    origin = headers.get("origin")
    if origin is not None and origin.casefold().partition("://")[2] != host.casefold():
        return True
    return headers.get("sec-fetch-site", "none") not in _OWN_FORMS
