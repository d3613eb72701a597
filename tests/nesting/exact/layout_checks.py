"""Checks of layouts in reduced coordinates that share no code with the engine."""

import numpy as np
from hypothesis import strategies as st

from nesting.layouts import Layouts
from nesting.reduce import Reduced


def problem(items, kinds, *, turn=False):
    """Items (width, length, demand); kinds (width, length, cost, copies or -1)."""
    w, h, demand = (np.array(c, dtype=np.int64) for c in zip(*items, strict=True))
    bw, bl, cost, copies = zip(*kinds, strict=True)
    return Reduced(
        item_w=w,
        item_l=h,
        demand=demand,
        turn=np.broadcast_to(np.asarray(turn), w.shape) & (w != h),
        bin_w=np.array(bw, dtype=np.int64),
        bin_l=np.array(bl, dtype=np.int64),
        bin_cost=np.array(cost, dtype=np.float64),
        bin_qty=np.array(copies, dtype=np.int64),
    )


def guillotine(boxes):
    """True when cuts through and through separate all boxes (x, y, width, length)."""
    if len(boxes) < 2:
        return True
    for axis in (0, 1):
        row = sorted(boxes, key=lambda box: box[axis])
        reach = row[0][axis] + row[0][axis + 2]
        for at in range(1, len(row)):
            if row[at][axis] >= reach:
                return guillotine(row[:at]) and guillotine(row[at:])
            reach = max(reach, row[at][axis] + row[at][axis + 2])
    return False


def assert_valid(reduced: Reduced, layouts: Layouts) -> None:
    """Inside the sheets, apart, cuttable, turned only where allowed, within demand and stock."""
    assert (np.bincount(layouts.item, minlength=reduced.demand.size) <= reduced.demand).all()
    used = np.bincount(layouts.stock, minlength=reduced.bin_w.size)
    assert ((reduced.bin_qty < 0) | (used <= reduced.bin_qty)).all()
    assert not (layouts.turned & ~reduced.turn[layouts.item]).any()
    for sheet, kind in enumerate(layouts.stock.tolist()):
        boxes = []
        for at in np.flatnonzero(layouts.sheet == sheet).tolist():
            item = layouts.item[at]
            sides = int(reduced.item_w[item]), int(reduced.item_l[item])
            width, length = sides[::-1] if layouts.turned[at] else sides
            x, y = int(layouts.x[at]), int(layouts.y[at])
            assert x >= 0
            assert y >= 0
            assert x + width <= reduced.bin_w[kind]
            assert y + length <= reduced.bin_l[kind]
            boxes.append((x, y, width, length))
        assert boxes
        assert guillotine(boxes)


@st.composite
def small_problems(draw, most_side=12, most_items=5, most_copies=4, complete=False):
    """One to three kinds of stock, items that all fit the first."""
    side = st.integers(2, most_side)
    kinds = [
        (draw(side), draw(side), draw(st.integers(1, 9)), -1 if complete else draw(COPIES))
        for _ in range(draw(st.integers(1, 3)))
    ]
    width, length = kinds[0][:2]
    items = [
        (
            draw(st.integers(1, width)),
            draw(st.integers(1, length)),
            draw(st.integers(1, most_copies)),
        )
        for _ in range(draw(st.integers(1, most_items)))
    ]
    return problem(items, kinds, turn=np.array([draw(st.booleans()) for _ in items]))


COPIES = st.sampled_from([-1, -1, 1, 3])
