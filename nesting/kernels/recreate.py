"""Put missing items back, the one with the fewest places first."""

from __future__ import annotations

from nesting.kernels.compiled import inlined, kernel
from nesting.kernels.dials import BLINK, COST_PART, HASTY, SPARE_PART
from nesting.kernels.energy import (
    LEAST_LOSS,
    gain_when_opened,
    least_beside_spare,
    loss_when_missing,
)
from nesting.kernels.fit import best_place, count_places, fits
from nesting.kernels.guillotine import insert, open_sheet
from nesting.kernels.limits import may_open
from nesting.kernels.ruin import open_cost
from nesting.kernels.table import (
    HEAD,
    LH,
    LIMITED,
    LNODE,
    LW,
    MCOUNT,
    MISSING_TYPES,
    MLIST,
    NONE,
    POS,
    SPARE,
    Floats,
    Ints,
    add_missing,
    draw,
    is_at_hand,
    is_full,
    log_is_long,
)

GIVEN_UP = 1 << 40


@kernel()
def choose_kind(
    s: Ints, rng: Ints, w: int, h: int, turn: bool, kinds: Ints, kinds_cost: Floats, limit: float
) -> int:
    """Give a kind of stock to open for an item, drawn among those at hand and within the limit."""
    left = limit - open_cost(s, kinds_cost)
    chosen, seen = NONE, 0
    for kind in range(kinds_cost.size):
        if not is_at_hand(s, kinds, kind) or kinds_cost[kind] > left:
            continue
        if fits(w, h, turn, kinds[0, kind], kinds[1, kind]):
            if s[HEAD, LIMITED] and not may_open(s, w, h, turn, kinds[0, kind], kinds[1, kind]):
                continue
            seen += 1
            if draw(rng, seen) == 0:
                chosen = kind
    return chosen


@inlined()
def scarcest(s: Ints, places: Ints, items: Ints) -> int:
    """Give the missing item type with the fewest places (of equals the larger), or NONE."""
    best, fewest, size = NONE, GIVEN_UP, 0
    for at in range(s[HEAD, MISSING_TYPES]):
        item = s[MLIST, at]
        if places[item] > fewest or places[item] == GIVEN_UP:
            continue
        area = items[0, item] * items[1, item]
        if places[item] < fewest or area > size:
            best, fewest, size = item, places[item], area
    return best


@kernel()
def any_item(s: Ints, rng: Ints, places: Ints) -> int:
    """Give a missing item type, drawn among those not given up, or NONE."""
    chosen, seen = NONE, 0
    for at in range(s[HEAD, MISSING_TYPES]):
        item = s[MLIST, at]
        if places[item] != GIVEN_UP:
            seen += 1
            if draw(rng, seen) == 0:
                chosen = item
    return int(chosen)


@inlined("void(i8[:, ::1], i8[::1], i8[:, ::1], i8, i8)")
def shift_places(s: Ints, places: Ints, items: Ints, n: int, step: int) -> None:
    """Count the leftover of `n` in (or out) for every missing type that fits it."""
    at = s[POS, n]
    if at < 0:
        return
    w, h = s[LW, at], s[LH, at]
    for i in range(s[HEAD, MISSING_TYPES]):
        item = s[MLIST, i]
        if places[item] != GIVEN_UP and fits(
            items[0, item], items[1, item], items[2, item] != 0, w, h
        ):
            places[item] += step


@kernel()
def recreate(
    s: Ints,
    log: Ints,
    rng: Ints,
    knots: Floats,
    worth: Ints,
    items: Ints,
    kinds: Ints,
    kinds_cost: Floats,
    limit: float,
    places: Ints,
    dials: Ints,
    worst: int,
) -> bool:
    """Place missing items until none that is left has a place.

    Sheets are opened for items without a place while their cost stays within `limit`. Gives False,
    with items missing that have a place, as soon as the energy can't come down to `worst` any more.
    """
    least = least_beside_spare(s, items, kinds, kinds_cost, limit, dials)
    for at in range(s[HEAD, MISSING_TYPES]):
        item = s[MLIST, at]
        places[item] = count_places(s, items[0, item], items[1, item], items[2, item] != 0)
    hasty = draw(rng, 1024) < dials[HASTY]
    while not log_is_long(log):
        item = any_item(s, rng, places) if hasty else scarcest(s, places, items)
        if least - dials[SPARE_PART] * s[HEAD, SPARE] > worst:
            return False
        if item < 0 or is_full(s):
            return True
        w, h, turn = items[0, item], items[1, item], items[2, item] != 0
        if places[item] == 0:
            kind = choose_kind(s, rng, w, h, turn, kinds, kinds_cost, limit)
            if kind < 0:
                places[item] = GIVEN_UP
                least += s[MCOUNT, item] * loss_when_missing(worth, items, dials, item)
                continue
            least += dials[COST_PART] * kinds[3, kind] + gain_when_opened(kinds, dials, kind)
            n = open_sheet(s, log, knots, kind, kinds[0, kind], kinds[1, kind])
            shift_places(s, places, items, n, 1)
        at, turned, first = best_place(s, rng, knots, w, h, turn, dials[BLINK])
        if at < 0:
            at, turned, first = best_place(s, rng, knots, w, h, turn, 0)
        if at < 0:  # the shear can't cut it from any of them: a new sheet
            places[item] = 0
            continue
        n = s[LNODE, at]
        shift_places(s, places, items, n, -1)
        if turned:
            w, h = h, w
        outer, inner = insert(s, log, knots, n, item, w, h, first)
        add_missing(s, log, worth, item, -1)
        least -= dials[SPARE_PART] * items[LEAST_LOSS, item]
        shift_places(s, places, items, n, 1)
        if outer >= 0:
            shift_places(s, places, items, outer, 1)
        if inner >= 0:
            shift_places(s, places, items, inner, 1)
    return True
