"""What is left of a sheet and worth keeping, each piece as large as can be kept whole."""

from collections.abc import Iterator, Sequence

import numpy as np

from nesting.arrays import IntArray
from nesting.blocks import merged
from nesting.cuts import Rect, separable
from nesting.model import Keep

TRIES = 6  # of the largest empty rectangles before the rest is left to the cut tree
MANY = 200  # blanks on a sheet, beyond which neighbours are taken together
MOST = 8  # offcuts of a sheet that are claimed; the small ones are left to the cut tree too


def claim_offcuts(kerf: int, region: Rect, placed: Sequence[Rect], keep: Keep) -> list[Rect]:
    """Empty rectangles worth keeping that guillotine cuts can free together with what is placed.

    The largest is claimed first, then the largest of what is left, and so on: one good offcut
    rather than several strips.

    Args:
        kerf: apart from everything else by this much.
        region: usable part of the sheet.
        placed: blanks.
        keep: what is worth it.
    """
    claimed: list[Rect] = []
    taken = list(placed) if len(placed) <= MANY else merged(kerf, placed)
    empty = _empty(kerf, region, taken, keep)
    while len(claimed) < MOST:
        found = next(_whole(kerf, empty, [*taken, *claimed]), None)
        if found is None:
            break
        claimed.append(found)
        empty = _without(empty, kerf, found, keep)
    return claimed


def _whole(kerf: int, empty: IntArray, taken: list[Rect]) -> Iterator[Rect]:
    """The largest empty rectangles that the cuts can leave whole, the largest first."""
    areas = (empty[:, 2] - empty[:, 0]) * (empty[:, 3] - empty[:, 1])
    for row in np.argsort(-areas, kind="stable")[:TRIES].tolist():
        x0, y0, x1, y1 = empty[row].tolist()
        rect = Rect(x0, y0, x1 - x0, y1 - y0)
        if separable(kerf, [*taken, rect]):
            yield rect


def _empty(kerf: int, region: Rect, placed: Sequence[Rect], keep: Keep) -> IntArray:
    """Corners x0, y0, x1, y1 of every largest-possible empty rectangle worth keeping."""
    x, y, width, length = region
    empty = np.array([[x, y, x + width, y + length]], dtype=np.int64)
    empty = empty[_worth(empty, keep)]
    for rect in placed:
        if not len(empty):
            break
        empty = _without(empty, kerf, rect, keep)
    return empty


def _without(empty: IntArray, kerf: int, rect: Rect, keep: Keep) -> IntArray:
    """The empty rectangles that remain when one is placed."""
    x0, y0 = rect.x - kerf, rect.y - kerf
    x1, y1 = rect.x + rect.width + kerf, rect.y + rect.length + kerf
    hit = (empty[:, 0] < x1) & (empty[:, 2] > x0) & (empty[:, 1] < y1) & (empty[:, 3] > y0)
    if not hit.any():
        return empty
    cut = empty[hit]
    around = []
    for column, edge in ((2, x0), (3, y0), (0, x1), (1, y1)):
        part = cut.copy()
        part[:, column] = edge
        around.append(part)
    new = np.concatenate(around)
    new = np.unique(new[_worth(new, keep)], axis=0)
    rest = empty[~hit]
    everything = np.concatenate([rest, new])
    inside = (
        (new[:, None, 0] >= everything[None, :, 0])
        & (new[:, None, 1] >= everything[None, :, 1])
        & (new[:, None, 2] <= everything[None, :, 2])
        & (new[:, None, 3] <= everything[None, :, 3])
    )
    return np.concatenate([rest, new[inside.sum(axis=1) == 1]])


def _worth(corners: IntArray, keep: Keep) -> IntArray:
    width, length = corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1]
    shorter = np.minimum(width, length)
    rows = (shorter >= keep.min_side) & (width * length >= keep.min_area)
    return np.flatnonzero(rows)
