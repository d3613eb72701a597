"""Why a blank is not cut, in sentences for a person with a tape in his hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting import Problem, ShearLimits
from nesting.plan import Unplaced
from nesting.shearable import shearable
from takeoff.blanks import JobBlank, MadeLine, by_metal
from takeoff.jobs.job import Job
from takeoff.lengths import Length, Unit, show_exactly
from takeoff.nest import GroupPlan, pose
from takeoff.settings import Profile, Shear
from takeoff.stock import StockItem, StockList


def uncut(group: GroupPlan, entry: Unplaced, profile: Profile, unit: Unit) -> str:
    """The reason why copies of a blank are in no layout: a clause without a full stop."""
    blank = group.blank(entry.blank.name)
    if entry.cause == "shear":
        return _beyond_shear(blank, profile.shear, unit)
    if entry.cause == "size":
        return _too_large(blank, group.stock, unit)
    within = " that the shear can cut" if group.problem.shear != ShearLimits() else ""
    return f"there is no room{within} left on the sheets at hand; add sheets to the stock list"


def beyond_shear(
    job: Job, lines: Sequence[MadeLine], stock: StockList, profile: Profile
) -> Iterator[str]:
    """A sentence for each blank that the shear cannot cut from any sheet of its metal."""
    for metal, blanks in by_metal(blank for line in lines for blank in line.blanks).items():
        problem = pose(job, blanks, stock.for_group(metal.material, metal.gauge), profile)
        if problem.shear == ShearLimits():
            continue
        for blank in blanks:
            if not _can_be_cut(problem, blank.name):
                why = _beyond_shear(blank, profile.shear, job.unit)
                yield f"{blank.name} cannot be sheared: {why}."


def _can_be_cut(problem: Problem, name: str) -> bool:
    asked = next(blank for blank in problem.blanks if blank.name == name)
    fitting = [stock for stock in problem.stock if stock.qty != 0]
    larger = all(
        not _holds(stock.width, stock.length, asked.width, asked.length) for stock in fitting
    )
    return larger or shearable(problem, asked, fitting)  # too large is told elsewhere


def _holds(width: int, length: int, one: int, other: int) -> bool:
    return min(one, other) <= min(width, length) and max(one, other) <= max(width, length)


def _beyond_shear(blank: JobBlank, shear: Shear, unit: Unit) -> str:
    size = f"the blank is {_size(blank, unit)}"
    side = max(blank.width, blank.length)
    if side > shear.length:
        return (
            f"{size}, and the shear cuts no more than {_with_unit(shear.length, unit)} in one go. "
            f"No sheet has an edge that could serve as its side of {_with_unit(side, unit)}: cut "
            "it by hand, stock a sheet of that width or length, or make the fitting in shorter "
            "pieces"
        )
    return (
        f"{size}, and no sheet can be cut to it with {_with_unit(shear.min_strip, unit)} or more "
        "under the hold-down of the shear at every cut: cut it by hand, or from an offcut that "
        "needs no such cut"
    )


def _too_large(blank: JobBlank, stock: Sequence[StockItem], unit: Unit) -> str:
    turn = "" if blank.turn else ", may not be turned"
    sizes = sorted({(item.width, item.length) for item in stock}, key=lambda s: -s[0] * s[1])[:4]
    listed = ", ".join(f"{show_exactly(w, unit)} x {show_exactly(n, unit)}" for w, n in sizes)
    return f"the blank is {_size(blank, unit)}{turn}, and the largest sheets are {listed}"


def _size(blank: JobBlank, unit: Unit) -> str:
    return f"{show_exactly(blank.width, unit)} x {_with_unit(blank.length, unit)}"


def _with_unit(value: Length, unit: Unit) -> str:
    return f"{show_exactly(value, unit)} {unit.name}"
