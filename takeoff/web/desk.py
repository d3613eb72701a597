"""What every page works with: the jobs that are kept, the shop as it is set, things worked out."""

from __future__ import annotations

from dataclasses import dataclass, field

from takeoff.blanks import MadeLine
from takeoff.fittings import CannotMake
from takeoff.stockroom import Room, StoredJob
from takeoff.stockroom.jobs import Jobs

from .cache import Cache
from .reading import ReadJob, read_stored
from .runs import Runs
from .shop_book import ShopBook, ShopNow

MOST_MADE = 300
MOST_PICTURES = 2000
MOST_READ = 50
"""Kept in memory: fittings taken apart (some 200 kB each), pictures (some 5 kB), jobs as read."""


@dataclass(frozen=True)
class Desk:
    """What every page works with.

    Attributes:
        room: the stock room, where jobs are kept as well.
        book: the shop's settings and the sheets that it buys.
        runs: plans and comparisons, in processes of their own.
        made: fittings taken apart, or why they cannot be made; see `making`.
        pictures: SVG of folded fittings.
        read: jobs as they read; see `reading`.
    """

    room: Room
    book: ShopBook
    runs: Runs
    made: Cache[MadeLine | CannotMake] = field(default_factory=lambda: Cache(MOST_MADE))
    pictures: Cache[str] = field(default_factory=lambda: Cache(MOST_PICTURES))
    read: Cache[ReadJob] = field(default_factory=lambda: Cache(MOST_READ))

    def shop(self) -> ShopNow:
        """The shop as it is set; to be asked for anew by every request."""
        return self.book.now()

    @property
    def jobs(self) -> Jobs:
        """The jobs that are kept."""
        return self.room.jobs

    def reading(self, job: StoredJob, shop: ShopNow) -> ReadJob:
        """A job as it reads by the shop's settings; an unchanged one is not read again."""
        key = job.id, job.created, job.version, shop.version
        return self.read.get(key, lambda: read_stored(job, shop.profile.code))
