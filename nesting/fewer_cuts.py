"""Other layouts of one sheet's blanks: a larger offcut, fewer cuts, fewer settings of the gauge."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from nesting.budget import Budget
from nesting.build.densest import fillings
from nesting.build.drafts import Spot
from nesting.build.strips import STYLES, fill_strips
from nesting.goals import Known, figures_of
from nesting.layouts import Layouts
from nesting.reduce import Reduced, Reduction, demanding, with_stock
from nesting.tidy import tidy
from nesting.unfold import unfold

Vary = Callable[[Reduced, Budget, int], Layouts]
"""Packs a problem; other numbers give other layouts, in which items may be missing."""

VARIATIONS = 40  # of a sheet
SHARE = 0.2  # of what is left of the budget for one sheet


def fewer_cuts(
    reduction: Reduction, layouts: Layouts, vary: Vary, budget: Budget, known: Known
) -> Layouts:
    """The same items on the same sheets, each laid out as the goals after the cost ask.

    Args:
        reduction: what the layouts belong to.
        layouts: a whole solution.
        vary: see `Vary`.
        budget: for all sheets.
        known: sheets taken apart before; those looked at are added to it.
    """
    found: dict[tuple[int, bytes], Layouts] = {}
    made = Layouts.empty()
    for sheet in range(len(layouts.stock)):
        one = layouts.only([sheet])
        if budget.spent():
            made = made.plus(one)
            continue
        copies = one.placed(reduction.reduced)
        key = int(one.stock[0]), copies.tobytes()
        if key not in found:
            found[key] = _best(reduction, one, vary, budget.share(SHARE), known)
        made = made.plus(found[key])
    return made


def _best(reduction: Reduction, one: Layouts, vary: Vary, budget: Budget, known: Known) -> Layouts:
    def rank(layouts: Layouts) -> tuple[float, ...]:
        sheets = tidy(reduction.problem, unfold(reduction, layouts), known)
        return figures_of(reduction.problem, sheets, known).order()

    best, least = one, rank(one)
    for other in _others(reduction.reduced, one, vary, budget):
        if budget.spent():
            break
        budget.use(1)
        if (order := rank(other)) < least:
            best, least = other, order
    return best


def _others(reduced: Reduced, one: Layouts, vary: Vary, budget: Budget) -> Iterator[Layouts]:
    """Layouts of all the sheet's items on stock of its kind."""
    copies, kind = one.placed(reduced), int(one.stock[0])
    for style in STYLES:
        yield from _whole(fill_strips(reduced, copies, kind, style), len(one.item), kind)
    for spots in fillings(reduced, copies, kind):
        yield from _whole(spots, len(one.item), kind)
    types = np.flatnonzero(copies)
    one_sheet = np.ones(1, dtype=np.int64)
    asked = with_stock(demanding(reduced, copies), [kind])
    asked = replace(asked, bin_cost=np.ones(1), bin_qty=one_sheet)
    for number in range(1, VARIATIONS + 1):
        made = vary(asked, budget.share(SHARE), number)
        if len(made.item) == len(one.item):
            yield replace(made, stock=one.stock, item=types[made.item])


def _whole(spots: list[Spot], wanted: int, kind: int) -> Iterator[Layouts]:
    """The sheet of these spots if nothing is missing on it."""
    if len(spots) == wanted:
        item, x, y = np.array([spot[:3] for spot in spots], dtype=np.int64).T
        turned = np.array([spot.turned for spot in spots], dtype=np.bool_)
        stock = np.array([kind], dtype=np.int64)
        yield Layouts(stock, np.zeros_like(item), item, x, y, turned)
