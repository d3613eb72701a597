"""Hangers of straight duct, by the shop's table of published spacings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.fittings.base import Fitting
from takeoff.fittings.round_pipe import RoundPipe
from takeoff.fittings.straight_duct import StraightDuct
from takeoff.lengths import Length
from takeoff.rates import Hanger

from .counted import EACH, Counted, HardwareLine

HANGER = "hanger"
DESIGNED = "hanging to be designed"
"""Stands for the hangers of duct that is larger than the table reaches."""


@dataclass(frozen=True)
class Hung:
    """Duct of one row of the job, and how it is hung.

    Attributes:
        mark: of the row.
        length: of one run (in).
        perimeter: round the duct (in).
        rule: how it is hung; None where it is larger than the table reaches.
        each: hangers of one run; 0 without a rule.
        runs: how many runs the row has.
    """

    mark: str
    length: Length
    perimeter: Length
    rule: Hanger | None
    each: int
    runs: int


def hung(lines: tuple[MadeLine, ...], table: Mapping[str, Hanger]) -> Iterator[Hung]:
    """Every row of straight duct with its hangers.

    A run is parted into the fewest equal stretches no longer than the spacing, with a hanger in the
    middle of each. So no two hangers are farther apart than the spacing, across the joint of two
    runs neither. What carries fittings beside it is for the one who hangs it.
    """
    for made in lines:
        if (size := _straight(made.line.fitting)) is None:
            continue
        length, perimeter = size
        reaching = [each for each in table.values() if perimeter <= each.perimeter]
        rule = min(reaching, key=lambda each: each.perimeter, default=None)
        each = math.ceil(length / rule.spacing) if rule else 0
        yield Hung(made.line.mark, length, perimeter, rule, each, made.line.qty)


def _straight(fitting: Fitting) -> tuple[Length, Length] | None:
    """Length and perimeter of straight duct; None of any other fitting."""
    if isinstance(fitting, StraightDuct):
        return fitting.length, 2 * (fitting.width + fitting.height)
    if isinstance(fitting, RoundPipe):
        return fitting.length, math.pi * float(fitting.diameter)
    return None


def hanger_lines(job: Counted) -> Iterator[HardwareLine]:
    """A line for each row of straight duct."""
    for each in hung(job.lines, job.profile.hangers):
        size = f"{each.mark}, {job.told(each.perimeter)} round"
        rule = each.rule
        if rule is None:
            why = "larger than the table of hangers reaches: have it designed"
            yield HardwareLine(DESIGNED, size, Fraction(each.runs), EACH, why)
            continue
        why = (
            f"a run of {job.told(each.length)}, at most {job.told(rule.spacing)} apart: "
            f"{each.each} for one"
        )
        yield HardwareLine(
            HANGER, f"{size}: {rule.strap}", Fraction(each.each * each.runs), EACH, why
        )
