"""The door to the nest engine: blanks and stock in shop units to a problem, plans back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import monotonic

from nesting import (
    Blank,
    InvalidProblemError,
    Keep,
    Plan,
    Problem,
    ShearLimits,
    Stock,
    solve,
    verify,
)
from nesting.interrupt import interruptible
from nesting.progress import Event
from takeoff.blanks import JobBlank, MadeLine, by_metal, grid_size
from takeoff.errors import TakeoffError
from takeoff.jobs.job import Job
from takeoff.lengths import Grid, Length, to_grid
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT, SheetMetal
from takeoff.settings import Profile
from takeoff.stock import StockItem, StockList
from takeoff.supply import Supply
from takeoff.withdrawal import PERCENT, RoomUse, Withdrawal

GroupProgress = Callable[[SheetMetal, Event], None]
"""Called with the metal being nested and each of the engine's events."""


class CannotNest(TakeoffError, ValueError):
    """A size, price or setting that the nest engine cannot count with."""


@dataclass(frozen=True)
class GroupPlan:
    """The blanks of one metal and gauge, nested.

    Attributes:
        metal: what they are cut from.
        blanks: the blanks, by the order of the job.
        stock: the sheets there were to choose from.
        problem: what the engine was asked, in grid steps.
        plan: what it answered.
    """

    metal: SheetMetal
    blanks: tuple[JobBlank, ...]
    stock: tuple[StockItem, ...]
    problem: Problem
    plan: Plan

    def blank(self, name: str) -> JobBlank:
        """The job's blank behind a placement; KeyError for a stranger."""
        for blank in self.blanks:
            if blank.name == name:
                return blank
        raise KeyError(name)

    def item(self, name: str) -> StockItem:
        """The stock item behind a sheet layout; KeyError for a stranger."""
        for item in self.stock:
            if item.name == name:
                return item
        raise KeyError(name)


@dataclass(frozen=True)
class JobPlan:
    """A whole solved job.

    Attributes:
        job: the job list.
        lines: its fittings taken apart.
        groups: one nest for each metal and gauge.
        profile: the shop's settings it was made with.
        grid: what one step of the engine's integers is.
        seconds: how long the nesting took.
        stopped: whether Ctrl-C ended the search before its time.
        room: the stock room that it draws on, if any.
    """

    job: Job
    lines: tuple[MadeLine, ...]
    groups: tuple[GroupPlan, ...]
    profile: Profile
    grid: Grid
    seconds: float
    stopped: bool = False
    room: RoomUse | None = None


def usable_sizes(
    stock: StockList, profile: Profile
) -> Callable[[SheetMetal], Sequence[tuple[Length, Length]]]:
    """What of each sheet is left inside the trim, for the fittings to choose their pieces by."""
    trim = 2 * profile.cut.trim

    def sizes(metal: SheetMetal) -> list[tuple[Length, Length]]:
        items = stock.for_group(metal.material, metal.gauge)
        return [(item.width - trim, item.length - trim) for item in items]

    return sizes


def nest_job(
    job: Job,
    lines: Sequence[MadeLine],
    stock: StockList,
    profile: Profile,
    seconds: float,
    seed: int = 0,
    progress: GroupProgress | None = None,
    threads: int | None = None,
    room: Withdrawal | None = None,
) -> JobPlan:
    """Nest every metal and gauge of the job by itself.

    Ctrl-C ends the search of all groups and gives the best plan so far.

    Args:
        job: the job list.
        lines: its fittings taken apart (`takeoff.blanks.make_job`).
        stock: the sheets there are.
        profile: the shop's settings.
        seconds: for the whole job; what one group leaves goes to those after it.
        seed: of everything random in the search.
        progress: see `GroupProgress`.
        threads: of the search; None: as many as the machine offers.
        room: what there is in the stock room beside the sheets to buy.

    Raises:
        PlanFaultError: a plan did not pass the independent checker; no paper may be made of it.
    """
    started = monotonic()
    waiting = by_metal(blank for line in lines for blank in line.blanks)
    groups: list[GroupPlan] = []
    with interruptible() as stop:
        for place, (metal, blanks) in enumerate(waiting.items()):
            left = max(seconds - (monotonic() - started), 0.1)
            share = left / (len(waiting) - place)
            items = stock.for_group(metal.material, metal.gauge)
            if room is not None:
                items = *items, *room.items(metal, blanks, items, job, profile)
            group = job, metal, blanks, items, profile
            groups.append(_nest_group(*group, share, seed, progress, threads))
    return JobPlan(
        job,
        tuple(lines),
        tuple(groups),
        profile,
        profile.grid.of(job.unit),
        monotonic() - started,
        stop.is_set(),
        room.use if room is not None else None,
    )


