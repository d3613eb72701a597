"""Dual feasible functions on whole numbers: the classic families, evaluated on many sizes at once.

A function f is dual feasible for a capacity C when sizes that fit side by side keep doing so:
sum(x) <= C implies sum(f(x)) <= f's own capacity. Replacing every length along one axis by such
values, and every length along the other axis by others, turns the area bound into a stronger one.
Everything stays in integers, so that a bound can be proved exactly.

References (numbers from memory):
    Martello and Vigo 1998, bound L_2, and Fekete and Schepers 2001, "New classes of fast lower
        bounds for bin packing problems": U^eps, u^(k) and phi^eps. phi^eps is left out: f_2 below
        is never smaller.
    Carlier, Clautiaux and Moukrim 2007, "New reduction procedures and lower bounds for the
        two-dimensional bin packing problem with fixed orientation": f_0, f_1 and f_2.
    Clautiaux, Alves and Valerio de Carvalho 2010, "A survey of dual-feasible and superadditive
        functions": f_VB,2 (Vanderbeck) and f_BJ,1 (Burdet and Johnson).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.arrays import FloatArray, IntArray

MOST_PARAMETERS = 128
"""Parameters tried in one family; where there are more candidates, an even sample of them."""


@dataclass(frozen=True)
class Axis:
    """One side of a stock kind and the lengths that items may lay along it.

    Attributes:
        capacity: the side of the stock.
        straight: int64[m], length of each item type along this side as given.
        turned: int64[m], the same after a quarter turn; equal to `straight` where not allowed.
        demand: int64[m], copies.
    """

    capacity: int
    straight: IntArray
    turned: IntArray
    demand: IntArray

    @property
    def sizes(self) -> IntArray:
        """int64[2 m]: straight, then turned; what the families are evaluated on."""
        return np.concatenate([self.straight, self.turned])


@dataclass(frozen=True)
class Scales:
    """Functions evaluated on sizes: row r gives size j the share values[r, j] / capacity[r].

    Attributes:
        values: int64[rows, sizes], not negative. Meaningless for sizes above the axis capacity.
        capacity: int64[rows], positive; what items side by side can reach at most.
    """

    values: IntArray
    capacity: IntArray

    def shares(self) -> FloatArray:
        """Values over capacity, float64[rows, sizes]."""
        return np.asarray(self.values / self.capacity[:, None], dtype=np.float64)

    def pick(self, rows: IntArray) -> Scales:
        """The chosen rows only."""
        return Scales(self.values[rows], self.capacity[rows])


def family(axis: Axis) -> Scales:
    """All functions below for one axis, equal rows once; the first row is the identity."""
    sizes, capacity = axis.sizes, axis.capacity
    parts = [
        identity(sizes, capacity),
        cut_off(sizes, capacity),
        stairs(sizes, capacity),
        divide(sizes, capacity),
        vanderbeck(sizes, capacity),
        burdet_johnson(sizes, capacity),
        cardinality(axis),
    ]
    return distinct(join(parts))


def join(parts: list[Scales]) -> Scales:
    """The rows of all parts below each other."""
    return Scales(
        np.concatenate([part.values for part in parts]),
        np.concatenate([part.capacity for part in parts]),
    )


def distinct(scales: Scales) -> Scales:
    """The rows that differ (to nine places), in their order."""
    rows = np.round(scales.shares(), 9) + 0.0
    first: dict[bytes, int] = {}
    for index, row in enumerate(rows):
        first.setdefault(row.tobytes(), index)
    return scales.pick(np.fromiter(first.values(), dtype=np.int64))


def identity(sizes: IntArray, capacity: int) -> Scales:
    """f(x) = x; on both axes it gives the area bound."""
    return Scales(sizes[None, :].copy(), np.array([capacity], dtype=np.int64))


def cut_off(sizes: IntArray, capacity: int) -> Scales:
    """f_0^p: sizes below p vanish, those above capacity - p fill everything (1 <= p <= C/2)."""
    edges = np.concatenate([sizes, capacity - sizes + 1])
    p = _sample(edges[(edges >= 1) & (2 * edges <= capacity)])[:, None]
    values = np.where(sizes > capacity - p, capacity, np.where(sizes < p, 0, sizes))
    return Scales(values, np.full(p.size, capacity, dtype=np.int64))


def stairs(sizes: IntArray, capacity: int) -> Scales:
    """u^(k): floor((k+1) x / C) / k, except that multiples of C / (k+1) keep their share."""
    k = _sample(np.arange(1, capacity, dtype=np.int64))[:, None]
    scaled = (k + 1) * sizes
    values = np.where(scaled % capacity == 0, k * sizes, scaled // capacity * capacity)
    return Scales(values, (k * capacity)[:, 0])


def divide(sizes: IntArray, capacity: int) -> Scales:
    """f_2^p: whole steps of p for sizes up to C/2, the complement's steps for larger ones."""
    p = _steps(sizes, capacity, capacity // 2)[:, None]
    full = 2 * (capacity // p)
    large = full - 2 * ((capacity - sizes) // p)
    small = 2 * (sizes // p)
    return Scales(_by_half(sizes, capacity, small, full // 2, large), full[:, 0])


def vanderbeck(sizes: IntArray, capacity: int) -> Scales:
    """f_VB,2^k: ceil(k x / C) - 1 steps for sizes up to C/2, mirrored above (k >= 2)."""
    k = _sample(np.arange(2, capacity + 1, dtype=np.int64))[:, None]
    full = 2 * (k - 1)

    def small(x: IntArray) -> IntArray:
        return np.asarray(2 * np.maximum(0, -(-k * x // capacity) - 1), dtype=np.int64)

    values = _by_half(sizes, capacity, small(sizes), k - 1, full - small(capacity - sizes))
    return Scales(values, full[:, 0])


def burdet_johnson(sizes: IntArray, capacity: int) -> Scales:
    """f_BJ,1 with parameter C / p: whole steps of p, and the rest beyond C mod p in proportion."""
    p = _steps(sizes, capacity, capacity)[:, None]
    rest = capacity % p
    values = sizes // p * (p - rest) + np.maximum(0, sizes % p - rest)
    return Scales(values, (capacity // p * (p - rest))[:, 0])


def cardinality(axis: Axis) -> Scales:
    """f_1^p: counts the items of p to C/2 that fit, so it depends on the items there are.

    M(c) is the most items of length p to C/2 that fit in c, each item once and laid the way that is
    shorter. Then f(x) = M(C) - M(C - x) above C/2, 1 from p to C/2, 0 below p; capacity M(C).
    """
    sizes, capacity = axis.sizes, axis.capacity
    parameters = _sample(sizes[2 * sizes <= capacity])
    rows = [_cardinality_row(axis, int(p)) for p in parameters]
    found = [(row, full) for row, full in rows if full > 0]
    values = np.array([row for row, _ in found], dtype=np.int64).reshape(len(found), sizes.size)
    return Scales(values, np.array([full for _, full in found], dtype=np.int64))


def _cardinality_row(axis: Axis, p: int) -> tuple[IntArray, int]:
    """One row of f_1 and its capacity M(C)."""
    sizes, capacity = axis.sizes, axis.capacity
    far = np.int64(capacity + 1)
    ways = [np.where((a >= p) & (2 * a <= capacity), a, far) for a in (axis.straight, axis.turned)]
    shorter = np.minimum(ways[0], ways[1])
    order = np.argsort(shorter, kind="stable")
    lengths = shorter[order]
    copies = axis.demand[order]
    taken = np.concatenate([[0], np.cumsum(copies)])
    used = np.concatenate([[0], np.cumsum(copies * lengths)])
    lengths = np.append(lengths, far)

    def most(room: IntArray) -> IntArray:
        room = np.maximum(room, 0)
        whole = np.searchsorted(used, room, side="right") - 1
        return np.asarray(taken[whole] + (room - used[whole]) // lengths[whole], dtype=np.int64)

    full = int(most(np.array([capacity], dtype=np.int64))[0])
    small = (sizes >= p) & (2 * sizes <= capacity)
    large = 2 * sizes > capacity
    values = np.where(large, full - most(capacity - sizes), small.astype(np.int64))
    return np.asarray(values, dtype=np.int64), full


def _by_half(
    sizes: IntArray, capacity: int, small: IntArray, equal: IntArray, large: IntArray
) -> IntArray:
    """`small` below C/2, `equal` at it, `large` above it."""
    return np.where(2 * sizes < capacity, small, np.where(2 * sizes == capacity, equal, large))


def _steps(sizes: IntArray, capacity: int, most: int) -> IntArray:
    """Steps p <= most worth trying: those at which a size or its complement gains a whole step."""
    if most <= MOST_PARAMETERS:
        return np.arange(1, most + 1, dtype=np.int64)
    ends = np.concatenate([sizes, capacity - sizes, np.array([capacity])])
    steps = np.concatenate([ends // j for j in range(1, 9)])
    steps = np.concatenate([steps, steps + 1])
    return _sample(steps[(steps >= 1) & (steps <= most)])


def _sample(candidates: IntArray) -> IntArray:
    """At most MOST_PARAMETERS of the distinct candidates, evenly spread."""
    values = np.unique(candidates)
    if values.size <= MOST_PARAMETERS:
        return values
    spots = np.linspace(0, values.size - 1, MOST_PARAMETERS).round().astype(np.int64)
    return np.asarray(values[spots], dtype=np.int64)
