"""A job's joints counted once, and the line of hardware that is made of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.joints import CleatCount, Joint, RoundJoint, cleats, joints, round_joints
from takeoff.lengths import Length, Unit, show_exactly, show_with_unit
from takeoff.settings import Profile

from .seams import exact

EACH, FOOT = "each", "ft"
"""Units that hardware is counted in."""
FLANGED = "flange out"
"""Treatment of the ends of a flanged joint."""


@dataclass(frozen=True)
class HardwareLine:
    """One thing that a job needs.

    Attributes:
        what: its name; prices go by it.
        detail: size, metal or place.
        qty: how many of the unit.
        unit: "each" or "ft".
        why: where the number comes from.
        unit_cost: of one; None where no price is known.
    """

    what: str
    detail: str
    qty: Fraction
    unit: str
    why: str
    unit_cost: Fraction | None = None

    @property
    def cost(self) -> Fraction | None:
        """Of all of it; None where no price is known."""
        return None if self.unit_cost is None else self.qty * self.unit_cost


@dataclass(frozen=True)
class Counted:
    """Rows of a job with their joints.

    Attributes:
        lines: the rows, taken apart.
        profile: the shop's settings.
        unit: that sizes are told in.
        square: the rectangular joints.
        round: the joints of round duct.
        cleats: what the rectangular ones are joined by.
    """

    lines: tuple[MadeLine, ...]
    profile: Profile
    unit: Unit
    square: Mapping[Joint, int]
    round: Mapping[RoundJoint, int]
    cleats: tuple[CleatCount, ...]

    def told(self, length: Length) -> str:
        """A length for a person, in the unit of the job."""
        return show_with_unit(length, self.unit)

    def told_exactly(self, length: Length) -> str:
        """As `told`, so that two sizes that differ are told apart."""
        return f"{show_exactly(length, self.unit)} {self.unit.name}"


def count(lines: Sequence[MadeLine], profile: Profile, unit: Unit) -> Counted:
    """Count the joints of these rows."""
    return Counted(
        tuple(lines),
        profile,
        unit,
        joints(lines),
        round_joints(lines),
        cleats(lines, profile),
    )


def total(lengths: Iterable[tuple[Length, int]]) -> Fraction:
    """The sum of lengths (in), each so many times."""
    return sum((exact(length) * qty for length, qty in lengths), Fraction(0))


def feet(inches: Length) -> str:
    """A length in feet for a sentence: `12.5 ft`."""
    return f"{float(inches) / 12:.1f} ft"
