"""The cleats that a job's joints need, counted from open ends and from the joints inside runs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.connections import connections
from takeoff.fittings.base import Fitting, OpenEnd
from takeoff.fittings.corner_angle import CornerAngle
from takeoff.fittings.drive_cleat import DriveCleat
from takeoff.fittings.slip_cleat import SlipCleat
from takeoff.lengths import Length
from takeoff.materials import SheetMetal, gauges, sheet
from takeoff.settings import Profile


@dataclass(frozen=True)
class Joint:
    """A rectangular joint between two ends.

    Attributes:
        treatment: of the ends: "slip and drive", "slip", "drive", "flange out", ...
        long: the longer side of the opening (in).
        short: the shorter side (in).
        metal: the heavier of what is joined.
    """

    treatment: str
    long: Length
    short: Length
    metal: SheetMetal


@dataclass(frozen=True)
class CleatCount:
    """Cleats that are alike: the card of one, its metal, and how many the job needs."""

    card: Fitting
    metal: SheetMetal
    qty: int


def joints(made: Sequence[MadeLine]) -> Counter[Joint]:
    """The rectangular joints of a job and how many there are of each.

    Joints inside a run count for every copy; ends that `connects_to` joins make one joint for every
    two copies that meet. The ends that no mark joins meet one another or what is there already: of
    ends that are alike every two make a joint, and an odd one needs a joint of its own.
    """
    found: Counter[Joint] = Counter()
    loose: Counter[Joint] = Counter()
    for row in made:
        for end in row.made.joints:
            found.update(_times(end, end, row.line.metal, row.line.qty))
        for end in row.line.fitting.open_ends():
            loose.update(_times(end, end, row.line.metal, row.line.qty))
    joined, _ = connections([row.line for row in made])
    for link in joined:
        a, b = link.first, link.second
        count = min(a.qty, b.qty)
        metal = max(a.metal, b.metal, key=lambda one: one.thickness)
        found.update(_times(link.first_end, link.second_end, metal, count))
        loose.subtract(_times(link.first_end, link.first_end, a.metal, count))
        loose.subtract(_times(link.second_end, link.second_end, b.metal, count))
    for joint, ends in loose.items():
        found[joint] += -(-ends // 2)
    return +found


def cleats(made: Sequence[MadeLine], profile: Profile) -> tuple[CleatCount, ...]:
    """The cleats and corner angles for all joints of a job, equal ones counted together.

    A slip-and-drive joint takes two drives on the short sides and two S slips on the long ones, a
    flanged one an angle in each corner (common practice, no source). An S slip is never lighter
    than the profile's `slip_gauge` nor than its duct.
    """
    total: Counter[tuple[Fitting, SheetMetal]] = Counter()
    for joint, count in joints(made).items():
        for card, metal in _of_one(joint, profile):
            total[card, metal] += count
    counts = (CleatCount(card, metal, qty) for (card, metal), qty in total.items())
    return tuple(sorted(counts, key=_order))


def _of_one(joint: Joint, profile: Profile) -> Iterator[tuple[Fitting, SheetMetal]]:
    """The cleats of one joint, each with its metal."""
    drives: tuple[Length, ...] = ()
    slips: tuple[Length, ...] = ()
    if joint.treatment == "slip and drive":
        drives, slips = (joint.short,) * 2, (joint.long,) * 2
    elif joint.treatment == "slip":
        slips = (joint.long, joint.short) * 2
    elif joint.treatment == "drive":
        drives = (joint.long, joint.short) * 2
    elif joint.treatment == "flange out":
        flange = profile.ends["flange_out"].allowance
        for _ in range(4):
            yield CornerAngle(leg_1=flange, length=2 * flange), joint.metal
    for side in drives:
        yield DriveCleat(duct_side=Fraction(side)), joint.metal
    for side in slips:
        yield SlipCleat(duct_side=Fraction(side)), _slip_metal(joint.metal, profile)


def _slip_metal(duct: SheetMetal, profile: Profile) -> SheetMetal:
    """The duct's metal, or heavier where that is lighter than a slip may be."""
    least = profile.cleats.slip_gauge
    if duct.gauge <= least or least not in gauges(duct.material):
        return duct
    return sheet(duct.material, least)


def _times(a: OpenEnd, b: OpenEnd, metal: SheetMetal, count: int) -> dict[Joint, int]:
    """That many joints of two ends; none where they are not rectangular."""
    if a.width is None or a.height is None:
        return {}
    treatment = "slip" if "slip" in (a.treatment, b.treatment) else a.treatment
    short, long = sorted((a.width, a.height))
    return {Joint(treatment, long, short, metal): count}


def _order(count: CleatCount) -> tuple[str, str, int, float]:
    card, metal = count.card, count.metal
    size = float(getattr(card, "duct_side", 0))
    return card.kind, metal.material, metal.gauge, size
