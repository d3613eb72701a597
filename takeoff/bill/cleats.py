"""Cleats and corner angles: how many are still to make, and what their metal costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from takeoff.fittings.base import CannotMake, Shop
from takeoff.joints import CleatCount
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT
from takeoff.pattern.outline import outline
from takeoff.settings import Profile

from .counted import EACH, Counted, HardwareLine
from .money import exactly, show
from .seams import exact

ANY_SHEET = ((Fraction(10**4), Fraction(10**4)),)
"""Cleats are cut from strips, whatever sheet those come from."""


def cleat_lines(job: Counted) -> Iterator[HardwareLine]:
    """A line for each size and metal; their price is that of their metal."""
    for each, ready in to_make(job):
        side = getattr(each.card, "duct_side", None)
        size = f"for a side of {job.told_exactly(side)}, " if side else ""
        less = f", less {ready} that rows of the job make" if ready else ""
        pounds = weight(each, job.profile)
        per_lb = job.profile.prices.per_lb[each.metal.material]
        metal = "" if pounds is None else f"; {float(pounds):.2f} lb each at {show(per_lb)} a pound"
        yield HardwareLine(
            each.card.kind,
            size + each.metal.name,
            Fraction(each.qty - ready),
            EACH,
            f"{each.qty} for the joints of the job{less}{metal}; not on the plan's sheets",
            None if pounds is None else pounds * exactly(per_lb),
        )


def to_make(job: Counted) -> Iterator[tuple[CleatCount, int]]:
    """The cleats that the joints need, each with how many of them rows of the job make."""
    rows: Counter[tuple[object, ...]] = Counter()
    for row in job.lines:
        card = row.line.fitting
        rows[card.kind, getattr(card, "duct_side", None), row.line.metal] += row.line.qty
    for each in job.cleats:
        side = getattr(each.card, "duct_side", None)
        ready = rows[each.card.kind, side, each.metal] if side else 0
        yield each, min(each.qty, ready)


def weight(cleat: CleatCount, profile: Profile) -> Fraction | None:
    """Pounds of the strip for one; None where the brake cannot make it."""
    try:
        (piece,) = cleat.card.make(Shop(profile, cleat.metal, ANY_SHEET)).pieces
    except CannotMake:
        return None
    shape = outline(piece)
    square_feet = exact(shape.width * shape.length) / SQUARE_INCHES_IN_A_SQUARE_FOOT
    return square_feet * cleat.metal.weight
