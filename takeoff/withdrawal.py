"""What a plan may take from the stock room: sheets on hand, and the offcuts that fit best.

A rack may hold more offcuts than an engine can weigh one by one. Those that take no blank are
left where they are. Of the others each blank names the pieces that it would fill best, in rows of
its own kind, the best first; and the largest pieces are named too, since they take blanks of
several kinds. All take turns until enough pieces are named.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from takeoff.blanks import JobBlank, grid_size
from takeoff.jobs.job import Job
from takeoff.lengths import to_grid
from takeoff.materials import SheetMetal
from takeoff.settings import Profile
from takeoff.stock import StockItem, as_new, price
from takeoff.supply import ROOM_LIST, RackPiece, Supply
from takeoff.supply import Draw as Draw  # noqa: PLC0414 - those who draw ask here too

MOST_OFFCUTS = 300
"""Pieces of a metal and gauge that the engine is offered."""

PERCENT = 100

_Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class OnHand:
    """Sheets of one size in the stock room; `price` of one, None where the shop set none."""

    material: str
    gauge: int
    name: str
    width: Fraction
    length: Fraction
    price: float | None
    qty: int


@dataclass(frozen=True)
class OnRack:
    """An offcut on the rack that is promised to nobody; sides in inches."""

    piece: RackPiece
    material: str
    gauge: int
    width: Fraction
    length: Fraction


@dataclass(frozen=True)
class RoomUse:
    """The stock room that a plan was made with.

    Attributes:
        identity: of the room, whatever name or address it goes by.
        place: its file or address, without a password.
        draw: what the plan may take from it.
        again: arguments of the command that makes the plan anew, room and folder left out; ()
            where they are unknown.
    """

    identity: str
    place: str
    draw: Draw
    again: tuple[str, ...] = ()


@dataclass(frozen=True)
class Withdrawal:
    """What of the stock room is free to be planned with.

    Attributes:
        use: which room, and what may be taken.
        sheets: on hand.
        offcuts: on the rack.
    """

    use: RoomUse
    sheets: tuple[OnHand, ...]
    offcuts: tuple[OnRack, ...]

    def items(
        self,
        metal: SheetMetal,
        blanks: Sequence[JobBlank],
        bought: Sequence[StockItem],
        job: Job,
        profile: Profile,
    ) -> tuple[StockItem, ...]:
        """What of one metal and gauge may be cut, as stock; its names are not those of `bought`.

        Args:
            metal: of the blanks.
            blanks: that are to be cut.
            bought: the sheets there are to buy, for the price of new metal.
            job: for its grid.
            profile: the shop's settings.
        """
        taken = {item.name for item in bought}
        found = [*self._sheets(metal, profile), *self._offcuts(metal, blanks, bought, job, profile)]
        return tuple(_renamed(item, taken) for item in found)

    def _sheets(self, metal: SheetMetal, profile: Profile) -> Iterable[StockItem]:
        if self.use.draw is not Draw.ALL:
            return
        for sheet in self.sheets:
            if (sheet.material, sheet.gauge) != (metal.material, metal.gauge) or not sheet.qty:
                continue
            size = sheet.width, sheet.length
            cost = sheet.price
            if cost is None:
                cost = price(sheet.material, sheet.gauge, *size, profile)
            yield StockItem(
                sheet.material,
                sheet.gauge,
                sheet.name,
                *size,
                cost,
                sheet.qty,
                ROOM_LIST,
                Supply.ON_HAND,
                sheet.name,
            )

    def _offcuts(
        self,
        metal: SheetMetal,
        blanks: Sequence[JobBlank],
        bought: Sequence[StockItem],
        job: Job,
        profile: Profile,
    ) -> Iterable[StockItem]:
        if self.use.draw is Draw.NOTHING:
            return
        mine = [
            offcut
            for offcut in self.offcuts
            if (offcut.material, offcut.gauge) == (metal.material, metal.gauge)
        ]
        chosen = choose(mine, blanks, job, profile)
        alike: dict[tuple[Fraction, Fraction], list[RackPiece]] = {}
        for offcut in chosen:
            alike.setdefault((offcut.width, offcut.length), []).append(offcut.piece)
        for (width, length), pieces in alike.items():
            yield StockItem(
                metal.material,
                metal.gauge,
                _name(pieces),
                width,
                length,
                _value(metal, width, length, bought, profile),
                len(pieces),
                "the rack",
                Supply.RACK,
                pieces=tuple(pieces),
            )


def choose(
    offcuts: Sequence[OnRack], blanks: Sequence[JobBlank], job: Job, profile: Profile
) -> list[OnRack]:
    """The offcuts that are worth offering to the engine, at most `MOST_OFFCUTS`, in their order."""
    grid = profile.grid.of(job.unit)
    edge = to_grid(profile.cut.kerf, grid) - 2 * to_grid(profile.cut.trim, grid)
    kerf = to_grid(profile.cut.kerf, grid)
    rooms = np.array(
        [[-to_grid(-side, grid) + edge for side in (o.width, o.length)] for o in offcuts],
        dtype=np.int64,
    ).reshape(-1, 2)
    if not len(rooms) or not blanks:
        return []
    copies: dict[tuple[int, int, bool], int] = {}
    for blank in blanks:
        width, length = grid_size(blank, profile, job)
        key = width + kerf, length + kerf, blank.turn
        copies[key] = copies.get(key, 0) + blank.qty
    shares = np.array([_share(rooms, size, many) for size, many in copies.items()])
    takes = shares.max(axis=0) > 0
    largest = np.where(takes, rooms.prod(axis=1), 0).astype(np.float64)
    return [offcuts[row] for row in sorted(_by_turns([*shares, largest], MOST_OFFCUTS))]


def _share(rooms: _Ints, size: tuple[int, int, bool], copies: int) -> npt.NDArray[np.float64]:
    """Of each room, the share that copies of one blank fill in rows; 0 where none fits."""
    width, length, turn = size
    usable = np.maximum(rooms, 0)
    many = (usable[:, 0] // width) * (usable[:, 1] // length)
    if turn:
        many = np.maximum(many, (usable[:, 0] // length) * (usable[:, 1] // width))
    area = np.maximum(usable.prod(axis=1), 1)
    return np.asarray(np.minimum(many, copies) * (width * length) / area, dtype=np.float64)


def _by_turns(ranks: Sequence[npt.NDArray[np.float64]], most: int) -> set[int]:
    """Rows that the rankings name in turn, each its highest first; what it ranks 0 it names not."""
    orders = [np.argsort(-rank, kind="stable")[: int((rank > 0).sum())].tolist() for rank in ranks]
    chosen: set[int] = set()
    for turn in range(max(map(len, orders))):
        for order in orders:
            if len(chosen) >= most:
                return chosen
            if turn < len(order):
                chosen.add(order[turn])
    return chosen


def _value(
    metal: SheetMetal,
    width: Fraction,
    length: Fraction,
    bought: Sequence[StockItem],
    profile: Profile,
) -> float:
    """What the shop lets an offcut cost: a share of the cheapest new metal of its area."""
    fresh = as_new(metal, width * length, bought, profile)
    return round(fresh * profile.room.offcut_value / PERCENT, 2)


def _name(pieces: Sequence[RackPiece]) -> str:
    """`rack R12`, `rack R12 and 2 alike`."""
    more = f" and {len(pieces) - 1} alike" if len(pieces) > 1 else ""
    return f"rack {pieces[0].label}{more}"


def _renamed(item: StockItem, taken: set[str]) -> StockItem:
    """The item under a name that no other has."""
    name = f"{item.name} (on hand)" if item.supply is Supply.ON_HAND else item.name
    while name in taken:
        name += "'"
    taken.add(name)
    return item.named(name)
