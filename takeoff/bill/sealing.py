"""Sealant by the length of joints and seams, gasket tape by the length of flanges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from takeoff.joints import Joint, RoundJoint
from takeoff.pattern.facets import Point
from takeoff.pattern.plane import distance
from takeoff.rates import Sealing

from .counted import EACH, FLANGED, FOOT, Counted, HardwareLine, feet, total
from .money import exactly
from .seams import exact, seams

FLUID_OUNCE = Fraction(231, 128)
"""Cubic inches: a US gallon is 231 in3 and 128 fl oz."""
BEARING = "bearing flange"
"""Treatment of an end that carries equipment."""


def sealing_lines(job: Counted) -> Iterator[HardwareLine]:
    """Sealant of joints, branches and seams; tape on flanges that meet or carry something."""
    joints: list[tuple[Joint | RoundJoint, int]] = [*job.square.items(), *job.round.items()]
    joined = total((joint.girth, n) for joint, n in joints if joint.treatment != FLANGED)
    flanged = total((joint.girth, n) for joint, n in joints if joint.treatment == FLANGED)
    yield _sealant(job, joined)
    bearing = total(
        (2 * (end.width + end.height), row.line.qty)
        for row in job.lines
        for end in row.line.fitting.open_ends()
        if end.treatment == BEARING and end.width is not None and end.height is not None
    )
    yield HardwareLine(
        "gasket tape",
        "",
        (flanged + bearing) / 12,
        FOOT,
        f"{feet(flanged)} round flanged joints, {feet(bearing)} round openings that carry "
        "equipment",
    )


def cartridge_reach(rule: Sealing) -> Fraction:
    """How long a bead a cartridge makes (in): its volume over the bead's round section."""
    section = math.pi / 4 * float(rule.bead) ** 2
    return exactly(rule.cartridge_fl_oz) * FLUID_OUNCE / exact(section)


def _sealant(job: Counted, joined: Fraction) -> HardwareLine:
    branches = total(
        (_girth(cutout.points), row.line.qty) for row in job.lines for cutout in row.made.cutouts
    )
    closed = total(
        (length, row.line.qty)
        for row in job.lines
        for kind, lengths in seams(row.made).items()
        if job.profile.seams[kind.replace(" ", "_")].sealed
        for length in lengths
    )
    rule = job.profile.sealing
    reach = cartridge_reach(rule)
    return HardwareLine(
        "sealant cartridge",
        f"{rule.cartridge_fl_oz:g} fl oz",
        Fraction(math.ceil((joined + branches + closed) / reach)),
        EACH,
        f"{feet(joined)} of joints, {feet(branches)} round branches, {feet(closed)} of seams that "
        f"are sealed; with a bead of {job.told(rule.bead)} one reaches {feet(reach)}",
    )


def _girth(points: tuple[Point, ...]) -> Fraction:
    """Round a hole (in)."""
    sides = zip(points, (*points[1:], points[0]), strict=True)
    return total((distance(a, b), 1) for a, b in sides)
