"""What a general-purpose packing library makes of a problem: the plan's summary compares with it.

rectpack's guillotine modes, every fit and split rule with every sort order, are tried and the
cheapest outcome counts. It has no notion of cost, so every stock is offered by itself and all of
them in order of cost.
"""

import time
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from nesting.model import Problem
from nesting.reduce import Reduced, reduce_problem

FITS = ("Bssf", "Blsf", "Baf")
SPLITS = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
SORTS = ("SORT_AREA", "SORT_LSIDE", "SORT_SSIDE", "SORT_PERI", "SORT_DIFF", "SORT_RATIO")
BINS = ("BBF", "BFF")


@dataclass(frozen=True, slots=True)
class Baseline:
    """The best outcome of rectpack.

    Attributes:
        sheets: how many are used.
        cost: of them.
        used: share of the metal that ends in blanks.
        mode: of rectpack that gave it.
        missing: blanks it could not place, besides those that fit no stock.
    """

    sheets: int
    cost: float
    used: float
    mode: str
    missing: int

    def rank(self) -> tuple[int, float]:
        """What outcomes are compared by, the least first."""
        return self.missing, self.cost


def rectpack_best(problem: Problem, seconds: float = 10.0) -> Baseline | None:
    """The cheapest outcome of all modes tried in the time given, at least one; None without blanks.

    Blanks are turned only when all of them may be: rectpack knows no rule per blank. A coil is a
    sheet of its full length here.
    """
    reduction = reduce_problem(problem)
    if not len(reduction.reduced.demand):
        return None
    area = sum(b.area * b.qty for merged in reduction.members for b in merged)
    metal = [room.stock.area for room in reduction.bins]
    end = time.monotonic() + seconds
    best: Baseline | None = None
    for mode in _modes(len(reduction.bins)):
        kinds, missing = _run(reduction.reduced, *mode)
        found = Baseline(
            sheets=len(kinds),
            cost=sum(float(reduction.reduced.bin_cost[kind]) for kind in kinds),
            used=area / sum(metal[kind] for kind in kinds) if kinds and not missing else 0.0,
            mode=" ".join(mode[:3]),
            missing=missing,
        )
        best = found if best is None or found.rank() < best.rank() else best
        if time.monotonic() > end:
            break
    return best


def _modes(stock_kinds: int) -> Iterator[tuple[str, str, str, int | None]]:
    """Way to choose bins, fit and split rule, sort order, the one stock offered (None: all)."""
    offers: list[int | None] = [None]
    if stock_kinds > 1:
        offers += range(stock_kinds)
    for only, sort, fit, split, way in product(offers, SORTS, FITS, SPLITS, BINS):
        yield way, f"Guillotine{fit}{split}", sort, only


def _run(
    reduced: Reduced, way: str, algorithm: str, sort: str, only: int | None
) -> tuple[list[int], int]:
    """Stock kinds used, and how many items are missing."""
    import rectpack  # noqa: PLC0415 - only wanted for a comparison
    from rectpack import guillotine  # noqa: PLC0415

    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=getattr(rectpack.PackingBin, way),
        pack_algo=getattr(guillotine, algorithm),
        sort_algo=getattr(rectpack, sort),
        rotation=bool((reduced.turn | (reduced.item_w == reduced.item_l)).all()),
    )
    items = zip(reduced.item_w.tolist(), reduced.item_l.tolist(), strict=True)
    for (width, length), copies in zip(items, reduced.demand.tolist(), strict=True):
        for _ in range(copies):
            packer.add_rect(width, length)
    density = reduced.bin_cost / (reduced.bin_w * reduced.bin_l)
    kinds = range(len(density)) if only is None else [only]
    for kind in sorted(kinds, key=lambda kind: float(density[kind])):
        count = int(reduced.bin_qty[kind])
        size = int(reduced.bin_w[kind]), int(reduced.bin_l[kind])
        packer.add_bin(*size, count=float("inf") if count < 0 else count, bid=kind)
    packer.pack()
    used = [sheet.bid for sheet in packer if len(sheet)]
    placed = sum(len(sheet) for sheet in packer)
    return used, int(reduced.demand.sum()) - placed
