"""Best-fit: each item goes to the free rectangle it fits most closely, which is then cut in two.

Items come in a fixed order; a sheet is opened when no free rectangle takes the next one.

References:
    J. Jylanki, A thousand ways to pack the bin (2010), section 2.2, names the fit and split rules;
    here both turns are scored at once and the cheapest stock by area that takes the item is opened.
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from nesting.arrays import IntArray
from nesting.build.base import Heuristic, register, without_limits
from nesting.build.drafts import Draft
from nesting.layouts import Layouts
from nesting.reduce import Reduced

Order = Callable[[IntArray, IntArray], IntArray]
Split = Callable[[int, int, int, int], bool]  # item w, l; left over beside, above

ORDERS: dict[str, Order] = {
    "area": lambda width, length: width * length,
    "longer side": np.maximum,
    "shorter side": np.minimum,
    "perimeter": lambda width, length: width + length,
}


def _one_large_part(width: int, length: int, beside: int, above: int) -> bool:
    """True when the part beside the item gets the whole length of the room."""
    return beside * (length + above) >= above * (width + beside)


def _two_even_parts(width: int, length: int, beside: int, above: int) -> bool:
    return not _one_large_part(width, length, beside, above)


SPLITS: dict[str, Split] = {
    "one large part": _one_large_part,
    "two even parts": _two_even_parts,
}


class _Rooms:
    """Free rectangles of all open sheets in one table: sheet, x, y, width, length."""

    def __init__(self) -> None:
        self.table = np.zeros((256, 5), dtype=np.int64)
        self.count = 0

    def add(self, sheet: int, x: int, y: int, width: int, length: int) -> None:
        if width <= 0 or length <= 0:
            return
        if self.count == len(self.table):
            self.table = np.concatenate([self.table, np.zeros_like(self.table)])
        self.table[self.count] = sheet, x, y, width, length
        self.count += 1

    def take(self, row: int) -> tuple[int, ...]:
        taken = tuple(self.table[row].tolist())
        self.count -= 1
        self.table[row] = self.table[self.count]
        return taken

    def closest(self, width: int, length: int) -> tuple[int, int]:
        """Row of the best room and how badly it fits; -1 when none takes the item."""
        rest_w = self.table[: self.count, 3] - width
        rest_l = self.table[: self.count, 4] - length
        if self.count == 0:
            return -1, 0
        smaller, larger = np.minimum(rest_w, rest_l), np.maximum(rest_w, rest_l)
        badness = np.where(smaller < 0, np.iinfo(np.int64).max, (smaller << 24) + larger)
        row = int(badness.argmin())
        return (row, int(badness[row])) if smaller[row] >= 0 else (-1, 0)


def best_fit(reduced: Reduced, order: Order, split: Split) -> Layouts:
    """Layouts by best fit; items no stock is left for are missing."""
    draft, rooms = Draft(reduced), _Rooms()
    key = order(reduced.item_w, reduced.item_l)
    for item in np.lexsort((-reduced.item_w * reduced.item_l, -key)).tolist():
        for _ in range(int(reduced.demand[item])):
            if not _place(draft, rooms, item, split):
                break
    return draft.layouts()


def _turns(reduced: Reduced, item: int) -> list[tuple[int, int, bool]]:
    width, length = int(reduced.item_w[item]), int(reduced.item_l[item])
    upright = [(width, length, False)]
    return [*upright, (length, width, True)] if reduced.turn[item] else upright


def _place(draft: Draft, rooms: _Rooms, item: int, split: Split) -> bool:
    turns = _turns(draft.reduced, item)
    found = _closest(rooms, turns)
    if found is None:
        if not _open(draft, rooms, turns):
            return False
        found = _closest(rooms, turns)
        assert found is not None
    row, (width, length, turned) = found
    sheet, x, y, room_w, room_l = rooms.take(row)
    draft.place(sheet, item, x, y, turned)
    rest_w, rest_l = room_w - width, room_l - length
    beside_whole = split(width, length, rest_w, rest_l)
    rooms.add(sheet, x + width, y, rest_w, room_l if beside_whole else length)
    rooms.add(sheet, x, y + length, width if beside_whole else room_w, rest_l)
    return True


def _closest(
    rooms: _Rooms, turns: list[tuple[int, int, bool]]
) -> tuple[int, tuple[int, int, bool]] | None:
    scored = [(rooms.closest(turn[0], turn[1]), turn) for turn in turns]
    fitting = [(badness, row, turn) for (row, badness), turn in scored if row >= 0]
    if not fitting:
        return None
    _, row, turn = min(fitting)
    return row, turn


def _open(draft: Draft, rooms: _Rooms, turns: list[tuple[int, int, bool]]) -> bool:
    reduced = draft.reduced
    for kind in draft.kinds_at_hand():
        bin_w, bin_l = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
        if any(width <= bin_w and length <= bin_l for width, length, _ in turns):
            rooms.add(draft.open(kind), 0, 0, bin_w, bin_l)
            return True
    return False


for _order_name, _order in ORDERS.items():
    for _split_name, _split in SPLITS.items():
        register(
            Heuristic(
                name=f"best fit by {_order_name}, {_split_name}",
                rank=1,
                supports=without_limits,
                build=partial(best_fit, order=_order, split=_split),
            )
        )
