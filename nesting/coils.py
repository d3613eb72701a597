"""Coil: metal of fixed width whose length is free up to the longest cut.

The engine knows only bins of fixed size, so a coil is offered to it at several lengths; what is
drawn in the end is only what the blanks need. Of a limited coil only full lengths are offered, so
that the count of them holds.
"""

from collections.abc import Sequence

from nesting.model import Blank, Problem, Stock
from nesting.reduce import Bin, usable_bin

STEPS = 12
SIZES = 6


def has_coil(problem: Problem) -> bool:
    """True when any stock is a coil."""
    return any(stock.kind == "coil" for stock in problem.stock)


def offered_bins(problem: Problem) -> list[Bin]:
    """Every stock at full length and the coils at shorter ones too."""
    return [
        usable_bin(problem, stock, drawn)
        for stock in problem.stock
        for drawn in _lengths(problem, stock)
    ]


def _lengths(problem: Problem, stock: Stock) -> list[int]:
    if stock.kind != "coil" or stock.qty is not None:
        return [stock.length]
    longest = stock.length
    even = [longest * step // STEPS for step in range(1, STEPS + 1)]
    largest = sorted(problem.blanks, key=lambda blank: -blank.area)[:SIZES]
    exact = [side + 2 * problem.trim for blank in largest for side in (blank.width, blank.length)]
    return sorted({length for length in even + exact if 0 < length <= longest})


def coil_bound(problem: Problem, copies: Sequence[tuple[Blank, int]]) -> float:
    """Lower bound on the cost when lengths are free: by area and by blanks too wide to pair.

    Args:
        problem: the stock and the rules.
        copies: blanks and how many of each are cut.
    """
    edge = 2 * problem.trim
    usable = [s for s in problem.stock if s.qty != 0 and min(s.width, s.length) > edge]
    if not usable:
        return 0.0
    area = sum(blank.area * count for blank, count in copies)
    by_area = min(s.cost / ((s.width - edge) * _free_length(s, edge)) for s in usable)
    widest = max(s.width - edge for s in usable)
    by_length = min(s.cost / _free_length(s, edge) for s in usable)
    lengths = sum(least_length(blank, widest) * count for blank, count in copies)
    return max(by_area * area, by_length * lengths)


def _free_length(stock: Stock, edge: int) -> int:
    """Length that a full copy gives at most; a coil's trim isn't counted, pieces may be few."""
    return stock.length if stock.kind == "coil" else stock.length - edge


def least_length(blank: Blank, widest: int) -> int:
    """Length that a blank takes for itself alone: 0 when another may lie beside it."""
    turns = [(blank.width, blank.length)]
    if blank.turn:
        turns.append((blank.length, blank.width))
    fitting = [(width, length) for width, length in turns if width <= widest]
    if not fitting or any(2 * width <= widest for width, _ in fitting):
        return 0
    return min(length for _, length in fitting)
