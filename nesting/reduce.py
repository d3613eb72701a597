"""From a problem to plain integer arrays.

Kerf and trim are folded into the sizes once, here: every blank grows by the kerf, every stock loses
its trim and grows by the kerf. Nothing after this hears of them until the plan is unfolded.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from nesting.arrays import BoolArray, FloatArray, IntArray
from nesting.model import MOST, Blank, Problem, ShearLimits, Stock
from nesting.plan import Unplaced
from nesting.shearable import shearable, why_not

UNLIMITED = -1


@dataclass(frozen=True)
class Reduced:
    """A problem in plain integers: kerf and trim folded in, equal blanks merged.

    x runs along the width, y along the length. Every item type fits at least one bin.

    Attributes:
        item_w: int64[m], width + kerf of each distinct item type.
        item_l: int64[m], length + kerf.
        demand: int64[m], copies wanted.
        turn: bool[m], may be turned by 90 degrees (False where it makes no difference).
        bin_w: int64[s], usable width of each stock kind: width - 2 trim + kerf.
        bin_l: int64[s], usable length.
        bin_cost: float64[s]
        bin_qty: int64[s], copies at hand, -1 = unlimited.
        shear: the limits, with the kerf in them as in the sizes.
    """

    item_w: IntArray
    item_l: IntArray
    demand: IntArray
    turn: BoolArray
    bin_w: IntArray
    bin_l: IntArray
    bin_cost: FloatArray
    bin_qty: IntArray
    shear: ShearLimits = field(default_factory=ShearLimits)


def demanding(reduced: Reduced, demand: IntArray) -> Reduced:
    """The same stock asked for other numbers of copies; types of which none are asked are gone."""
    wanted = demand > 0
    return replace(
        reduced,
        item_w=reduced.item_w[wanted],
        item_l=reduced.item_l[wanted],
        demand=demand[wanted],
        turn=reduced.turn[wanted],
    )


def with_stock(reduced: Reduced, kinds: Sequence[int]) -> Reduced:
    """The same items, to be cut from these stock kinds only; they are numbered anew."""
    rows = np.asarray(kinds, dtype=np.int64)
    return replace(
        reduced,
        bin_w=reduced.bin_w[rows],
        bin_l=reduced.bin_l[rows],
        bin_cost=reduced.bin_cost[rows],
        bin_qty=reduced.bin_qty[rows],
    )


def takes_all(reduced: Reduced, kind: int) -> bool:
    """True when a stock kind takes every item and there is plenty of it."""
    width, length = reduced.bin_w[kind], reduced.bin_l[kind]
    upright = (reduced.item_w <= width) & (reduced.item_l <= length)
    lying = reduced.turn & (reduced.item_l <= width) & (reduced.item_w <= length)
    return bool(reduced.bin_qty[kind] == UNLIMITED and (upright | lying).all())


@dataclass(frozen=True)
class Bin:
    """A stock as the engine sees it: a coil appears once for each length it may be drawn at."""

    stock: Stock
    drawn: int
    width: int
    length: int

    @property
    def cost(self) -> float:
        """Of one copy at this length."""
        return self.stock.cost_of(self.drawn)


@dataclass(frozen=True)
class Reduction:
    """A `Reduced` and what its rows mean.

    Attributes:
        problem: where it came from.
        reduced: the arrays.
        bins: one for each row of the bin arrays.
        members: for each item type the blanks merged in it.
        unplaced: blanks that fit no stock, with the reason.
    """

    problem: Problem
    reduced: Reduced
    bins: tuple[Bin, ...]
    members: tuple[tuple[Blank, ...], ...]
    unplaced: tuple[Unplaced, ...]


def usable_bin(problem: Problem, stock: Stock, drawn: int) -> Bin:
    """The room inside one copy of a stock; sizes may come out below 1 when trim eats it all."""
    edge = problem.kerf - 2 * problem.trim
    return Bin(stock, drawn, stock.width + edge, drawn + edge)


def reduce_problem(problem: Problem, bins: Iterable[Bin] | None = None) -> Reduction:
    """Fold kerf and trim in, merge equal blanks, drop stock that no blank fits or needs.

    Args:
        problem: fillers in it are left aside.
        bins: what to cut from; the whole stock at full length when None.
    """
    if bins is None:
        bins = [usable_bin(problem, stock, stock.length) for stock in problem.stock]
    rooms = [room for room in bins if room.stock.qty != 0 and min(room.width, room.length) > 0]
    limited = problem.shear != ShearLimits()
    at_hand = [stock for stock in problem.stock if stock.qty != 0]
    types: dict[tuple[int, int, bool], list[Blank]] = {}
    unplaced = []
    for blank in problem.blanks:
        if blank.filler:
            continue
        key = _item_type(blank, problem.kerf, rooms)
        if key is None:
            unplaced.append(Unplaced(blank, blank.qty, _why_not(blank, problem), "size"))
        elif limited and not shearable(problem, blank, at_hand):
            unplaced.append(Unplaced(blank, blank.qty, why_not(problem, blank), "shear"))
        else:
            types.setdefault(key, []).append(blank)
    keys = sorted(types, key=lambda key: (-key[0] * key[1], key))
    rooms = [room for room in rooms if any(_fits(key, room) for key in keys)]
    if not limited:
        rooms = _unbeaten(rooms)
    members = tuple(tuple(types[key]) for key in keys)
    reduced = replace(_arrays(keys, members, rooms), shear=_with_kerf(problem))
    return Reduction(problem, reduced, tuple(rooms), members, tuple(unplaced))


def _with_kerf(problem: Problem) -> ShearLimits:
    """The limits in the engine's sizes: a part and a cut are longer by the kerf there."""
    limits = problem.shear
    return replace(
        limits,
        min_strip=min(MOST, limits.min_strip + problem.kerf) if limits.min_strip else 0,
        max_cut=None if limits.max_cut is None else min(MOST, limits.max_cut + problem.kerf),
    )


