"""What speaks against a plan and what it takes for granted, in sentences for a person."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.findings import findings
from takeoff.lengths import GRIDS, Length, Unit, show_exactly, show_with_unit
from takeoff.nest import GroupPlan, JobPlan
from takeoff.profile import changes
from takeoff.settings import Profile
from takeoff.supply import ROOM_LIST, Supply


def assumed(plan: JobPlan) -> tuple[str, ...]:
    """What the code table and the air check found, then each thing taken for granted."""
    return tuple(_sentences(plan))


def room_sizes(plan: JobPlan) -> str:
    """That only sizes which the stock room lists are bought, and of what; "" where others are."""
    metals = [group.metal.name for group in plan.groups if _by_the_room(group)]
    if not metals:
        return ""
    return (
        f"New sheets of {' and '.join(metals)} are bought in the sizes that the stock room lists, "
        "and in no others. To have more to choose from, put their sizes into the stock room (a "
        "count of 0 will do), or plan with a stock list."
    )


def _by_the_room(group: GroupPlan) -> bool:
    return any(item.supply is Supply.BUY and item.source == ROOM_LIST for item in group.stock)


def _sentences(plan: JobPlan) -> Iterator[str]:
    profile, unit = plan.profile, plan.job.unit
    yield from findings(plan.job, profile)
    yield from _shop(profile)
    yield from _stock(plan)
    yield _bends(profile, unit)
    step = show_exactly(1 / plan.grid.per_inch, unit) if plan.grid == GRIDS[unit] else None
    rounded = f"{step} {unit.name}" if step else f"1/{plan.grid.per_inch} in"
    yield f"Blanks are laid out in sizes rounded up to the next {rounded}."
    yield _cutting(profile, unit)
    yield from _kept(plan)
    if profile.grain.turn:
        yield "Blanks may be turned a quarter on the sheet unless their row says otherwise."
    else:
        yield "Blanks keep the sheet's grain along their length unless their row says otherwise."
    for metal in dict.fromkeys(group.metal for group in plan.groups):
        yield (
            f"{metal.material.capitalize()} {metal.gauge} ga: {float(metal.thickness):.4f} in "
            f"thick, {float(metal.weight):.3f} lb/ft2 ({metal.source})."
        )


def _kept(plan: JobPlan) -> Iterator[str]:
    """What is worth keeping, by gauge where the shop keeps smaller pieces of some."""
    unit = plan.job.unit
    rules: dict[tuple[Length, float], list[str]] = {}
    for group in plan.groups:
        rule = plan.profile.offcut.of(group.metal.gauge)
        names = rules.setdefault((rule.min_side, rule.min_area_ft2), [])
        names.append(group.metal.name)
    for (side, area), names in rules.items():
        of = f" of {', '.join(names)}" if len(rules) > 1 else ""
        yield (
            f"A leftover{of} is kept when it is at least {show_with_unit(side, unit)} "
            f"on its short side and {area:g} ft2; the rest counts as scrap."
        )


def _shop(profile: Profile) -> Iterator[str]:
    changed = changes(profile)
    if not changed:
        yield "Seams, ends and machines are the defaults; no setting of your shop differs."
    for change in changed:
        usual = f" (default {change.usual})" if change.usual else ""
        yield f"Shop setting {change.key} = {change.value}{usual}."


def _stock(plan: JobPlan) -> Iterator[str]:
    sources = dict.fromkeys(item.source for group in plan.groups for item in group.stock)
    for source in sources:
        yield f"Sheet sizes: {source}."


def _bends(profile: Profile, unit: Unit) -> str:
    if profile.bend.rule == "sharp":
        return "Bends are taken as sharp: the sizes on both sides of a bend line simply add."
    radius = show_with_unit(profile.bend.radius, unit, 64)
    return f"Bends are developed with an inside radius of {radius}."


def _cutting(profile: Profile, unit: Unit) -> str:
    kerf = show_with_unit(profile.cut.kerf, unit, 64)
    trim = show_with_unit(profile.cut.trim, unit, 64)
    return (
        f"Every cut runs from edge to edge and loses {kerf}; {trim} is trimmed off all round "
        "a sheet before it is used."
    )
