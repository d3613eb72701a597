"""The last step of a solve: layouts become a plan, with fillers and the goals it reaches."""

from nesting.fillers import add_fillers
from nesting.goals import Known, goals_of
from nesting.incumbent import reaches
from nesting.layouts import Layouts
from nesting.plan import Plan
from nesting.reduce import Reduction
from nesting.tidy import tidy
from nesting.unfold import missing, unfold


def assemble(reduction: Reduction, layouts: Layouts, bound: float, known: Known) -> Plan:
    """The plan of these layouts; a bound that is above the cost by noise only is set to it.

    Args:
        reduction: what the layouts belong to.
        layouts: the sheets without fillers.
        bound: proved, on the cost of what is placed.
        known: sheets taken apart before.
    """
    blanks = tidy(reduction.problem, unfold(reduction, layouts), known)
    filled = add_fillers(reduction.problem, blanks)
    cost = sum(sheet.cost for sheet in filled.sheets)
    return Plan(
        sheets=filled.sheets,
        cost=cost,
        bound=cost if reaches(cost, bound) else bound,
        unplaced=missing(reduction, blanks),
        left_out=filled.left_out,
        goals=goals_of(reduction.problem, filled.sheets, known),
    )
