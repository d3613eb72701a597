"""Blanks that the shear can't cut from any stock, whatever else is on the sheet."""

from collections.abc import Sequence

from nesting.dissection import dissect, keeps_limits
from nesting.model import Blank, Problem, Stock
from nesting.plan import Placement, SheetLayout


def shearable(problem: Problem, blank: Blank, stock: Sequence[Stock]) -> bool:
    """True when the shear can cut the blank from some stock, a coil drawn as far as needed."""
    ways = [Placement(blank, 0, 0, blank.width, blank.length, turned=False)]
    if blank.turn:
        ways.append(Placement(blank, 0, 0, blank.length, blank.width, turned=True))
    return any(_keeps(problem, metal, way) for metal in stock for way in ways)


def why_not(problem: Problem, blank: Blank) -> str:
    """The reason in words: which side, what the shear takes, what would help."""
    limits = problem.shear
    size = f"{blank.width} x {blank.length}"
    longest = limits.max_cut
    side = max(blank.width, blank.length)
    if longest is not None and side > longest:
        return (
            f"{size}: its side of {side} is beyond the shear's longest cut of {longest}, and no "
            "stock is as wide or as long as the blank so that this side needs no cut: cut it by "
            "hand or have it sheared"
        )
    told = []
    if longest is not None:
        told.append(f"longest cut {longest}")
    if limits.min_strip:
        told.append(f"least strip under the hold-down {limits.min_strip}")
    if limits.first_across:
        told.append("first cuts across the width")
    if limits.stages is not None:
        told.append(f"cuts in {limits.stages} stages")
    rules = ", ".join(told)
    return f"{size}: the limits of the shear ({rules}) let no stock be cut to it"


def _keeps(problem: Problem, stock: Stock, way: Placement) -> bool:
    t = problem.trim
    if way.width > stock.width - 2 * t or way.length > stock.length - 2 * t:
        return False
    placed = Placement(way.blank, t, t, way.width, way.length, way.turned)
    drawn = way.length + 2 * t if stock.kind == "coil" else stock.length
    sheet = SheetLayout(stock, [placed], drawn)
    return keeps_limits(problem, sheet, dissect(problem, sheet))
