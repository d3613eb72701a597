"""Offcuts from the rack that cost nothing are used first: they take blanks off the new sheets."""

import numpy as np

from nesting.arrays import IntArray
from nesting.build.densest import fill_one
from nesting.layouts import Layouts
from nesting.reduce import Reduced


def use_rack(reduced: Reduced, layouts: Layouts, free: IntArray) -> Layouts:
    """Move blanks from the emptiest sheets to free offcuts as long as any of them fits one.

    Args:
        reduced: what the layouts belong to.
        layouts: a whole solution; sheets that come out empty are dropped, none is added but
            from the rack, so the cost never rises.
        free: int64, the bin kinds that are rack offcuts without cost.
    """
    for kind in free[np.argsort(-(reduced.bin_w * reduced.bin_l)[free], kind="stable")].tolist():
        while _at_hand(reduced, layouts, kind):
            moved = _move(reduced, layouts, kind, free)
            if moved is None:
                break
            layouts = moved
    return layouts


def _at_hand(reduced: Reduced, layouts: Layouts, kind: int) -> bool:
    qty = int(reduced.bin_qty[kind])
    return qty < 0 or int((layouts.stock == kind).sum()) < qty


def _move(reduced: Reduced, layouts: Layouts, kind: int, free: IntArray) -> Layouts | None:
    """One more offcut filled with blanks that lie on new sheets; None when none fits."""
    bought = ~np.isin(layouts.stock, free)
    if not bought.any():
        return None
    filled = np.zeros(len(layouts.stock), dtype=np.int64)
    np.add.at(filled, layouts.sheet, (reduced.item_w * reduced.item_l)[layouts.item])
    emptiest = min(np.flatnonzero(bought).tolist(), key=lambda sheet: int(filled[sheet]))
    here = np.flatnonzero(layouts.sheet == emptiest)
    left = np.bincount(layouts.item[here], minlength=len(reduced.item_w)).astype(np.int64)
    spots = fill_one(reduced, left, kind)
    if not spots:
        return None
    keep = np.ones(len(layouts.item), dtype=np.bool_)
    for spot in spots:
        copies = here[keep[here] & (layouts.item[here] == spot.item)]
        keep[copies[-1]] = False
    item, x, y = np.array([spot[:3] for spot in spots], dtype=np.int64).T
    turned = np.array([spot.turned for spot in spots], dtype=np.bool_)
    on_offcut = np.array([kind], dtype=np.int64)
    added = Layouts(on_offcut, np.zeros_like(item), item, x, y, turned)
    rest = Layouts(
        layouts.stock,
        layouts.sheet[keep],
        layouts.item[keep],
        layouts.x[keep],
        layouts.y[keep],
        layouts.turned[keep],
    )
    in_use = np.flatnonzero(np.bincount(rest.sheet, minlength=len(rest.stock)))
    return rest.only(in_use).plus(added)
