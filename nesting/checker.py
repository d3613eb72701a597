"""An independent check of a plan against its problem.

Shares no code with the search or with the derivation of the cut order, so that a mistake there
cannot hide here.
"""

import math
from collections import Counter
from collections.abc import Sequence

from nesting.errors import PlanFaultError
from nesting.model import Blank, Problem, ShearLimits, Stock
from nesting.plan import Placement, Plan, SheetLayout, Unplaced

TOLERANCE = 1e-9  # relative, for sums of money only


def verify(problem: Problem, plan: Plan) -> None:
    """Check every rule anew; return quietly when all hold.

    Stock known, in stock and drawn no longer than it is; blanks known, of their own size, turned
    only where allowed, inside the trim, apart by the kerf; every copy placed or listed as left
    out, and none left out that unlimited stock could take; cost summed anew, bound not above
    it; every sheet cut by guillotine cuts and within the limits of the shear.

    Raises:
        PlanFaultError: the first fault found, in plain words.
    """
    _check_stock(problem, plan)
    for number, sheet in enumerate(plan.sheets, start=1):
        where = f"sheet {number} ({sheet.stock.name})"
        _check_placements(problem, sheet, where)
        _check_apart(problem.kerf, sheet.placements, where)
        if problem.guillotine:
            _check_guillotine(problem.kerf, sheet.placements, where)
        if problem.shear != ShearLimits():
            _check_shear(problem, sheet, where)
    _check_demand(problem, plan)
    _check_money(plan)


def _check_stock(problem: Problem, plan: Plan) -> None:
    known = set(problem.stock)
    for number, sheet in enumerate(plan.sheets, start=1):
        if sheet.stock not in known:
            raise PlanFaultError(f"sheet {number} is cut from unknown stock {sheet.stock.name!r}")
        coil = sheet.stock.kind == "coil"
        if coil and not 0 < sheet.drawn <= sheet.stock.length:
            raise PlanFaultError(
                f"sheet {number}: {sheet.drawn} are drawn from {sheet.stock.name}, "
                f"the longest piece is {sheet.stock.length}"
            )
        if not coil and sheet.drawn != sheet.stock.length:
            raise PlanFaultError(
                f"sheet {number}: {sheet.stock.name} is {sheet.stock.length} long and not a coil, "
                f"yet {sheet.drawn} are drawn"
            )
    used = Counter(sheet.stock for sheet in plan.sheets)
    for stock, count in used.items():
        if stock.qty is not None and count > stock.qty:
            raise PlanFaultError(f"{count} of {stock.name} are used, only {stock.qty} at hand")


def _check_placements(problem: Problem, sheet: SheetLayout, where: str) -> None:
    known = set(problem.blanks)
    for p in sheet.placements:
        blank = p.blank
        if blank not in known:
            raise PlanFaultError(f"{where}: unknown blank {blank.name!r}")
        size = (blank.length, blank.width) if p.turned else (blank.width, blank.length)
        if (p.width, p.length) != size:
            raise PlanFaultError(
                f"{where}: {blank.name} lies as {p.width} x {p.length}, "
                f"{'turned' if p.turned else 'upright'} it is {size[0]} x {size[1]}"
            )
        if p.turned and not blank.turn:
            raise PlanFaultError(f"{where}: {blank.name} is turned and may not be")
        t = problem.trim
        inside = t <= p.x and p.x + p.width <= sheet.stock.width - t
        if not inside or p.y < t or p.y + p.length > sheet.drawn - t:
            raise PlanFaultError(
                f"{where}: {blank.name} at {p.x}, {p.y} ({p.width} x {p.length}) reaches outside "
                f"{sheet.stock.width} x {sheet.drawn} less {t} trim"
            )


def _check_apart(kerf: int, placements: Sequence[Placement], where: str) -> None:
    ordered = sorted(placements, key=lambda p: p.y)
    for place, a in enumerate(ordered):
        for b in ordered[place + 1 :]:
            if b.y >= a.y + a.length + kerf:
                break
            if a.x < b.x + b.width + kerf and b.x < a.x + a.width + kerf:
                touching = a.x >= b.x + b.width or b.x >= a.x + a.width or b.y >= a.y + a.length
                fault = f"lie closer than the kerf of {kerf}" if touching else "overlap"
                raise PlanFaultError(
                    f"{where}: {a.blank.name} at {a.x}, {a.y} and {b.blank.name} at {b.x}, {b.y} "
                    f"{fault}"
                )


def _groups(kerf: int, placements: Sequence[Placement], across: bool) -> list[list[Placement]]:
    """Parts that cuts in one direction separate; `across` the width: cuts at one y."""
    spans = [(p.y, p.y + p.length, p) if across else (p.x, p.x + p.width, p) for p in placements]
    spans.sort(key=lambda span: span[0])
    groups: list[list[Placement]] = []
    reach = 0
    for start, end, p in spans:
        if groups and start < reach + kerf:
            groups[-1].append(p)
            reach = max(reach, end)
        else:
            groups.append([p])
            reach = end
    return groups


def _check_guillotine(kerf: int, placements: Sequence[Placement], where: str) -> None:
    open_groups = [list(placements)]
    while open_groups:
        group = open_groups.pop()
        if len(group) < 2:
            continue
        parts = _groups(kerf, group, across=True)
        if len(parts) == 1:
            parts = _groups(kerf, group, across=False)
        if len(parts) == 1:
            names = ", ".join(f"{p.blank.name} at {p.x}, {p.y}" for p in group[:5])
            raise PlanFaultError(f"{where}: no cut from edge to edge separates {names}")
        open_groups.extend(parts)


