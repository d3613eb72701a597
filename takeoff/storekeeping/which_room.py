"""Which stock room is meant, and opening it."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from takeoff.errors import TakeoffError
from takeoff.settings import Profile

if TYPE_CHECKING:
    from takeoff.stockroom import Room

VARIABLE = "BLANKWRIGHT_ROOM"
"""The environment variable that names the room where no option does."""


class NoRoom(TakeoffError, FileNotFoundError):
    """There is no stock room yet at the place named."""


def place_of(asked: str | None, profile: Profile) -> str:
    """The place of the room: as asked, else by the environment, else by the profile; "": usual."""
    return asked or os.environ.get(VARIABLE, "") or profile.room.place


def open_existing(place: str) -> Room:
    """The room at a place. Raises NoRoom where none was set up; RoomFailure."""
    from takeoff.stockroom import is_there, open_room  # noqa: PLC0415 - takes a database library

    if not is_there(place):
        where = f"at {place}" if place else "in your own data folder"
        raise NoRoom(
            f"There is no stock room {where}. Set it up with `blankwright stock import`, "
            "`stock add` or `rack add`, or name another with --room."
        )
    return open_room(place)


def open_or_set_up(place: str) -> Room:
    """The room at a place, set up where there is none. Raises RoomFailure."""
    from takeoff.stockroom import open_room  # noqa: PLC0415 - takes a database library

    return open_room(place)
