"""What a plan is chosen by, in order of importance, with the figures it reaches."""

from typing import NamedTuple

from nesting.dissection import Dissection, dissect, keeps_limits
from nesting.model import Problem
from nesting.plan import Goal, SheetLayout


class Figures(NamedTuple):
    """The figures of some sheets: cost, blanks from the rack, largest offcut, cuts, settings.

    Areas in square grid units; `beyond` counts sheets that the shear's limits don't allow.
    """

    beyond: int
    cost: float
    rack: int
    largest: int
    cuts: int
    settings: int

    def order(self) -> tuple[int, float, int, int, int, int]:
        """What plans are compared by, the least first."""
        cost = round(self.cost, 9)
        return self.beyond, cost, -self.rack, -self.largest, self.cuts, self.settings


Known = dict[SheetLayout, Dissection]


def figures_of(problem: Problem, sheets: tuple[SheetLayout, ...], known: Known) -> Figures:
    """Work the figures out from the cut order of each sheet.

    Args:
        problem: the rules.
        sheets: of the plan.
        known: sheets taken apart before; those of the plan are added to it.
    """
    for sheet in sheets:
        if sheet not in known:
            known[sheet] = dissect(problem, sheet)
    apart = {sheet: known[sheet] for sheet in sheets}
    beyond = {sheet for sheet, way in apart.items() if not keeps_limits(problem, sheet, way)}
    return Figures(
        beyond=sum(sheet in beyond for sheet in sheets),
        cost=sum(sheet.cost for sheet in sheets),
        rack=sum(p.area for s in sheets if s.stock.kind == "offcut" for p in s.placements),
        largest=max((way.offcuts[0].area for way in apart.values() if way.offcuts), default=0),
        cuts=sum(len(apart[sheet].cuts) for sheet in sheets),
        settings=len({cut.gauge for way in apart.values() for cut in way.cuts}),
    )


def goals_of(problem: Problem, sheets: tuple[SheetLayout, ...], known: Known) -> tuple[Goal, ...]:
    """The goals as a plan states them."""
    reached = figures_of(problem, sheets, known)
    return (
        Goal("least cost of stock", reached.cost, "money"),
        Goal("most blanks cut from the rack", reached.rack, "square units"),
        Goal("largest single offcut", reached.largest, "square units"),
        Goal("fewest cuts", reached.cuts, "cuts"),
        Goal("fewest different gauge settings", reached.settings, "settings"),
    )