Region = tuple[int, int, int, int]  # x0, y0, x1, y1


def _check_shear(problem: Problem, sheet: SheetLayout, where: str) -> None:
    if not _within_limits(problem, sheet.stock, sheet.placements, sheet.drawn):
        raise PlanFaultError(f"{where}: the shear's limits don't allow it: {problem.shear}")


def _within_limits(problem: Problem, stock: Stock, group: Sequence[Placement], drawn: int) -> bool:
    """True when the shear can cut this much of a stock so; a coil has been cut across before."""
    t = problem.trim
    region = (t, t, stock.width - t, drawn - t)
    only_across = problem.shear.first_across and stock.kind != "coil"
    starts = [True] if only_across else [True, False]
    stages = problem.shear.stages
    left = len(group) * 2 + 2 if stages is None else stages
    return any(_shearable(problem, group, region, across, left) for across in starts)


def _shearable(
    problem: Problem, group: Sequence[Placement], region: Region, across: bool, stages: int
) -> bool:
    """True when cuts in turning directions, first `across`, free every blank of the group."""
    x0, y0, x1, y1 = region
    if len(group) == 1 and _box(group) == region:
        return True
    if stages == 0:
        return False
    parts = _groups(problem.kerf, group, across)
    boxes = [_box(part) for part in parts]
    low, high, cut_length = (y0, y1, x1 - x0) if across else (x0, x1, y1 - y0)
    spans = [(b[1], b[3]) if across else (b[0], b[2]) for b in boxes]
    sizes = [end - start for start, end in spans]
    if sizes == [high - low]:
        return False
    limits = problem.shear
    if limits.max_cut is not None and cut_length > limits.max_cut:
        return False
    if max(sizes + _scrap_between(problem.kerf, low, spans, high)) < limits.min_strip:
        return False
    inner = [(x0, a, x1, b) if across else (a, y0, b, y1) for a, b in spans]
    return all(
        _shearable(problem, part, room, not across, stages - 1)
        for part, room in zip(parts, inner, strict=True)
    )


def _scrap_between(kerf: int, low: int, spans: Sequence[tuple[int, int]], high: int) -> list[int]:
    """Sizes of the scrap before, between and after the spans, less what the cuts destroy."""
    edges = [low - kerf, *(edge for span in spans for edge in span), high + kerf]
    return [stop - start - 2 * kerf for start, stop in zip(edges[::2], edges[1::2], strict=True)]


def _box(group: Sequence[Placement]) -> Region:
    return (
        min(p.x for p in group),
        min(p.y for p in group),
        max(p.x + p.width for p in group),
        max(p.y + p.length for p in group),
    )


def _check_demand(problem: Problem, plan: Plan) -> None:
    placed = Counter(p.blank for sheet in plan.sheets for p in sheet.placements)
    missing = _listed(plan.unplaced, "unplaced", filler=False)
    skipped = _listed(plan.left_out, "left out", filler=True)
    for blank in (missing | skipped).keys() - set(problem.blanks):
        raise PlanFaultError(f"unknown blank {blank.name!r} is listed as not cut")
    for blank in problem.blanks:
        count = placed[blank] + missing[blank] + skipped[blank]
        if count != blank.qty:
            raise PlanFaultError(
                f"{blank.name}: {blank.qty} wanted, {placed[blank]} placed and "
                f"{missing[blank] + skipped[blank]} listed as not cut"
            )
        if missing[blank]:
            _check_excuse(problem, plan, blank)


def _listed(entries: Sequence[Unplaced], word: str, filler: bool) -> Counter[Blank]:
    counts: Counter[Blank] = Counter()
    for entry in entries:
        if entry.qty < 1 or entry.blank.filler is not filler:
            raise PlanFaultError(f"{entry.qty} of {entry.blank.name} can't be listed as {word}")
        counts[entry.blank] += entry.qty
    return counts


def _check_excuse(problem: Problem, plan: Plan, blank: Blank) -> None:
    """A blank may only be missing when no copy of stock is left that could take it."""
    used = Counter(sheet.stock for sheet in plan.sheets)
    for stock in problem.stock:
        if (stock.qty is None or used[stock] < stock.qty) and _takes(problem, stock, blank):
            raise PlanFaultError(f"{blank.name} is left out, yet {stock.name} could take it")


def _takes(problem: Problem, stock: Stock, blank: Blank) -> bool:
    """True when a copy of the stock, a coil drawn as far as needed, gives one of the blank."""
    t = problem.trim
    ways = [Placement(blank, t, t, blank.width, blank.length, turned=False)]
    if blank.turn:
        ways.append(Placement(blank, t, t, blank.length, blank.width, turned=True))
    inside = [
        p for p in ways if p.width <= stock.width - 2 * t and p.length <= stock.length - 2 * t
    ]
    if problem.shear == ShearLimits():
        return bool(inside)
    drawn = {p: p.length + 2 * t if stock.kind == "coil" else stock.length for p in inside}
    return any(_within_limits(problem, stock, [p], drawn[p]) for p in inside)


def _check_money(plan: Plan) -> None:
    cost = 0.0
    for sheet in plan.sheets:
        share = sheet.drawn / sheet.stock.length if sheet.stock.kind == "coil" else 1.0
        cost += sheet.stock.cost * share
    if not math.isclose(cost, plan.cost, rel_tol=TOLERANCE, abs_tol=TOLERANCE):
        raise PlanFaultError(f"the plan says it costs {plan.cost}, its sheets cost {cost}")
    if not 0 <= plan.bound <= cost * (1 + TOLERANCE) + TOLERANCE:
        raise PlanFaultError(f"the bound of {plan.bound} is not between 0 and the cost of {cost}")
