"""Where a missing item fits, and which place costs least."""

from __future__ import annotations

from nesting.kernels.compiled import inlined, kernel
from nesting.kernels.leftovers import value
from nesting.kernels.limits import best_allowed_place
from nesting.kernels.table import (
    HEAD,
    LEFTOVERS,
    LH,
    LIMITED,
    LNODE,
    LW,
    NONE,
    WORTH,
    Floats,
    Ints,
    draw,
)


@kernel()
def fits(w: int, h: int, turn: bool, room_w: int, room_h: int) -> bool:
    """Tell whether an item fits a room, turned or not."""
    return (w <= room_w and h <= room_h) or (turn and h <= room_w and w <= room_h)


@inlined()
def count_places(s: Ints, w: int, h: int, turn: bool) -> int:
    """Count the leftovers an item fits."""
    count = 0
    for at in range(s[HEAD, LEFTOVERS]):
        if fits(w, h, turn, s[LW, at], s[LH, at]):
            count += 1
    return count


@inlined()
def cut_cost(
    knots: Floats, w: int, h: int, room_w: int, room_h: int, whole: int
) -> tuple[int, int]:
    """Give the loss of worth when an item is cut from a room worth `whole`, and the first cut."""
    side, end = room_w - w, room_h - h
    across = value(knots, side * room_h) + value(knots, w * end)
    along = value(knots, side * h) + value(knots, room_w * end)
    if across >= along:
        return whole - across, 0
    return whole - along, 1


@kernel("Tuple((i8, b1, i8))(i8[:, ::1], i8[::1], f8[::1], i8, i8, b1, i8)")
def best_place(
    s: Ints, rng: Ints, knots: Floats, w: int, h: int, turn: bool, blinks: int
) -> tuple[int, bool, int]:
    """Give the cheapest place for an item: place in the list (or NONE), turned, first cut.

    A place is overlooked with a probability of ``blinks / 1024``. Two leftovers are worth no more
    than one of their area: a place that would lose too much even so is passed by.
    """
    if s[HEAD, LIMITED]:
        return best_allowed_place(s, rng, knots, w, h, turn, blinks)
    best_cost, best_at, best_turned, best_first = 0, NONE, False, 0
    for at in range(s[HEAD, LEFTOVERS]):
        room_w, room_h = s[LW, at], s[LH, at]
        straight = w <= room_w and h <= room_h
        turned = turn and h <= room_w and w <= room_h
        if not (straight or turned) or draw(rng, 1024) < blinks:
            continue
        whole = s[WORTH, s[LNODE, at]]
        if best_at >= 0 and whole - value(knots, room_w * room_h - w * h) >= best_cost:
            continue
        if straight:
            cost, first = cut_cost(knots, w, h, room_w, room_h, whole)
            if best_at < 0 or cost < best_cost:
                best_cost, best_at, best_turned, best_first = cost, at, False, first
        if turned:
            cost, first = cut_cost(knots, h, w, room_w, room_h, whole)
            if best_at < 0 or cost < best_cost:
                best_cost, best_at, best_turned, best_first = cost, at, True, first
    return best_at, best_turned, best_first
