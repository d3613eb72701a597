"""The application on a port of this computer."""

from __future__ import annotations

import os
import secrets
import socket
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from takeoff.errors import TakeoffError

from .app import build
from .desk import Desk
from .door import Door
from .guard import MOST_HEADINGS
from .names import Names, address_of

MOST_AT_ONCE = 200
"""Lines that are open; the next one is told to come back."""
KEY_FILE = "sessions.key"
TURN = 0.001
"""Seconds that one page keeps the core while others wait for it; Python's own 5 ms hold up quick
pages, which need it many times, behind each that draws."""


class NoPort(TakeoffError, OSError):
    """A port that cannot be listened on."""


@dataclass(frozen=True)
class Place:
    """Where the page is to be found.

    Attributes:
        host: the address to listen on.
        port: its port; 0 for any that is free.
        names: that it is reached by besides, as through a proxy on this computer.
    """

    host: str
    port: int
    names: frozenset[str] = frozenset()

    @property
    def known(self) -> Names:
        """What it may be called."""
        address = address_of(self.host)
        everywhere = address is not None and address.is_unspecified
        return Names(self.names | {self.host.casefold()}, everywhere)


def serve(
    desk: Desk, place: Place, secret: str, password: str, tell: Callable[[str], None]
) -> None:
    """Serve until the process is told to end.

    Args:
        desk: what the pages work with.
        place: where.
        secret: that sessions are signed with.
        password: hash of what is asked for first; "": nothing is.
        tell: is given the address of the first page once it can be opened.

    Raises:
        NoPort: it is taken, or no address of this computer.
    """
    import uvicorn  # noqa: PLC0415 - slow to load

    config = uvicorn.Config(
        build(desk, secret, Door(password), place.known),
        log_level="warning",
        access_log=False,
        server_header=False,
        # what a proxy on this computer tells of who asks, and whether by https
        proxy_headers=bool(place.names),
        forwarded_allow_ips=["127.0.0.1", "::1"],
        ws="none",
        h11_max_incomplete_event_size=MOST_HEADINGS,
        limit_concurrency=MOST_AT_ONCE,
    )
    with _listening(place.host, place.port) as ear:
        at, number = ear.getsockname()[:2]
        sys.setswitchinterval(TURN)
        tell(f"http://[{at}]:{number}/" if ":" in at else f"http://{at}:{number}/")
        uvicorn.Server(config).run([ear])


def secret_in(folder: Path) -> str:
    """What sessions are signed with, kept in a folder so that they outlast a restart.

    Only the user himself may read the file; where it cannot be read or written, sessions end with
    the process.
    """
    file = folder / KEY_FILE
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with open(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as new:  # noqa: PTH123 - with its mode from the start
            new.write(secrets.token_urlsafe(48))
    except FileExistsError:
        pass
    except OSError:
        return secrets.token_urlsafe(48)
    try:
        return file.read_text(encoding="ascii").strip() or secrets.token_urlsafe(48)
    except (OSError, UnicodeDecodeError):
        return secrets.token_urlsafe(48)


def _listening(host: str, port: int) -> socket.socket:
    try:
        family = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0][0]
        ear = socket.create_server((host, port), family=family, backlog=128)
        # asyncio leaves it out of sockets made elsewhere; without it each answer waits 40 ms
        ear.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    except (OSError, OverflowError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        told = f"Port {port} of {host} cannot be used: {reason}. Name another with --port."
        raise NoPort(told) from error
    return ear
