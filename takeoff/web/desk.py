"""What every page works with: the jobs that are kept, the shop as it is set, things worked out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from takeoff.blanks import MadeLine
from takeoff.fittings import CannotMake
from takeoff.lengths import Length
from takeoff.materials import SheetMetal
from takeoff.nest import usable_sizes
from takeoff.settings import Profile
from takeoff.stock import StockList
from takeoff.stockroom import Room
from takeoff.stockroom.jobs import Jobs

from .cache import Cache
from .runs import Runs

MOST_MADE = 500
MOST_PICTURES = 2000
"""Kept in memory: fittings taken apart (some 100 kB each) and small pictures (some 5 kB)."""


@dataclass(frozen=True)
class ShopNow:
    """The shop as it is set at the moment.

    Attributes:
        profile: its settings.
        stock: its sheets.
        version: another one after every change of either.
    """

    profile: Profile
    stock: StockList
    version: int = 0

    def sizes(self, metal: SheetMetal) -> Sequence[tuple[Length, Length]]:
        """What fittings can be cut from in a metal, width by length (in)."""
        return usable_sizes(self.stock, self.profile)(metal)


@dataclass(frozen=True)
class Desk:
    """What every page works with.

    Attributes:
        room: the stock room, where jobs are kept as well.
        shop: the shop as it is set, asked for anew by every request.
        runs: plans and comparisons, in processes of their own.
        made: fittings taken apart, or why they cannot be made; see `making`.
        pictures: SVG of folded fittings.
    """

    room: Room
    shop: Callable[[], ShopNow]
    runs: Runs
    made: Cache[MadeLine | CannotMake] = field(default_factory=lambda: Cache(MOST_MADE))
    pictures: Cache[str] = field(default_factory=lambda: Cache(MOST_PICTURES))

    @property
    def jobs(self) -> Jobs:
        """The jobs that are kept."""
        return self.room.jobs
