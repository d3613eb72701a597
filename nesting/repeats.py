"""Jobs of many equal blanks: whole sheets from a linear programme, the rest by search.

Where each blank is wanted often, the mix of sheet layouts that a linear programme chooses is nearly
all whole sheets, cut many times over. What they leave is a small problem of its own.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.reduce import Reduced, demanding

OFTEN = 8  # copies of a blank, on average, from which it pays
KNAPSACKS = 5_000

Solve = Callable[[Reduced, Budget], Layouts]


def repeated(reduced: Reduced) -> bool:
    """True when equal blanks are so many that whole layouts repeat."""
    return len(reduced.demand) > 0 and int(reduced.demand.sum()) >= OFTEN * len(reduced.demand)


def cut_repeats(
    reduced: Reduced, budget: Budget, known: Layouts, seed: int, solve_rest: Solve
) -> tuple[Layouts, float]:
    """Layouts from column generation, and a lower bound for guillotine cuts.

    Args:
        reduced: the problem.
        budget: for all of it.
        known: layouts to begin with.
        seed: of all that is drawn.
        solve_rest: packs what the whole sheets leave.

    Returns:
        Layouts, perhaps worse than the known ones; the bound is 0 where it would take too long.
    """
    from nesting.exact.generator import Generator  # noqa: PLC0415 - numba loads when needed
    from nesting.exact.patterns import layouts_of, patterns_of  # noqa: PLC0415

    make = Generator(
        reduced, budget.share(0.1), np.random.default_rng(seed), patterns_of(reduced, known)
    )
    prices = make.settle(reduced.demand, KNAPSACKS)
    make.allow(budget.share(0.35))
    prices = make.approach(prices)
    make.allow(budget.share(0.7))
    prices, bound = make.sharpen(prices)
    make.allow(budget.share(0.6))
    whole = layouts_of(reduced, make.dive(prices, spread=0.0))
    left = whole.unplaced(reduced)
    if left.any():
        rest = solve_rest(stock_left(demanding(reduced, left), whole), budget)
        whole = whole.plus(_as_types(rest, np.flatnonzero(left > 0)))
    return whole, bound


def stock_left(rest: Reduced, used: Layouts) -> Reduced:
    """The problem with the stock that some sheets leave."""
    copies = np.bincount(used.stock, minlength=len(rest.bin_w))
    limited = np.maximum(rest.bin_qty - copies, 0)
    return replace(rest, bin_qty=np.where(rest.bin_qty < 0, rest.bin_qty, limited))


def _as_types(part: Layouts, types: IntArray) -> Layouts:
    """Layouts of some item types in the numbers of all."""
    return Layouts(part.stock, part.sheet, types[part.item], part.x, part.y, part.turned)
