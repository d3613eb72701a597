"""A desk with a stock room, settings and runs of its own, in a folder."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from takeoff.stockroom import open_room
from takeoff.web.desk import Desk
from takeoff.web.runs import Runs
from takeoff.web.runs.in_room import RoomLedger
from takeoff.web.shop_book import ShopBook


@contextmanager
def desk_in(folder: Path) -> Iterator[Desk]:
    """The desk; what it keeps is in the folder and outlasts it."""
    with (
        open_room(folder / "room.db") as room,
        closing(Runs(folder / "runs", RoomLedger(room))) as runs,
    ):
        yield Desk(room, ShopBook(folder / "shop.toml", room), runs)