def _nest_group(
    job: Job,
    metal: SheetMetal,
    blanks: Sequence[JobBlank],
    items: tuple[StockItem, ...],
    profile: Profile,
    seconds: float,
    seed: int,
    progress: GroupProgress | None,
    threads: int | None,
) -> GroupPlan:
    try:
        problem = pose(job, blanks, items, profile)
    except InvalidProblemError as error:
        raise CannotNest(f"{metal.name} cannot be nested: {error}.") from error

    def report(event: Event) -> None:
        if progress is not None:
            progress(metal, event)

    plan = solve(problem, seconds=seconds, seed=seed, threads=threads, progress=report)
    verify(problem, plan)
    return GroupPlan(metal, tuple(blanks), items, problem, plan)


def pose(
    job: Job, blanks: Sequence[JobBlank], items: Sequence[StockItem], profile: Profile
) -> Problem:
    """The engine's question: blanks rounded up to the grid, sheets rounded down."""
    grid = profile.grid.of(job.unit)
    return Problem(
        blanks=[
            Blank(blank.name, *grid_size(blank, profile, job), blank.qty, blank.turn)
            for blank in blanks
        ],
        stock=[_stock(item, profile, grid) for item in items],
        kerf=to_grid(profile.cut.kerf, grid),
        trim=to_grid(profile.cut.trim, grid),
        shear=_shear(profile, items, grid),
        keep=_keep(profile, items[0].gauge, grid),
    )


def _stock(item: StockItem, profile: Profile, grid: Grid) -> Stock:
    """Stock as the engine counts it: a sheet on hand for a part of its price, to be taken first."""
    on_hand = item.supply is Supply.ON_HAND
    return Stock(
        item.name,
        _down(item.width, grid),
        _down(item.length, grid),
        item.cost * profile.room.sheet_value / PERCENT if on_hand else item.cost,
        item.qty,
        "offcut" if item.supply is Supply.RACK else "sheet",
    )


def _shear(profile: Profile, items: Sequence[StockItem], grid: Grid) -> ShearLimits:
    """What the shear can hold; the longest cut only where a sheet is longer than the shear."""
    longest = max(max(item.width, item.length) for item in items)
    reach = profile.shear.length
    return ShearLimits(
        max_cut=_down(reach, grid) if longest > reach else None,
        min_strip=to_grid(profile.shear.min_strip, grid),
    )


def _keep(profile: Profile, gauge: int, grid: Grid) -> Keep:
    """The shop's rule for offcuts of a gauge, in grid steps."""
    smallest = profile.offcut.of(gauge)
    square_inches = smallest.min_area_ft2 * SQUARE_INCHES_IN_A_SQUARE_FOOT
    return Keep(
        min_side=max(1, to_grid(smallest.min_side, grid)),
        min_area=max(1, round(square_inches * float(grid.per_inch) ** 2)),
    )


def _down(length: Length, grid: Grid) -> int:
    """Grid steps inside a sheet's side: a sheet is never taken for larger than it is."""
    return -to_grid(-length, grid)
