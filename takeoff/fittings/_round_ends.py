"""The ends of round fittings: what their rims carry, and what goes into the next piece."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from takeoff.edges import SLIP_AND_DRIVE, ending
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Forming

from ._body import find_end
from ._shell import EdgeName
from .base import CannotMake, Shop

CRIMP = "crimp"
SMALL_END = "small end"
GOES_IN = (CRIMP, SMALL_END)
"""Ends that go into the next piece, as deep as the profile's lap."""


def seven_t(thickness: Length) -> Length:
    """What the small end's girth is cut short by: 7 t (in).

    Longfield, Sheet Metal Drafting, pp. 54 and 60: the small end cut is the big end cut less 7 t.
    """
    return 7 * thickness


def round_edging(shop: Shop, column: str, name: str) -> Edging:
    """An end of the profile on a round edge, formed on a rotary machine.

    Raises:
        CannotMake: an end that round work does not take.
    """
    if name in (SLIP_AND_DRIVE, "drive", "slip"):
        raise CannotMake(
            column,
            name,
            "is for the straight edges of a rectangular opening",
            f"Round ends take: {', '.join(round_ends(shop))}.",
        )
    return rolled(ending(name, find_end(shop, column, name)))


def rim_edging(shop: Shop, column: str, name: str, diameter: Length) -> Edging:
    """As `round_edging`, round an opening that stays as wide as it is.

    Raises:
        CannotMake: also where a flange leaves no opening, and for the small end, which tapers.
    """
    if name == SMALL_END:
        raise CannotMake(
            column,
            name,
            "is cut on straight pipe only, whose girth can taper to it",
            "Choose crimp, which goes into the next piece too.",
        )
    edging = round_edging(shop, column, name)
    inward = edging.strips and 0 < edging.strips[0].angle < 180
    if inward and 2 * total_width(edging.strips) >= diameter:
        unit = shop.profile.unit
        raise CannotMake(
            column,
            name,
            f"closes an opening of {show_with_unit(diameter, unit)}: the flange is "
            f"{show_with_unit(total_width(edging.strips), unit)} wide",
            f"Less than {show_with_unit(diameter / 2, unit)} would be allowed.",
        )
    return edging


def square_edging(shop: Shop, column: str, name: str) -> Edging:
    """The edging of a straight side of a rectangular end.

    Args:
        shop: whose ends count.
        column: the column that names the end.
        name: the end.
    """
    if name in GOES_IN:
        raise CannotMake(
            column,
            name,
            "is for a round end",
            "Choose slip and drive, raw, hem or a flange.",
        )
    return ending(name, find_end(shop, column, name))


def round_ends(shop: Shop) -> list[str]:
    """The ends in the profile that a round opening can have."""
    return [name.replace("_", " ") for name in shop.profile.ends if name not in ("slip", "drive")]


def lap_of(shop: Shop, end: str) -> Length:
    """What an end adds to the length of its piece to go into the next (in)."""
    return shop.profile.round.lap if end in GOES_IN else 0


def end_note(shop: Shop, where: str, end: str) -> tuple[str, ...]:
    """How to make an end that goes into the next piece."""
    lap = show_with_unit(shop.profile.round.lap, shop.profile.unit)
    if end == CRIMP:
        return (f"Crimp {where} {lap} deep; the pattern is that much longer than the fitting.",)
    if end == SMALL_END:
        return (
            f"The girth of {where} is cut 7 thicknesses short; it goes {lap} into the next piece, "
            "and the pattern is that much longer than the fitting.",
        )
    return ()


def along_rim(edges: Iterable[EdgeName], edging: Edging) -> dict[EdgeName, Edging]:
    """The same edging on every edge of a rim; none where it is raw."""
    return dict.fromkeys(edges, edging) if edging.strips else {}


def rolled(edging: Edging) -> Edging:
    """The edging with its strips turned on a rotary machine instead of the brake."""
    return replace(
        edging, strips=tuple(replace(strip, forming=Forming.ROLL) for strip in edging.strips)
    )
