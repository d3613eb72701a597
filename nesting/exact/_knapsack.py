"""Compiled dynamic programme for one sheet: the guillotine knapsack over chosen cut positions.

It stands here and not among the search kernels because only `pricing` uses it, and it shares
nothing with them. The same code runs without compilation under NUMBA_DISABLE_JIT=1.
"""

import numpy as np
import numpy.typing as npt
from numba import njit

from nesting.arrays import FloatArray, IntArray

CountArray = npt.NDArray[np.int16]

ITEM, CARRIED, ACROSS, ALONG = 1, 2, 3, 4
"""How a room is used: one item, as a smaller room, cut across x, cut along y; empty is 0."""

LEAST = 1e-12
"""A gain below this is the noise of adding up."""


@njit(cache=True, nogil=True)
def fill_rooms(  # noqa: PLR0912
    xs: IntArray,
    ys: IntArray,
    rest_x: IntArray,
    rest_y: IntArray,
    box_item: IntArray,
    box_x: IntArray,
    box_y: IntArray,
    value: FloatArray,
    limit: CountArray,
    best: FloatArray,
    use: IntArray,
    held: CountArray,
    noise: float,
    seed: np.uint64,
) -> None:
    """Best value of every room xs[i] x ys[j], from items, smaller rooms and one cut through.

    Args:
        xs: int64[nx], ascending positions along x, the first is 0.
        ys: int64[ny], the same along y.
        rest_x: int64[nx, nx], index of the largest position <= xs[i] - xs[p].
        rest_y: int64[ny, ny], the same along y.
        box_item: int64[b], item type of each way to lie.
        box_x: int64[b], index of the first position that takes its width.
        box_y: int64[b], the same for its length.
        value: float64[m], of each item type.
        limit: int16[m], most copies on the sheet; only used with `held`.
        best: float64[nx, ny], zeros; out: the value of each room.
        use: int64[nx, ny, 3], zeros; out: how the room is used, and two numbers: the box for ITEM,
            the indices of the smaller room for CARRIED, of the cut and the rest for a cut.
        held: int16[nx, ny, m], zeros; out: copies in the room, those beyond the limit left out.
            int16[0, 0, 0] when copies are not limited.
        noise: 0 for the best; else comparisons are off by up to half of this part.
        seed: of the noise.
    """
    bounded = held.size > 0
    for b in range(box_item.size):
        i, j = box_x[b], box_y[b]
        if value[box_item[b]] > best[i, j]:
            best[i, j] = value[box_item[b]]
            use[i, j, 0] = ITEM
            use[i, j, 1] = b
            if bounded:
                held[i, j, :] = 0
                held[i, j, box_item[b]] = 1
    state = seed
    for i in range(1, xs.size):
        for j in range(1, ys.size):
            state = state * np.uint64(6364136223846793005) + np.uint64(1442695040888963407)
            bar = 1.0 + noise * (float(state >> np.uint64(33)) / 2147483648.0 - 0.5)
            top = best[i, j]
            how = use[i, j, 0]
            if best[i - 1, j] > top:
                top, how, one, two = best[i - 1, j], CARRIED, i - 1, j
            if best[i, j - 1] > top:
                top, how, one, two = best[i, j - 1], CARRIED, i, j - 1
            p = 1
            while p < i and 2 * xs[p] <= xs[i]:
                r = rest_x[i, p]
                worth = best[p, j] + best[r, j]
                if bounded and worth > top * bar + LEAST:
                    worth = joint(held[p, j], held[r, j], limit, value)
                if worth > top * bar + LEAST:
                    top, how, one, two = worth, ACROSS, p, r
                p += 1
            p = 1
            while p < j and 2 * ys[p] <= ys[j]:
                r = rest_y[j, p]
                worth = best[i, p] + best[i, r]
                if bounded and worth > top * bar + LEAST:
                    worth = joint(held[i, p], held[i, r], limit, value)
                if worth > top * bar + LEAST:
                    top, how, one, two = worth, ALONG, p, r
                p += 1
            best[i, j] = top
            if how >= CARRIED:
                settle(use, held, limit, i, j, how, one, two)


@njit(cache=True, nogil=True)
def settle(
    use: IntArray,
    held: CountArray,
    limit: CountArray,
    i: int,
    j: int,
    how: int,
    one: int,
    two: int,
) -> None:
    """Note how room i, j is used; a carried room points past rooms that are carried themselves."""
    if how == CARRIED and use[one, two, 0] == CARRIED:
        one, two = use[one, two, 1], use[one, two, 2]
    use[i, j, 0] = how
    use[i, j, 1] = one
    use[i, j, 2] = two
    if held.size == 0:
        return
    if how == CARRIED:
        held[i, j, :] = held[one, two]
    elif how == ACROSS:
        held[i, j, :] = np.minimum(limit, held[one, j] + held[two, j])
    else:
        held[i, j, :] = np.minimum(limit, held[i, one] + held[i, two])


@njit(cache=True, nogil=True)
def joint(left: CountArray, right: CountArray, limit: CountArray, value: FloatArray) -> float:
    """Value of both parts together when copies beyond the limit count nothing."""
    total = 0.0
    for m in range(limit.size):
        total += value[m] * min(limit[m], left[m] + right[m])
    return total
