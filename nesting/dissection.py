"""A sheet taken apart: the cut order, the offcuts, the scrap, and where every square unit goes."""

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cuts import Cut, Rect, Strip, cut_order, cut_tree
from nesting.model import Problem, ShearLimits
from nesting.offcuts import claim_offcuts
from nesting.plan import SheetLayout


@dataclass(frozen=True, slots=True)
class Areas:
    """Where the metal of a sheet goes, square grid units; the sum is the sheet."""

    blanks: int
    offcuts: int
    scrap: int
    kerf: int
    trim: int

    @property
    def total(self) -> int:
        """Of the sheet."""
        return self.blanks + self.offcuts + self.scrap + self.kerf + self.trim


@dataclass(frozen=True, slots=True)
class Dissection:
    """How a sheet comes apart.

    Attributes:
        tree: strips within strips; `wanted` counts the sheet's placements, then the offcuts
            that were claimed.
        cuts: in the order they are made, the trimming of the sheet's edges not counted.
        offcuts: worth keeping, the largest first.
        scrap: leftovers that aren't.
        areas: where the metal goes.
    """

    tree: Strip
    cuts: tuple[Cut, ...]
    offcuts: tuple[Rect, ...]
    scrap: tuple[Rect, ...]
    areas: Areas

    @property
    def settings(self) -> int:
        """Different settings of the back gauge."""
        return len({cut.gauge for cut in self.cuts})


def dissect(problem: Problem, sheet: SheetLayout) -> Dissection:
    """Take a sheet apart: the largest offcuts kept whole, then fewest cuts, then fewest settings.

    Within the limits of the shear if that can be done at all.

    Raises:
        NotGuillotineError: no cuts from edge to edge separate the blanks.
    """
    region = _usable(problem, sheet)
    placed = [Rect(p.x, p.y, p.width, p.length) for p in sheet.placements]
    claimed = claim_offcuts(problem.kerf, region, placed, problem.keep)
    ways = _ways(problem, sheet, region, [*placed, *claimed])
    if claimed and problem.shear != ShearLimits():
        plain = _ways(problem, sheet, region, placed)
        if not (_any_keeps(problem, sheet, plain) and _any_keeps(problem, sheet, ways)):
            ways = plain  # the blanks alone decide whether a layout keeps the limits
    return min(ways, key=lambda way: _preference(problem, sheet, way))


def keeps_limits(problem: Problem, sheet: SheetLayout, way: Dissection) -> bool:
    """True when the shear can take the sheet apart this way."""
    limits = problem.shear
    return (
        (limits.stages is None or way.tree.stages() <= limits.stages)
        and (way.tree.across is None or way.tree.across in _starts(problem, sheet))
        and all(cut.held >= limits.min_strip for cut in way.cuts)
        and (limits.max_cut is None or all(cut.length <= limits.max_cut for cut in way.cuts))
    )


def _starts(problem: Problem, sheet: SheetLayout) -> list[bool]:
    """Whether the first cuts may run across: a coil's piece has been cut across to get it."""
    only_across = problem.shear.first_across and sheet.stock.kind != "coil"
    return [True] if only_across else [True, False]


def _ways(
    problem: Problem, sheet: SheetLayout, region: Rect, wanted: Sequence[Rect]
) -> list[Dissection]:
    return [_way(problem, sheet, region, wanted, start) for start in _starts(problem, sheet)]


def _any_keeps(problem: Problem, sheet: SheetLayout, ways: Sequence[Dissection]) -> bool:
    return any(keeps_limits(problem, sheet, way) for way in ways)


def _usable(problem: Problem, sheet: SheetLayout) -> Rect:
    t = problem.trim
    return Rect(t, t, sheet.width - 2 * t, sheet.length - 2 * t)


def _way(
    problem: Problem, sheet: SheetLayout, region: Rect, wanted: Sequence[Rect], across: bool
) -> Dissection:
    tree = cut_tree(problem.kerf, region, wanted, across)
    cuts = tuple(cut_order(problem.kerf, tree, problem.shear.min_strip))
    blanks = len(sheet.placements)
    left = [leaf for leaf in tree.leaves() if leaf.wanted is None or leaf.wanted >= blanks]
    worth = [leaf.rect for leaf in left if problem.keep.worth(*leaf.rect[2:])]
    scrap = [leaf.rect for leaf in left if not problem.keep.worth(*leaf.rect[2:])]
    areas = Areas(
        blanks=sum(p.area for p in sheet.placements),
        offcuts=sum(rect.area for rect in worth),
        scrap=sum(rect.area for rect in scrap),
        kerf=sum(cut.lost for cut in cuts),
        trim=sheet.area - region.area,
    )
    worth.sort(key=lambda rect: (-rect.area, rect))
    return Dissection(tree, cuts, tuple(worth), tuple(scrap), areas)


def _preference(
    problem: Problem, sheet: SheetLayout, way: Dissection
) -> tuple[bool, int, int, int]:
    largest = way.offcuts[0].area if way.offcuts else 0
    return not keeps_limits(problem, sheet, way), -largest, len(way.cuts), way.settings
