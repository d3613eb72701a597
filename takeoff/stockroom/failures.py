"""What a database driver reports, as a sentence for the person at the screen."""

from __future__ import annotations

import sqlite3

import sqlalchemy as sa

from .errors import (
    NotARoom,
    RoomBusy,
    RoomFailure,
    RoomFull,
    RoomReadOnly,
    RoomUnreachable,
)

Told = tuple[type[RoomFailure], str]

FULL = (
    RoomFull,
    "no space is left where {place} is kept. Nothing was changed: make space, do it again.",
)
READ_ONLY = (
    RoomReadOnly,
    "{place} may be read and not written. Nothing was changed: ask for leave to write it, its "
    "folder included.",
)
BUSY = RoomBusy, "others are writing to {place} all the time. Nothing was changed: do it again."
NOT_OPEN = (
    RoomUnreachable,
    "{place} cannot be opened: see that its folder is there and that you may write in it.",
)
NOT_A_ROOM = (
    NotARoom,
    "{place} is not a stock room, or it is damaged: name another file, or put back the last copy.",
)
DISK = (
    RoomFailure,
    "{place} could not be read or written ({said}). Nothing was changed: look at the disk.",
)
REFUSED = (
    RoomUnreachable,
    "{place} does not let you in: see to the user name and the password ({said}).",
)
NO_DATABASE = (
    RoomUnreachable,
    "{place} has no such database: have one made, or correct the name ({said}).",
)
NO_SERVER = (
    RoomUnreachable,
    "{place} does not answer: see that the server runs and that the address is right ({said}).",
)
CUT_OFF = (
    RoomUnreachable,
    "the connection to {place} was lost. Look at the last steps before you do it again ({said}).",
)
UNKNOWN = RoomFailure, "{place} refused the step. Nothing was changed ({said})."

SQLITE = {
    "SQLITE_FULL": FULL,
    "SQLITE_READONLY": READ_ONLY,
    "SQLITE_BUSY": BUSY,
    "SQLITE_LOCKED": BUSY,
    "SQLITE_CANTOPEN": NOT_OPEN,
    "SQLITE_NOTADB": NOT_A_ROOM,
    "SQLITE_CORRUPT": NOT_A_ROOM,
    "SQLITE_IOERR": DISK,
    "SQLITE_PERM": READ_ONLY,
}
"""By the name of the result code; an extended code begins with it."""

POSTGRES = {
    "53100": FULL,
    "53200": FULL,
    "25006": READ_ONLY,
    "42501": READ_ONLY,
    "28": REFUSED,
    "3D": NO_DATABASE,
    "08": CUT_OFF,
    "57P": CUT_OFF,
    "40": BUSY,
    "55P03": BUSY,
    "53300": BUSY,
    "XX001": NOT_A_ROOM,
}
"""By SQLSTATE, or the start of one. https://www.postgresql.org/docs/current/errcodes-appendix.html"""

RETRIED = ("40001", "40P01", "23505")
"""Of PostgreSQL: another was quicker; it works when done anew.

https://www.postgresql.org/docs/current/mvcc-serialization-failure-handling.html names unique
violations among these too.
"""


def worth_another_try(error: sa.exc.DBAPIError) -> bool:
    """Whether the same step may work when it is done anew from its start."""
    return getattr(error.orig, "sqlstate", None) in RETRIED


def told(error: sa.exc.DBAPIError, place: str) -> RoomFailure:
    """The error to raise in its stead."""
    kind, sentence = _found(error)
    said = " ".join(str(error.orig).split()).rstrip(".")
    return kind(sentence.format(place=place, said=said))


def _found(error: sa.exc.DBAPIError) -> Told:
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        name = getattr(cause, "sqlite_errorname", "")
        return next((SQLITE[start] for start in SQLITE if name.startswith(start)), UNKNOWN)
    state = getattr(cause, "sqlstate", None)
    if state is not None:
        return next((POSTGRES[start] for start in POSTGRES if state.startswith(start)), UNKNOWN)
    return CUT_OFF if error.connection_invalidated else _no_connection(str(cause))


def _no_connection(said: str) -> Told:
    """A connection that was never made has no code, only the server's words."""
    if "authentication failed" in said or "no password supplied" in said:
        return REFUSED
    return NO_DATABASE if "does not exist" in said else NO_SERVER
