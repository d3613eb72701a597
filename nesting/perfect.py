"""Jobs without any waste: merge the items into whole sheets, or find that it can't be done in time.

Random search seldom ends with nothing left over; here every merge is exact by construction.
"""

from concurrent.futures import ThreadPoolExecutor

from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.merger import Merger
from nesting.reduce import Reduced, with_stock
from nesting.rng import worker_seed

PHASE = 11
MOST_ITEMS = 400


def wasteless_kind(reduced: Reduced, bound: float) -> int | None:
    """The stock kind of which the items would fill whole sheets at the bound's cost; else None."""
    area = int((reduced.item_w * reduced.item_l * reduced.demand).sum())
    if reduced.demand.sum() > MOST_ITEMS:
        return None
    for kind in range(len(reduced.bin_w)):
        sheets, rest = divmod(area, int(reduced.bin_w[kind] * reduced.bin_l[kind]))
        enough = reduced.bin_qty[kind] < 0 or reduced.bin_qty[kind] >= sheets
        cheap = sheets * float(reduced.bin_cost[kind]) <= bound * (1 + 1e-9)
        if rest == 0 and enough and cheap and _turning(reduced, kind) is not None:
            return kind
    return None


def fill_exactly(
    reduced: Reduced, kind: int, budget: Budget, seed: int, threads: int
) -> Layouts | None:
    """Sheets of one kind without any waste, or None when they aren't found within the budget."""
    one = with_stock(reduced, [kind])
    turning = bool(_turning(reduced, kind))
    alone = budget.steps_left() is not None
    shares = [budget.share(1 / threads) if alone else budget for _ in range(threads)]
    workers = [Merger(one, turning, worker_seed(seed, PHASE, i)) for i in range(threads)]
    found: dict[int, Layouts] = {}

    def work(place: int) -> None:
        while not shares[place].spent() and (alone or not found):
            layouts = workers[place].spell(shares[place])
            if layouts is not None:
                found[place] = layouts
                return

    with ThreadPoolExecutor(threads) as pool:
        list(pool.map(work, range(threads)))
    if not found:
        return None
    best = found[min(found)]
    return Layouts(best.stock + kind, best.sheet, best.item, best.x, best.y, best.turned)


def _turning(reduced: Reduced, kind: int) -> bool | None:
    """Whether all items may be turned, or none; None when they differ."""
    width, length = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
    upright = (reduced.item_w <= width) & (reduced.item_l <= length)
    lying = (reduced.item_l <= width) & (reduced.item_w <= length)
    if not (upright | (lying & reduced.turn)).all():
        return None
    either = reduced.turn | (reduced.item_w == reduced.item_l) | ~lying
    if either.all():
        return True
    return None if reduced.turn.any() else False
