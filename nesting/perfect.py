"""Jobs without any waste: merge the items into whole sheets, or find that it can't be done in time.

Random search seldom ends with nothing left over; here every merge is exact by construction. The
sheets may be of several kinds, as long as some choice of them has just the items' area.
"""

import math
from concurrent.futures import ThreadPoolExecutor

from nesting.budget import Budget
from nesting.layouts import Layouts
from nesting.merger import Merger
from nesting.reduce import Reduced
from nesting.rng import worker_seed

PHASE = 11
MOST_ITEMS = 160  # beyond it too many sides are equal by chance
MOST_SUMS = 20_000  # of sheets' areas that are looked at


def wasteless(reduced: Reduced, bound: float) -> bool:
    """True when some sheets would hold the items without any waste, at the bound's cost."""
    area = int((reduced.item_w * reduced.item_l * reduced.demand).sum())
    if reduced.demand.sum() > MOST_ITEMS or _turning(reduced) is None:
        return False
    return _least_cost(reduced, area) <= bound * (1 + 1e-9)


def _least_cost(reduced: Reduced, area: int) -> float:
    """Of sheets with this area in all; inf where there are none or the sums are too many."""
    costs = {0: 0.0}
    sizes = (reduced.bin_w * reduced.bin_l).tolist()
    for size, cost, at_hand in zip(
        sizes, reduced.bin_cost.tolist(), reduced.bin_qty.tolist(), strict=True
    ):
        for held, before in list(costs.items()):
            most = (area - held) // size
            for copies in range(1, 1 + (most if at_hand < 0 else min(most, at_hand))):
                total = held + copies * size
                costs[total] = min(costs.get(total, math.inf), before + copies * cost)
        if len(costs) > MOST_SUMS:
            return math.inf
    return costs.get(area, math.inf)


def fill_exactly(reduced: Reduced, budget: Budget, seed: int, threads: int) -> Layouts | None:
    """Sheets without any waste, or None when they aren't found within the budget."""
    turning = bool(_turning(reduced))
    alone = budget.steps_left() is not None
    shares = [budget.share(1 / threads) if alone else budget for _ in range(threads)]
    workers = [Merger(reduced, turning, worker_seed(seed, PHASE, i)) for i in range(threads)]
    found: dict[int, Layouts] = {}

    def work(place: int) -> None:
        while not (shares[place].spent() or workers[place].hopeless) and (alone or not found):
            layouts = workers[place].spell(shares[place])
            if layouts is not None:
                found[place] = layouts
                return

    with ThreadPoolExecutor(threads) as pool:
        list(pool.map(work, range(threads)))
    return found[min(found)] if found else None


def _turning(reduced: Reduced) -> bool | None:
    """Whether all items may be turned, or none; None when they differ."""
    width, length = reduced.item_w[:, None], reduced.item_l[:, None]
    upright = ((width <= reduced.bin_w) & (length <= reduced.bin_l)).any(axis=1)
    lying = ((length <= reduced.bin_w) & (width <= reduced.bin_l)).any(axis=1)
    either = reduced.turn | (reduced.item_w == reduced.item_l) | ~lying
    if either.all():
        return True
    return None if reduced.turn.any() or not upright.all() else False
