"""Rivets and screws, counted by the shop's rules for corners, laps, slips and round joints."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from takeoff.fittings.slip_cleat import SlipCleat
from takeoff.joints import CAP
from takeoff.lengths import Length
from takeoff.plural import many
from takeoff.rates import Fastening

from .counted import EACH, FLANGED, Counted, HardwareLine
from .rivets import corner_rivets
from .seams import LAP, seams

RIVET, SCREW = "rivet", "sheet metal screw"


def screws_along(side: Length, rule: Fastening) -> int:
    """Screws along one side of a slip: near both corners, and never far apart."""
    return 1 + max(0, math.ceil((side - 2 * rule.slip_corner) / rule.slip_spacing))


def rivets_along(seam: Length, rule: Fastening) -> int:
    """Rivets of a lap seam: one at each end, and never far apart."""
    return 1 + math.ceil(seam / rule.lap_spacing)


def rivet_lines(job: Counted) -> Iterator[HardwareLine]:
    """Rivets of riveted corners and of lap seams."""
    rule = job.profile.fastening
    corners = [(row.line.qty, corner_rivets(row.made, job.profile.ends)) for row in job.lines]
    riveted = sum(qty for qty, rivets in corners if rivets)
    yield HardwareLine(
        RIVET,
        "corners of flanges",
        Fraction(sum(qty * rivets for qty, rivets in corners)),
        EACH,
        f"lapped corners of {many(riveted, 'fitting')}, as many in each as its end's "
        "rivets_per_corner",
    )
    laps = [(row.line.qty, lap) for row in job.lines for lap in seams(row.made).get(LAP, ())]
    yield HardwareLine(
        RIVET,
        "lap seams",
        Fraction(sum(qty * rivets_along(lap, rule) for qty, lap in laps)),
        EACH,
        f"{many(sum(qty for qty, _ in laps), 'lap seam')}, one at each end and at most "
        f"{job.told(rule.lap_spacing)} apart",
    )


def screw_lines(job: Counted) -> Iterator[HardwareLine]:
    """Screws of round joints, S slips and caps."""
    rule = job.profile.fastening
    spaced = (
        f"within {job.told(rule.slip_corner)} of the corners and at most "
        f"{job.told(rule.slip_spacing)} apart"
    )
    pushed = sum(n for joint, n in job.round.items() if joint.treatment != FLANGED)
    yield _screws(
        "round joints",
        pushed * rule.round_screws,
        f"{many(pushed, 'round joint')}, {rule.round_screws} equally spaced round each",
    )
    slips = [
        (each.card.duct_side, each.qty) for each in job.cleats if isinstance(each.card, SlipCleat)
    ]
    yield _screws(
        "S slips",
        sum(n * screws_along(side, rule) for side, n in slips),
        f"{many(sum(n for _, n in slips), 'S slip')}, {spaced}",
    )
    caps = [(joint, n) for joint, n in job.square.items() if joint.treatment == CAP]
    yield _screws(
        "end caps",
        sum(
            2 * n * (screws_along(cap.long, rule) + screws_along(cap.short, rule))
            for cap, n in caps
        ),
        f"{many(sum(n for _, n in caps), 'cap')}, each of four sides {spaced}: as an S slip, "
        "common practice",
    )


def _screws(place: str, qty: int, why: str) -> HardwareLine:
    return HardwareLine(SCREW, place, Fraction(qty), EACH, why)
