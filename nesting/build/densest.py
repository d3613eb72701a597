"""Sheet by sheet: fill one of every stock kind by several rules and keep the densest for its money.

It is cut as often as the demand allows before the next one is made from what is left.
"""

from dataclasses import dataclass

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.build.base import Heuristic, register, without_limits
from nesting.build.drafts import Draft, Spot
from nesting.layouts import Layouts
from nesting.reduce import Reduced


@dataclass(frozen=True)
class _Sides:
    """Every item in every turn allowed: type, width, length, turned, area; int64[t] each."""

    item: IntArray
    width: IntArray
    length: IntArray
    turned: BoolArray
    area: IntArray


def _sides(reduced: Reduced) -> _Sides:
    upright = np.arange(len(reduced.item_w))
    lying = upright[reduced.turn]
    width = np.concatenate([reduced.item_w, reduced.item_l[lying]])
    length = np.concatenate([reduced.item_l, reduced.item_w[lying]])
    turned = np.arange(len(width)) >= len(upright)
    return _Sides(np.concatenate([upright, lying]), width, length, turned, width * length)


RULES = ("largest", "closest width", "closest length")


def _badness(rule: str, sides: _Sides, width: int, length: int) -> IntArray:
    if rule == "closest width":
        return (width - sides.width) * (1 << 24) - sides.length
    if rule == "closest length":
        return (length - sides.length) * (1 << 24) - sides.width
    return -sides.area


def _fill(sides: _Sides, left: IntArray, width: int, length: int, rule: str) -> list[Spot]:
    """Put items into one rectangle until nothing fits; `left` is used up in place.

    Copies of an item go in together, in a row or a column.
    """
    spots, rooms = [], [(0, 0, width, length)]
    while rooms:
        x, y, room_w, room_l = rooms.pop()
        fits = (sides.width <= room_w) & (sides.length <= room_l) & (left[sides.item] > 0)
        if not fits.any():
            continue
        badness = np.where(fits, _badness(rule, sides, room_w, room_l), np.iinfo(np.int64).max)
        side = int(badness.argmin())
        item_w, item_l = int(sides.width[side]), int(sides.length[side])
        item, turned = int(sides.item[side]), bool(sides.turned[side])
        beside_whole = (room_w - item_w) * room_l >= room_w * (room_l - item_l)
        copies = min(int(left[item]), room_l // item_l if beside_whole else room_w // item_w)
        left[item] -= copies
        step_x, step_y = (0, item_l) if beside_whole else (item_w, 0)
        spots += [Spot(item, x + n * step_x, y + n * step_y, turned) for n in range(copies)]
        wide, long = item_w + (copies - 1) * step_x, item_l + (copies - 1) * step_y
        beside = (x + wide, y, room_w - wide, room_l if beside_whole else long)
        above = (x, y + long, wide if beside_whole else room_w, room_l - long)
        rooms.extend(sorted((beside, above), key=lambda r: -r[2] * r[3]))
    return spots


def fill_one(reduced: Reduced, left: IntArray, kind: int) -> list[Spot]:
    """The best filling of one sheet of a stock kind with the items left; they aren't used up."""
    areas = reduced.item_w * reduced.item_l
    found = fillings(reduced, left, kind)
    return max(found, key=lambda spots: sum(int(areas[spot.item]) for spot in spots))


def fillings(reduced: Reduced, left: IntArray, kind: int) -> list[list[Spot]]:
    """A filling of one sheet of a stock kind by each rule; the items left aren't used up."""
    room = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
    return [_fill(_sides(reduced), left.copy(), *room, rule) for rule in RULES]


@dataclass(frozen=True)
class _Filling:
    """One sheet filled by one rule: where its items lie, how many of each type, their area."""

    spots: list[Spot]
    used: IntArray
    gain: int


class _Fillings:
    """The best filling of every stock kind, each rule's kept until its items run short.

    Items only ever grow fewer. A rule that still has all it has used would choose the same again.
    """

    def __init__(self, reduced: Reduced) -> None:
        self._reduced = reduced
        self._sides = _sides(reduced)
        self._areas = reduced.item_w * reduced.item_l
        self._known: dict[tuple[int, str], _Filling] = {}

    def best(self, kind: int, left: IntArray) -> _Filling:
        """Of one sheet of a kind, with the items left."""
        return max((self._by(kind, rule, left) for rule in RULES), key=lambda found: found.gain)

    def _by(self, kind: int, rule: str, left: IntArray) -> _Filling:
        known = self._known.get((kind, rule))
        if known is not None and bool((known.used <= left).all()):
            return known
        room = int(self._reduced.bin_w[kind]), int(self._reduced.bin_l[kind])
        spots = _fill(self._sides, left.copy(), *room, rule)
        used = np.bincount([spot.item for spot in spots], minlength=len(left)).astype(np.int64)
        found = _Filling(spots, used, int(used @ self._areas))
        self._known[kind, rule] = found
        return found


def densest(reduced: Reduced) -> Layouts:
    """Layouts sheet by sheet; items no stock is left for are missing."""
    draft, left = Draft(reduced), reduced.demand.copy()
    fillings = _Fillings(reduced)
    while left.any():
        best: tuple[float, int, list[Spot]] | None = None
        for kind in draft.kinds_at_hand():
            filling = fillings.best(kind, left)
            worth = filling.gain / max(float(reduced.bin_cost[kind]), 1e-9)
            if filling.spots and (best is None or worth > best[0]):
                best = worth, kind, filling.spots
        if best is None:
            break
        draft.cut(best[1], best[2], left)
    return draft.layouts()


register(Heuristic("densest sheet first", 0, without_limits, densest))
