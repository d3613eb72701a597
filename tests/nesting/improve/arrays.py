"""Reduced problems for the tests of the search."""

import numpy as np
from hypothesis import assume

from nesting.reduce import Reduced, reduce_problem


def reduced_of(items, stock):
    """From (width, length, copies, turn) and (width, length, cost, copies or -1)."""
    w, n, copies, turn = (np.array(column) for column in zip(*items, strict=True))
    bin_w, bin_l, cost, qty = (np.array(column) for column in zip(*stock, strict=True))
    return Reduced(w, n, copies, turn.astype(bool), bin_w, bin_l, cost.astype(float), qty)


def reduced_or_skip(problem) -> Reduced:
    """The arrays of a generated problem that leaves something to search."""
    reduced = reduce_problem(problem).reduced
    assume(len(reduced.demand) > 0)
    return reduced
