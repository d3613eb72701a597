"""The side of a branch that meets the air: straight, a 45 degree shoe, or a radius."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.facets import Point

from ._section import arc
from .base import CannotMake, Shop

Entry = Literal["straight", "shoe", "radius"]


def entry_size(entry: Entry, asked: Fraction | None, shop: Shop) -> Fraction:
    """How far the entry reaches along the duct (in); 0 for a straight one."""
    if entry == "straight":
        if asked is not None:
            raise CannotMake(
                "entry_size",
                show_with_unit(asked, shop.profile.unit),
                "is given for a straight entry, which has none",
                "Leave it blank, or choose shoe or radius.",
            )
        return Fraction(0)
    return shop.profile.branch.entry if asked is None else asked


def entry_points(
    entry: Entry, corner: Point, size: Length
) -> tuple[tuple[Point, ...], frozenset[int]]:
    """The wall from the branch down round the corner to the duct, in section.

    Args:
        entry: how the corner is made.
        corner: where a straight branch would meet the duct's wall, which runs to the left.
        size: how far the entry reaches from the corner, along the duct and up the branch.

    Returns:
        The points after the branch's end, and the numbers of those that are rolled, where the
        branch's end is number 0.
    """
    x, y = corner
    if entry == "straight":
        return (corner,), frozenset()
    if entry == "shoe":
        return ((x, y + size), (x - size, y)), frozenset()
    points = arc((x - size, y + size), (x, y + size), -90)
    return points, frozenset(range(1, len(points) + 1))


def entry_too_large(
    entry: Entry, size: Fraction, room: Length, shop: Shop, what: str
) -> CannotMake:
    """The refusal of an entry that leaves no straight metal."""
    unit = shop.profile.unit
    return CannotMake(
        "entry_size",
        show_with_unit(size, unit),
        f"is no less than the {what}, {show_with_unit(room, unit)}",
        f"Give a {entry} of less than {show_with_unit(room, unit)}.",
    )
