"""Sheet by sheet: fill one of every stock kind by several rules and keep the densest for its money.

It is cut as often as the demand allows before the next one is made from what is left.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.build.base import Heuristic, register, without_limits
from nesting.build.drafts import Draft
from nesting.layouts import Layouts
from nesting.reduce import Reduced


class _Spot(NamedTuple):
    item: int
    x: int
    y: int
    turned: bool


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


def _fill(sides: _Sides, left: IntArray, width: int, length: int, rule: str) -> list[_Spot]:
    """Put items into one rectangle until nothing fits; `left` is used up in place."""
    spots, rooms = [], [(0, 0, width, length)]
    while rooms:
        x, y, room_w, room_l = rooms.pop()
        fits = (sides.width <= room_w) & (sides.length <= room_l) & (left[sides.item] > 0)
        if not fits.any():
            continue
        badness = np.where(fits, _badness(rule, sides, room_w, room_l), np.iinfo(np.int64).max)
        side = int(badness.argmin())
        item_w, item_l = int(sides.width[side]), int(sides.length[side])
        left[sides.item[side]] -= 1
        spots.append(_Spot(int(sides.item[side]), x, y, bool(sides.turned[side])))
        rest_w, rest_l = room_w - item_w, room_l - item_l
        beside_whole = rest_w * room_l >= room_w * rest_l
        beside = (x + item_w, y, rest_w, room_l if beside_whole else item_l)
        above = (x, y + item_l, item_w if beside_whole else room_w, rest_l)
        rooms.extend(sorted((beside, above), key=lambda r: -r[2] * r[3]))
    return spots


def densest(reduced: Reduced) -> Layouts:
    """Layouts sheet by sheet; items no stock is left for are missing."""
    draft, sides, left = Draft(reduced), _sides(reduced), reduced.demand.copy()
    areas = reduced.item_w * reduced.item_l
    while left.any():
        best: tuple[float, int, list[_Spot]] | None = None
        for kind in draft.kinds_at_hand():
            cost = max(float(reduced.bin_cost[kind]), 1e-9)
            for rule in RULES:
                trial = left.copy()
                room = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
                spots = _fill(sides, trial, *room, rule)
                gain = float(((left - trial) * areas).sum()) / cost
                if spots and (best is None or gain > best[0]):
                    best = gain, kind, spots
        if best is None:
            break
        _cut(draft, best[1], best[2], left)
    return draft.layouts()


def _cut(draft: Draft, kind: int, spots: list[_Spot], left: IntArray) -> None:
    """Use a sheet layout as often as demand and stock allow."""
    used = np.bincount([spot.item for spot in spots], minlength=len(left))
    often = int((left[used > 0] // used[used > 0]).min())
    for _ in range(min(often, draft.stock_left[kind])):
        sheet = draft.open(kind)
        for spot in spots:
            draft.place(sheet, *spot)
        left -= used


register(Heuristic("densest sheet first", 1, without_limits, densest))
