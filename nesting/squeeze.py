"""Repack a sheet into less of its length or width, so that what is left comes off in one piece.

The same serves a coil, of which less is drawn. Some other sheets are repacked along with it: what
finds room there makes the squeezed sheet shorter.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from nesting.arrays import IntArray
from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.reduce import Reduced, demanding

Repack = Callable[[Reduced, Budget], Layouts]

NEIGHBOURS = 3
TRIALS = 8
FINEST = 1 / 100  # of the sheet's size: smaller gains aren't tried for


def extent(reduced: Reduced, layouts: Layouts, sheet: int, across: bool) -> int:
    """Size of the sheet that is in use, along its length (`across`: a cut there) or its width."""
    width, length = layouts.sizes(reduced)
    here = layouts.sheet == sheet
    ends = layouts.y + length if across else layouts.x + width
    return int(ends[here].max(initial=0))


def fill(reduced: Reduced, layouts: Layouts) -> IntArray:
    """int64[sheets], area of the items on each sheet."""
    area = (reduced.item_w * reduced.item_l)[layouts.item]
    filled = np.zeros(len(layouts.stock), dtype=np.int64)
    np.add.at(filled, layouts.sheet, area)
    return filled


def squeeze(
    reduced: Reduced, layouts: Layouts, sheet: int, across: bool, repack: Repack, budget: Budget
) -> Layouts:
    """Layouts on the same stock with one sheet squeezed as far as the budget allows.

    Args:
        reduced: what the layouts belong to.
        layouts: a whole solution.
        sheet: the one to squeeze; it keeps its number, or is dropped when it comes out empty.
        across: True: use less of its length; False: of its width.
        repack: packs a problem; items may be missing in what it gives.
        budget: shared out to a few trials.
    """
    chosen = _chosen(reduced, layouts, sheet)
    rest = layouts.only([s for s in range(len(layouts.stock)) if s not in chosen])
    part = layouts.only(chosen)
    size = int((reduced.bin_l if across else reduced.bin_w)[layouts.stock[sheet]])
    used = extent(reduced, part, 0, across)
    step = (used - _least(reduced, part, across)) // 2
    for _ in range(TRIALS):
        if step < max(1, size * FINEST) or budget.spent():
            break
        trial = _trial(reduced, part, used - step, across, repack, budget.share(0.3))
        if trial is None:
            step //= 2
            continue
        part, squeezed_away = trial
        if squeezed_away:
            break
        used = extent(reduced, part, 0, across)
        step = min(step, used // 2)
    return part.plus(rest)


def _chosen(reduced: Reduced, layouts: Layouts, sheet: int) -> list[int]:
    """The sheet, then the emptiest others."""
    free = (reduced.bin_w * reduced.bin_l)[layouts.stock] - fill(reduced, layouts)
    others = [s for s in np.argsort(-free, kind="stable").tolist() if s != sheet and free[s] > 0]
    return [sheet, *others[:NEIGHBOURS]]


def _least(reduced: Reduced, part: Layouts, across: bool) -> int:
    """No packing can use less of the first sheet: its items' area less the room elsewhere."""
    kind = part.stock[0]
    room = (reduced.bin_w * reduced.bin_l)[part.stock[1:]].sum()
    area = fill(reduced, part).sum()
    side = reduced.bin_w[kind] if across else reduced.bin_l[kind]
    return max(0, int(-((room - area) // side)))


def _trial(
    reduced: Reduced, part: Layouts, size: int, across: bool, repack: Repack, budget: Budget
) -> tuple[Layouts, bool] | None:
    """The sheets with the first one cut down to this size, and whether it isn't needed at all.

    None when not all items fit.
    """
    kinds = part.stock
    bin_w, bin_l = reduced.bin_w[kinds].copy(), reduced.bin_l[kinds].copy()
    (bin_l if across else bin_w)[0] = size
    demand = part.placed(reduced)
    asked = replace(
        demanding(reduced, demand),
        bin_w=bin_w,
        bin_l=bin_l,
        bin_cost=(bin_w * bin_l).astype(np.float64),
        bin_qty=np.ones(len(kinds), dtype=np.int64),
    )
    if not _each_fits(asked):
        return None
    found = repack(asked, budget)
    if found.unplaced(asked).any():
        return None
    order = np.argsort(found.stock, kind="stable")
    found = found.only(order)
    item = np.flatnonzero(demand > 0)[found.item]
    squeezed_away = 0 not in found.stock
    return replace(found, stock=kinds[found.stock], item=item), squeezed_away


def _each_fits(reduced: Reduced) -> bool:
    """True when every item fits some bin, as a `Reduced` promises."""
    width, length = reduced.item_w[:, None], reduced.item_l[:, None]
    upright = (width <= reduced.bin_w) & (length <= reduced.bin_l)
    lying = reduced.turn[:, None] & (length <= reduced.bin_w) & (width <= reduced.bin_l)
    return bool((upright | lying).any(axis=1).all())
