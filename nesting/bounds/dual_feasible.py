"""Sheets needed of one stock kind, by products of dual feasible functions over both orientations.

Take a dual feasible f for the width W and g for the length L of the sheet, with capacities 1. In
every packing of one sheet, guillotine or not, the items as they lie satisfy
sum f(w_i) g(l_i) <= 1.

Proof. Items that follow each other along x are side by side on one line, so their f sums to at most
1; hence giving each item the width f(w_i) and the place "longest chain of f to its left" keeps all
that were apart in x apart and inside width 1. The same along y with g. So the items with sides
f(w_i), g(l_i) pack into the unit square, and their area is at most 1 (Fekete and Schepers 2004,
"A general framework for bounds for higher-dimensional orthogonal packing problems"). A mean of
several such weights is one again.

A weight of the *item*, whichever way it lies, follows in two ways:

* the lesser of the two orientations: never above the weight it has as it lies;
* on a square sheet, the mean of the two orientations: the packing mirrored at the diagonal packs
  every item the other way, and the mean of both inequalities holds (Clautiaux, Jouglet and El Hayek
  2007, "A new lower bound for the non-oriented two-dimensional bin-packing problem"; they double
  the items and the bins). Never less than the first way when all items may be turned.

Sheets >= sum of weights x copies, rounded up. The best pair is found in floating point, then its
sum is worked out again in integers: what is returned is exact.
"""

from dataclasses import dataclass

import numpy as np

from nesting.arrays import BoolArray, FloatArray, IntArray
from nesting.bounds.families import Axis, Scales, family
from nesting.reduce import Reduced

PAIRS_AT_ONCE = 256
"""Pairs worked out in one go when the weight is the lesser of two orientations."""

TOLERANCE = 1e-9


@dataclass(frozen=True)
class Sides:
    """The functions on both sides of one stock kind, in columns 0 .. m-1 and m .. 2m-1.

    Column i is item type i in its first orientation, column m + i in its second; both are the same
    for an item that can lie in this stock only one way.

    Attributes:
        across: along the width of the stock.
        along: along its length.
        fits: bool[m], the item fits in at all.
        demand: int64[m], copies; 0 where the item does not fit.
    """

    across: Scales
    along: Scales
    fits: BoolArray
    demand: IntArray


def sheets_needed(reduced: Reduced, kind: int) -> int:
    """Sheets of one kind that the items which fit it need, when they all go on that kind.

    Args:
        reduced: the problem in integers.
        kind: index of the stock kind.
    """
    may_turn = reduced.turn | (reduced.item_w == reduced.item_l)
    if reduced.bin_w[kind] != reduced.bin_l[kind] or not reduced.turn.any():
        return _by_lesser(sides(reduced, kind))
    needed = _by_mirror(mirrored_sides(reduced, kind))
    return needed if may_turn.all() else max(needed, _by_lesser(sides(reduced, kind)))


def sides(reduced: Reduced, kind: int) -> Sides:
    """The families on both sides of a stock kind, for the ways the items may lie in it."""
    width, length = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
    w, h = reduced.item_w, reduced.item_l
    straight = (w <= width) & (h <= length)
    turned = reduced.turn & (h <= width) & (w <= length)
    fits = straight | turned
    demand = np.where(fits, reduced.demand, 0)
    first, second = np.where(straight, w, h), np.where(turned, h, w)
    other_first, other_second = np.where(straight, h, w), np.where(turned, w, h)
    return Sides(
        family(_axis(width, first, second, demand)),
        family(_axis(length, other_first, other_second, demand)),
        fits,
        demand,
    )


def mirrored_sides(reduced: Reduced, kind: int) -> Sides:
    """The families of a square kind for a packing and its mirror image: every item both ways."""
    side = int(reduced.bin_w[kind])
    w, h = reduced.item_w, reduced.item_l
    fits = np.maximum(w, h) <= side
    demand = np.where(fits, reduced.demand, 0)
    across, along = _axis(side, w, h, demand), _axis(side, h, w, demand)
    return Sides(family(across), family(along), fits, demand)


def mean_weights(pair: Sides) -> FloatArray:
    """Sum of weight x copies for all pairs, an item weighing the mean of its two columns.

    Returns:
        float64[rows of across, rows of along].
    """
    copies = np.concatenate([pair.demand, pair.demand]) / 2
    return np.asarray((pair.across.shares() * copies) @ pair.along.shares().T, dtype=np.float64)


def lesser_weights(pair: Sides, rows: IntArray, columns: IntArray) -> FloatArray:
    """Sum of weight x copies for the chosen pairs, an item weighing the lesser of its columns.

    Returns:
        float64[pairs].
    """
    m = pair.demand.size
    both = pair.across.pick(rows).shares() * pair.along.pick(columns).shares()
    return np.asarray(np.minimum(both[:, :m], both[:, m:]) @ pair.demand, dtype=np.float64)


def _axis(side: int, first: IntArray, second: IntArray, demand: IntArray) -> Axis:
    """Items that don't fit stand in with the full side and no copies, so nothing overflows."""
    return Axis(side, np.where(demand > 0, first, side), np.where(demand > 0, second, side), demand)


def _by_mirror(pair: Sides) -> int:
    """The bound by the mean of both orientations; the caller has made sure that it is valid."""
    total = mean_weights(pair)
    row, column = np.unravel_index(int(total.argmax()), total.shape)
    first, second, capacity = _exact_weights(pair, int(row), int(column))
    weighed: int = sum(
        d * (a + b) for d, a, b in zip(pair.demand.tolist(), first, second, strict=True)
    )
    return -(-weighed // (2 * capacity))


def _by_lesser(pair: Sides) -> int:
    """The bound by the lesser of both orientations.

    The mean is never below the lesser, so pairs are tried in falling order of the mean, and only
    while it is above the best found.
    """
    mean = mean_weights(pair)
    best_at = int(mean.argmax())
    best = float(lesser_weights(pair, *_as_arrays(best_at, mean))[0])
    open_pairs = np.flatnonzero(mean.ravel() > best + TOLERANCE)
    open_pairs = open_pairs[np.argsort(-mean.ravel()[open_pairs], kind="stable")]
    for start in range(0, open_pairs.size, PAIRS_AT_ONCE):
        chosen = open_pairs[start : start + PAIRS_AT_ONCE]
        if mean.flat[int(chosen[0])] <= best + TOLERANCE:
            break
        lesser = lesser_weights(pair, *_as_arrays(chosen, mean))
        top = int(lesser.argmax())
        if lesser[top] > best:
            best, best_at = float(lesser[top]), int(chosen[top])
    row, column = divmod(best_at, mean.shape[1])
    first, second, capacity = _exact_weights(pair, row, column)
    weighed: int = sum(
        d * min(a, b) for d, a, b in zip(pair.demand.tolist(), first, second, strict=True)
    )
    return -(-weighed // capacity)


def _as_arrays(flat: int | IntArray, table: FloatArray) -> tuple[IntArray, IntArray]:
    """Row and column numbers of flat indices into a table."""
    rows, columns = np.divmod(np.atleast_1d(np.asarray(flat, dtype=np.int64)), table.shape[1])
    return rows, columns


def _exact_weights(pair: Sides, row: int, column: int) -> tuple[list[int], list[int], int]:
    """Weights of all items in both orientations as Python integers, and their common capacity."""
    f = pair.across.values[row].tolist()
    g = pair.along.values[column].tolist()
    products: list[int] = [a * b for a, b in zip(f, g, strict=True)]
    capacity = int(pair.across.capacity[row]) * int(pair.along.capacity[column])
    m = pair.demand.size
    return products[:m], products[m:], capacity
