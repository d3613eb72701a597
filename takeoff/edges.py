"""The shop profile's seams and ends as edgings: strips with their bends and corner cuts."""

from __future__ import annotations

from fractions import Fraction

from takeoff.lengths import Length
from takeoff.pattern.allowances import Strip
from takeoff.pattern.edging import RAW, Edging, Meeting
from takeoff.pattern.facets import Forming, Role
from takeoff.settings import EndTreatment, Seam

SLIP_AND_DRIVE = "slip and drive"
"""Two ends in one: drive edges on the short sides of the opening, raw slip edges on the long."""


def receiving(seam: Seam) -> Edging:
    """The edge that receives: a pocket, notched where a bend crosses it."""
    if not seam.pocket:
        return RAW
    forming = Forming.BRAKE if seam.pocket_angle else Forming.LOCK_FORMER
    strip = Strip(seam.pocket, seam.pocket_angle, seam.pocket_name, Role.SEAM, forming)
    return Edging((strip,), _bend_slope(seam, strip), Meeting.SQUARE, seam.pocket_name)


def entering(seam: Seam) -> Edging:
    """The edge that enters: a single edge, notched where a bend crosses it."""
    if not seam.single:
        return RAW
    strip = Strip(seam.single, seam.single_angle, seam.single_name, Role.SEAM)
    return Edging((strip,), _bend_slope(seam, strip), Meeting.SQUARE, seam.single_name)


def ending(name: str, end: EndTreatment) -> Edging:
    """The edge of an opening with the strips of its treatment.

    Strips that turn inwards or fold back on the sheet would lie over each other at a bend, so they
    are cut there at 45 degrees; strips that turn out part there and only need a slit.
    """
    strips = tuple(
        Strip(rule.width, rule.angle, label, Role.END) for label, rule in end.strips.items()
    )
    if not strips:
        return Edging(name=name)
    inward = strips[0].angle > 0
    lapped = inward and end.rivets_per_corner > 0
    meeting = Meeting.LAP if lapped else Meeting.MITRE if inward else Meeting.SQUARE
    return Edging(strips, Fraction(1) if inward else Fraction(0), meeting, name)


def slip_or_drive(side: Length, beside: Length, of_a_square: bool) -> str:
    """The end that a side of a slip-and-drive opening takes: drives go on its short sides.

    Args:
        side: its length (in).
        beside: the length of the sides next to it (in).
        of_a_square: whether it takes the drive where all four are equal.
    """
    return "drive" if side < beside or (side == beside and of_a_square) else "slip"


def _bend_slope(seam: Seam, strip: Strip) -> Length:
    """How steeply a seam strip is cut back at a bend: half the notch for its whole width.

    A strip that is itself bent to the inside would foul its neighbour: it takes the 45 degree cut.
    """
    if 0 < strip.angle < 180:
        return Fraction(1)
    return seam.bend_notch / 2 / strip.width
