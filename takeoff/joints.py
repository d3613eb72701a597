"""The joints of a job and the cleats they need, counted from open ends and from inside runs."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from takeoff.blanks import MadeLine
from takeoff.connections import MATES, connections
from takeoff.edges import SLIP_AND_DRIVE
from takeoff.fittings.base import Fitting, OpenEnd
from takeoff.fittings.corner_angle import CornerAngle
from takeoff.fittings.drive_cleat import DriveCleat
from takeoff.fittings.slip_cleat import SlipCleat
from takeoff.lengths import Length
from takeoff.materials import SheetMetal, gauges, sheet
from takeoff.settings import Profile

PUSHED = "pushed together"
"""Treatment of a round joint where one end goes into the other."""
INTO = ("raw", "crimp", "small end")
"""Round ends that go into one another."""
CAP = "flange in"
"""Treatment of an end that goes over a raw one: a cap."""


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

    @property
    def girth(self) -> Length:
        """Round the opening (in)."""
        return 2 * (self.long + self.short)


@dataclass(frozen=True)
class RoundJoint:
    """A joint of round duct: treatment, or `PUSHED`; diameter (in); the heavier metal."""

    treatment: str
    diameter: Length
    metal: SheetMetal

    @property
    def girth(self) -> float:
        """Round the opening (in)."""
        return math.pi * float(self.diameter)


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
    ends that are alike every two make a joint, and an odd one needs a joint of its own. A cap makes
    a joint with a raw end, if there is one. Ends that join nothing (a hem, equipment) make none.
    """
    found, loose = _counted(made, _joint)
    for joint in [joint for joint in loose if joint.treatment == CAP]:
        caps = loose.pop(joint)
        found[joint] += caps
        for raw in [other for other in loose if _is_capped(other, joint)]:
            gone = min(caps, loose[raw])
            loose[raw] -= gone
            caps -= gone
    return _paired(found, loose)


def round_joints(made: Sequence[MadeLine]) -> Counter[RoundJoint]:
    """As `joints`, of round duct."""
    return _paired(*_counted(made, _round_joint))


J = TypeVar("J", Joint, RoundJoint)
"""A kind of joint."""
Formed = Callable[[OpenEnd, OpenEnd, SheetMetal], J | None]
"""The joint that two ends make; None where they make none of the kind."""


def _counted(made: Sequence[MadeLine], formed: Formed[J]) -> tuple[Counter[J], Counter[J]]:
    """The joints that are sure, and for each kind of joint the ends that are left for one."""
    found: Counter[J] = Counter()
    loose: Counter[J] = Counter()

    def add(to: Counter[J], a: OpenEnd, b: OpenEnd, metal: SheetMetal, count: int) -> None:
        joint = formed(a, b, metal) if MATES.get(a.treatment, True) else None
        if joint is not None:
            to[joint] += count

    for row in made:
        for end in row.made.joints:
            add(found, end, end, row.line.metal, row.line.qty)
        for end in row.line.fitting.open_ends():
            add(loose, end, end, row.line.metal, row.line.qty)
    joined, _ = connections([row.line for row in made])
    for link in joined:
        a, b = link.first, link.second
        count = min(a.qty, b.qty)
        metal = max(a.metal, b.metal, key=lambda one: one.thickness)
        add(found, link.first_end, link.second_end, metal, count)
        add(loose, link.first_end, link.first_end, a.metal, -count)
        add(loose, link.second_end, link.second_end, b.metal, -count)
    return found, loose


def _paired(found: Counter[J], loose: Counter[J]) -> Counter[J]:
    """The joints that are sure and one for every two ends that are left."""
    for joint, ends in loose.items():
        found[joint] += -(-ends // 2)
    return +found


def _is_capped(other: Joint, cap: Joint) -> bool:
    return other.treatment == "raw" and (other.long, other.short) == (cap.long, cap.short)


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
    if joint.treatment == SLIP_AND_DRIVE:
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


def _joint(a: OpenEnd, b: OpenEnd, metal: SheetMetal) -> Joint | None:
    """The joint of two rectangular ends; what makes it one of slips or a cap tells its kind."""
    if a.width is None or a.height is None:
        return None
    leading = [kind for kind in ("slip", CAP) if kind in (a.treatment, b.treatment)]
    short, long = sorted((a.width, a.height))
    return Joint(leading[0] if leading else a.treatment, long, short, metal)


def _round_joint(a: OpenEnd, b: OpenEnd, metal: SheetMetal) -> RoundJoint | None:
    if a.diameter is None:
        return None
    pushed = {a.treatment, b.treatment} <= {*INTO, CAP}
    return RoundJoint(PUSHED if pushed else a.treatment, a.diameter, metal)


def _order(count: CleatCount) -> tuple[str, str, int, float]:
    card, metal = count.card, count.metal
    size = float(getattr(card, "duct_side", 0))
    return card.kind, metal.material, metal.gauge, size