def _item_type(blank: Blank, kerf: int, rooms: list[Bin]) -> tuple[int, int, bool] | None:
    """Width, length and permission to turn as the engine sees them; None when it fits nowhere."""
    width, length = blank.width + kerf, blank.length + kerf
    upright = any(width <= room.width and length <= room.length for room in rooms)
    lying = blank.turn and any(length <= room.width and width <= room.length for room in rooms)
    if upright and lying:
        return min(width, length), max(width, length), width != length
    if upright:
        return width, length, False
    return (length, width, False) if lying else None


def _why_not(blank: Blank, problem: Problem) -> str:
    trim = f" less {problem.trim} trim all round" if problem.trim else ""
    turn = "" if blank.turn else " (it may not be turned)"
    at_hand = [stock for stock in problem.stock if stock.qty != 0]
    if not at_hand:
        return "there is no stock at hand"
    rooms = ", ".join(
        f"{s.name} {s.width} x {s.length}" + (" (longest cut)" if s.kind == "coil" else "")
        for s in at_hand[:4]
    )
    more = f" and {len(at_hand) - 4} more" if len(at_hand) > 4 else ""
    size = f"{blank.width} x {blank.length}"
    return f"{size}{turn} is larger than every stock: {rooms}{more}{trim}"


def _unbeaten(rooms: list[Bin]) -> list[Bin]:
    """Without the bins that another one beats in every respect."""
    return [
        room
        for place, room in enumerate(rooms)
        if not any(_beats(other, room, at < place) for at, other in enumerate(rooms))
    ]


def _fits(key: tuple[int, int, bool], room: Bin) -> bool:
    width, length, turn = key
    return (width <= room.width and length <= room.length) or (
        turn and length <= room.width and width <= room.length
    )


def _beats(other: Bin, room: Bin, earlier: bool) -> bool:
    """True when nothing is lost by using `other` wherever `room` would be."""
    if other is room or other.stock.qty is not None or room.stock.kind == "offcut":
        return False
    mine = (room.width, room.length, -room.cost)
    others = (other.width, other.length, -other.cost)
    return all(a >= b for a, b in zip(others, mine, strict=True)) and (others != mine or earlier)


def _arrays(
    keys: list[tuple[int, int, bool]], members: tuple[tuple[Blank, ...], ...], rooms: list[Bin]
) -> Reduced:
    demand = [sum(blank.qty for blank in merged) for merged in members]
    total = sum(demand)
    qty = [UNLIMITED if r.stock.qty is None else min(r.stock.qty, total) for r in rooms]
    return Reduced(
        item_w=np.array([key[0] for key in keys], dtype=np.int64),
        item_l=np.array([key[1] for key in keys], dtype=np.int64),
        demand=np.array(demand, dtype=np.int64),
        turn=np.array([key[2] for key in keys], dtype=np.bool_),
        bin_w=np.array([room.width for room in rooms], dtype=np.int64),
        bin_l=np.array([room.length for room in rooms], dtype=np.int64),
        bin_cost=np.array([room.cost for room in rooms], dtype=np.float64),
        bin_qty=np.array(qty, dtype=np.int64),
    )
