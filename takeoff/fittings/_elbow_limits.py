"""What an elbow must keep to so that it can be drawn, bent and closed."""

from __future__ import annotations

import math
from itertools import pairwise

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import total_width

from ._arcs import Point2
from ._bend import Bend
from ._tube import SIDES
from ._tube_ends import LEFT_OVER, Ends, cheek_strip, rolled_sides_receive, seam_edgings
from .base import CannotMake, Shop

WIDEST_SQUARE = 150
"""Degrees; beyond it the corner of a square heel runs away."""


def check_bend(bend: Bend, shop: Shop, seam: str) -> None:
    """CannotMake where the throat or the heel cannot be drawn or bent."""
    degrees = math.degrees(bend.angle)
    if (bend.square_heel or bend.square_throat) and degrees > WIDEST_SQUARE:
        raise CannotMake(
            "angle",
            f"{degrees:g}",
            "is too far for a square corner",
            f"Up to {WIDEST_SQUARE} degrees, or make throat and heel with a radius.",
        )
    if bend.square_throat:
        _check_legs(bend, shop, seam)
    else:
        _check_throat_radius(bend, shop, seam)
    _check_heel(bend, shop)


def _check_throat_radius(bend: Bend, shop: Shop, seam: str) -> None:
    """The cheek's edge is turned along the throat, so its flange must fit inside the curve."""
    unit = shop.profile.unit
    strip = cheek_strip(shop, seam)
    if bend.throat <= strip:
        raise CannotMake(
            "throat",
            show_with_unit(bend.throat, unit),
            f"is too small a radius to turn an edge of {show_with_unit(strip, unit)} round",
            f"Give a radius of more than {show_with_unit(strip, unit)}, or a square throat.",
        )


def _check_legs(bend: Bend, shop: Shop, seam: str) -> None:
    unit = shop.profile.unit
    least = max(float(shop.profile.brake.min_flange), _corner_cut(bend, shop, seam))
    for number, leg in enumerate(bend.legs, start=1):
        if leg < least:
            raise CannotMake(
                "throat",
                show_with_unit(bend.throat, unit),
                f"leaves a leg {show_with_unit(leg, unit)} long at end {number}",
                f"Legs of {show_with_unit(least, unit)} or more can be bent: lengthen the throat "
                f"or neck_{number}.",
            )


def _corner_cut(bend: Bend, shop: Shop, seam: str) -> float:
    """What strips lose at the corner of a leg (in): a mitre on the cheek, a notch on the wrap."""
    edges = seam_edgings(shop, seam)
    wrap, cheek = edges.receiving, edges.entering
    if not bend.square_heel and not rolled_sides_receive(shop, seam):
        wrap, cheek = cheek, wrap
    mitre = float(total_width(cheek.strips)) * math.tan(bend.angle / 2)
    return LEFT_OVER + max(mitre, float(total_width(wrap.strips)) * float(wrap.slope))


def _check_heel(bend: Bend, shop: Shop) -> None:
    unit = shop.profile.unit
    if bend.half_turn:
        if bend.heel_radius is not None:
            raise CannotMake(
                "heel_radius",
                show_with_unit(bend.heel_radius, unit),
                "cannot be chosen where the elbow turns back on itself",
                "Leave it blank.",
            )
        return
    if min(bend.tangents) <= 0 or (not bend.square_heel and bend.room <= 0):
        raise CannotMake(
            "throat",
            show_with_unit(bend.throat, unit),
            "is too small for openings so different: the heel would run back",
            "Give a larger throat, a wider angle, or put the change of size in a transition.",
        )
    if bend.heel_radius is None or bend.square_heel:
        return
    most = min(bend.tangents) / math.tan(bend.angle / 2)
    if bend.heel_radius > most + 1e-9:
        raise CannotMake(
            "heel_radius",
            show_with_unit(bend.heel_radius, unit),
            "is more than the openings leave for it",
            f"Up to {show_with_unit(math.floor(most * 16) / 16, unit)}.",
        )


def check_flanges_clear(bend: Bend, ends: Ends, throat: str) -> None:
    """CannotMake where flanges turned out at the throat run into each other or into the throat."""
    side = SIDES.index(throat)
    reach = ends.outward(side, 1), ends.outward(side, 2)
    first, last = (float(bend.widths[0]), 0.0), bend.throat_end
    flanges = (
        (first, (first[0] + float(reach[0]), first[1])),
        (last, _aside(bend, last, reach[1])),
    )
    wall = tuple(pairwise(point for point, _, _ in bend.throat_path()))
    fouls = (reach[0] and reach[1] and _cross(*flanges)) or any(
        reach[i] and _cross(flanges[i], part)
        for i in (0, 1)
        for part in (wall[1:] if i == 0 else wall[:-1])
    )
    if fouls:
        widest = max(reach)
        unit = ends.shop.profile.unit
        raise CannotMake(
            "end_1" if reach[0] >= reach[1] else "end_2",
            ends.names[0 if reach[0] >= reach[1] else 1],
            f"turns out {show_with_unit(widest, unit)} into the throat and fouls",
            f"Make the throat or the necks more than {show_with_unit(widest, unit)}, or choose "
            "another end.",
        )


def _aside(bend: Bend, point: Point2, reach: Length) -> Point2:
    """The tip of a flange turned out at the second opening, on the throat's side."""
    across = math.cos(bend.angle), -math.sin(bend.angle)
    return point[0] + across[0] * float(reach), point[1] + across[1] * float(reach)


def _cross(a: tuple[Point2, Point2], b: tuple[Point2, Point2]) -> bool:
    """Whether two segments meet."""

    def side(line: tuple[Point2, Point2], point: Point2) -> float:
        (x0, y0), (x1, y1) = line
        return (x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)

    return side(a, b[0]) * side(a, b[1]) <= 0 and side(b, a[0]) * side(b, a[1]) <= 0
