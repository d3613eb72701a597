"""One choice worked out: the job made and nested by it, and what that comes to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from nesting import Blank, Problem, Stock, solve
from takeoff.bill.cost import price_notes, stock_cost
from takeoff.bill.money import exactly
from takeoff.bill.weight import weights
from takeoff.blanks import make_job
from takeoff.errors import Fault, JobFaults
from takeoff.jobs.job import Job, Kind
from takeoff.layouts import layouts
from takeoff.nest import JobPlan, nest_job, usable_sizes
from takeoff.settings import Profile

from .choices import CannotChoose, Choice, Supply, apply


@dataclass(frozen=True)
class Task:
    """All that is needed to work a choice out on one core, wherever that is."""

    choice: Choice
    job: Job
    supply: Supply
    profile: Profile
    seconds: float
    seed: int


@dataclass(frozen=True)
class Figures:
    """What a plan comes to.

    Attributes:
        cost: of the sheets.
        weight: of the sheets, lb.
        used: share of the sheets' weight that ends in blanks, 0 to 1.
        sheets: how many.
        bound: proved least cost.
    """

    cost: Fraction
    weight: Fraction
    used: float
    sheets: int
    bound: Fraction


@dataclass(frozen=True)
class Outcome:
    """A row of the comparison.

    Attributes:
        choice: what was tried.
        figures: what it comes to; None where it cannot be made.
        reason: why it cannot.
        too_light: marks whose gauge is lighter than the code table allows.
        price_notes: sentences about prices that stand in for the shop's own.
    """

    choice: Choice
    figures: Figures | None
    reason: str = ""
    too_light: tuple[str, ...] = ()
    price_notes: tuple[str, ...] = ()


def work_out(task: Task) -> Outcome:
    """Make and nest the job by a choice; one that cannot be made gives the reason."""
    try:
        job, stock = apply(task.choice, task.job, task.supply, task.profile)
        lines = make_job(job, task.profile, usable_sizes(stock, task.profile))
    except CannotChoose as error:
        return Outcome(task.choice, None, str(error))
    except JobFaults as error:
        return Outcome(task.choice, None, _told(error.faults, task.job))
    _warm_up()
    plan = nest_job(job, lines, stock, task.profile, task.seconds, task.seed, threads=1)
    if short := sum(each.qty for group in plan.groups for each in group.plan.unplaced):
        blanks = "blank has" if short == 1 else "blanks have"
        return Outcome(task.choice, None, f"the stock runs out: {short} {blanks} no sheet left")
    light = tuple(each.mark for each in job.advice if each.kind is Kind.LIGHTER)
    return Outcome(task.choice, _figures(plan), "", light, price_notes(plan))


@cache
def _warm_up() -> None:
    """Load the engine's compiled parts, once a process, off the clock of the first choice."""
    blanks = [Blank(f"b{n}", 700 + 130 * n, 900 + 70 * n, 2) for n in range(8)]
    stock = [Stock("small", 2304, 6144, 20.0), Stock("large", 3072, 6144, 30.0)]
    solve(Problem(blanks, stock), seconds=0.2, threads=1)


def _figures(plan: JobPlan) -> Figures:
    everything = layouts(plan)
    metal = weights(everything)
    used = float(metal.blanks / metal.stock) if metal.stock else 0.0
    return Figures(
        stock_cost(everything).stock,
        metal.stock,
        used,
        sum(layout.count for layout in everything),
        sum((exactly(group.plan.bound) for group in plan.groups), Fraction(0)),
    )


def _told(faults: tuple[Fault, ...], job: Job) -> str:
    """The first row that cannot be made, by its mark, and how many more there are."""
    first = faults[0]
    marks = {line.row: line.mark for line in job.lines}
    mark = marks.get(first.row or 0, f"row {first.row}")
    more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
    column = f"{first.column} " if first.column else ""
    return f"{mark}: {column}{first.value} {first.problem}{more}"
