"""Strips from edge to edge, each as high as its first item: a sheet that any shear can cut.

Cuts across free the strips, cuts along free the items, a third cut trims an item lower than its
strip. The items beside the first one are chosen by a bounded knapsack over the strip's width.
"""

from dataclasses import dataclass, replace

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.build.drafts import Spot
from nesting.reduce import Reduced


@dataclass(frozen=True)
class Style:
    """How strips are made.

    Attributes:
        across: strips run across the width, else along the length.
        even: only items of one height in a strip, so that no third cut is needed.
        upright: items that may be turned stand on their shorter side, else lie on the longer one.
    """

    across: bool
    even: bool
    upright: bool


STYLES = tuple(
    Style(across, even, upright)
    for across in (True, False)
    for even in (False, True)
    for upright in (False, True)
)


def fill_strips(reduced: Reduced, left: IntArray, kind: int, style: Style) -> list[Spot]:
    """Fill one sheet of a stock kind with strips; `left` is not used up.

    Args:
        reduced: the problem.
        left: int64[m], copies that may be used.
        kind: stock kind.
        style: of the strips.
    """
    if style.across:
        return _fill(reduced, left.copy(), kind, style)
    flipped = replace(
        reduced,
        item_w=reduced.item_l,
        item_l=reduced.item_w,
        bin_w=reduced.bin_l,
        bin_l=reduced.bin_w,
    )
    spots = _fill(flipped, left.copy(), kind, style)
    return [Spot(spot.item, spot.y, spot.x, spot.turned) for spot in spots]


def _fill(reduced: Reduced, left: IntArray, kind: int, style: Style) -> list[Spot]:
    bin_w, bin_l = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
    width, length, turned = _lie(reduced, style.upright, bin_w)
    spots: list[Spot] = []
    y = 0
    while True:
        fits = (left > 0) & (width <= bin_w) & (length <= bin_l - y)
        if not fits.any():
            return spots
        first = int(np.where(fits, length, -1).argmax())
        height = int(length[first])
        low = height if style.even else 1
        left[first] -= 1
        row = [first]
        may = np.flatnonzero((left > 0) & (length <= height) & (length >= low))
        row += _knapsack(
            width[may], (width * length)[may], left[may], bin_w - int(width[first]), may
        )
        x = 0
        for place, item in enumerate(row):
            left[item] -= place > 0
            spots.append(Spot(item, x, y, bool(turned[item])))
            x += int(width[item])
        y += height


def _lie(reduced: Reduced, upright: bool, bin_w: int) -> tuple[IntArray, IntArray, BoolArray]:
    """How each item type lies in the strips: width, length, turned."""
    width, length = reduced.item_w, reduced.item_l
    long_across = length > width
    turned = reduced.turn & (long_across != upright)
    wide = np.where(turned, length, width)
    turned ^= reduced.turn & (wide > bin_w)
    return np.where(turned, length, width), np.where(turned, width, length), turned


def _knapsack(
    width: IntArray, value: IntArray, copies: IntArray, room: int, names: IntArray
) -> list[int]:
    """Names of the items of greatest value that fit side by side in the room."""
    if room <= 0 or not len(width) or room < width.min():
        return []
    unit = int(np.gcd.reduce(width))
    room, width = room // unit, width // unit
    best = np.zeros(room + 1, dtype=np.int64)
    taken: list[tuple[int, int, BoolArray]] = []
    for place in np.argsort(-width, kind="stable").tolist():
        w = int(width[place])
        for _ in range(min(int(copies[place]), room // w)):
            with_it = best[:-w] + int(value[place])
            better = np.zeros(room + 1, dtype=np.bool_)
            better[w:] = with_it > best[w:]
            best[w:] = np.maximum(best[w:], with_it)
            taken.append((place, w, better))
            if not better.any():
                break
    chosen, at = [], room
    for place, w, better in reversed(taken):
        if better[at]:
            chosen.append(int(names[place]))
            at -= w
    return chosen
