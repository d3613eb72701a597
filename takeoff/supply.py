"""Where the metal of a plan comes from: bought, on hand in the stock room, or off the rack."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

ROOM_LIST = "the stock room"
"""What papers call the source of sizes that the room lists."""


class Supply(StrEnum):
    """How a shop comes by a piece of metal."""

    BUY = "buy"
    ON_HAND = "on hand"
    RACK = "rack"


class Draw(StrEnum):
    """What a plan takes from the stock room before it buys."""

    NOTHING = "nothing"
    OFFCUTS = "offcuts"
    ALL = "all"


@dataclass(frozen=True)
class RackPiece:
    """An offcut on the rack: its label, and where it stands ("" where nobody wrote it down)."""

    label: str
    place: str = ""

    @property
    def told(self) -> str:
        """`R12 (bay 3)`."""
        return f"{self.label} ({self.place})" if self.place else self.label
