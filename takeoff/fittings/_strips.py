"""Long strips bent on parallel lines: a profile of legs and bends, laid flat exactly."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import allowance, total_width
from takeoff.pattern.edging import RAW, Edging, flat, strip_deduction
from takeoff.pattern.facets import Facet, Hinge, Piece, Point
from takeoff.pattern.plane import along, cross, minus
from takeoff.pattern.settle import settle

from .base import CannotMake, Shop

_QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))


@dataclass(frozen=True)
class Profile:
    """The finished section of a strip, seen from its end with the inside up.

    Attributes:
        legs: outside sizes from mould line to mould line (in).
        bends: degrees from flat between one leg and the next, positive towards the inside.
        first: what the free edge of the first leg carries.
        last: what the free edge of the last leg carries.
    """

    legs: tuple[Length, ...]
    bends: tuple[float, ...]
    first: Edging = RAW
    last: Edging = RAW

    def points(self) -> tuple[Point, ...]:
        """The mould lines in section, the first leg to the right; exact for square bends."""
        points: list[Point] = [(Fraction(0), Fraction(0))]
        turn = 0.0
        for leg, bend in zip(self.legs, (*self.bends, 0.0), strict=True):
            points.append(along(points[-1], _way(turn), leg))
            turn += bend
        return tuple(points)

    def takes(self, shop: Shop) -> tuple[Length, ...]:
        """What each bend and the strips at both edges take off the flat (in).

        A leg folded back is set flat on the one before it: its size is its flat size.
        """
        ends = (
            strip_deduction(edging.strips[0], shop.deduction) if edging.strips else Fraction(0)
            for edging in (self.first, self.last)
        )
        bends = (shop.deduction(b) if abs(b) < 180 else Fraction(0) for b in self.bends)
        return (next(ends), *bends, next(ends))


def bent_strip(name: str, profile: Profile, length: Length, shop: Shop) -> Piece:
    """The strip, its legs side by side across the blank's width, its length upwards.

    The flat width is the sum of the legs less what each bend takes:
    2 (R + T) tan(N / 2) - BA, exactly nothing with the rule "sharp".
    """
    takes = profile.takes(shop)
    legs = [f"leg {i + 1}" for i in range(len(profile.legs))]
    facets: list[Facet] = []
    hinges: list[Hinge] = []
    x: Length = Fraction(0)
    for i, leg in enumerate(profile.legs):
        right = x + leg - (takes[i] + takes[i + 1]) / 2
        if i:
            bend = profile.bends[i - 1]
            hinges.append(Hinge(legs[i - 1], legs[i], (x, 0), (x, length), bend, takes[i]))
        facets.append(Facet(legs[i], ((x, 0), (right, 0), (right, length), (x, length))))
        x = right
    low, high = facets[0].corners, facets[-1].corners
    for face, start, end, edging in (
        (legs[0], low[3], low[0], flat(profile.first, shop.deduction)),
        (legs[-1], high[1], high[2], flat(profile.last, shop.deduction)),
    ):
        added = allowance(face, start, end, edging.strips, edge=f"{edging.name} edge {start[1]}")
        facets += added.facets
        hinges += added.hinges
    finished = {
        leg: ((a[0], 0, a[1]), (b[0], 0, b[1]), (b[0], length, b[1]), (a[0], length, a[1]))
        for leg, (a, b) in zip(legs, pairwise(profile.points()), strict=True)
    }
    return settle(Piece(name, tuple(facets), tuple(hinges), finished=finished))


def check_profile(profile: Profile, shop: Shop, columns: tuple[str, str]) -> None:
    """CannotMake for a profile that no brake can bend or that runs through itself.

    Args:
        profile: the section.
        shop: whose brake it is.
        columns: the fields that give the legs and the bends.
    """
    unit = shop.profile.unit
    least = shop.profile.brake.min_flange
    if profile.bends and min(profile.legs) < least:
        raise CannotMake(
            columns[0],
            show_with_unit(min(profile.legs), unit),
            "is narrower than the brake grips",
            f"Give {show_with_unit(least, unit)} or more.",
        )
    if _crosses(profile.points()):
        raise CannotMake(
            columns[1],
            ", ".join(f"{bend:g}" for bend in profile.bends),
            "bend the strip through itself",
            "Turn a bend the other way, make it less, or shorten a leg.",
        )
    takes = profile.takes(shop)
    strips = total_width((*profile.first.strips, *profile.last.strips))
    flats = [leg - (a + b) / 2 for leg, (a, b) in zip(profile.legs, pairwise(takes), strict=True)]
    if min(flats) <= 0 or strips < 0:
        raise CannotMake(
            columns[0],
            show_with_unit(min(profile.legs), unit),
            "is all taken up by its bends",
            f"Give more than {show_with_unit(max(takes), unit)}.",
        )


def _way(turn: float) -> Point:
    quarters, rest = divmod(turn, 90)
    if rest == 0:
        x, y = _QUARTERS[int(quarters) % 4]
        return Fraction(x), Fraction(y)
    return math.cos(math.radians(turn)), math.sin(math.radians(turn))


def _crosses(points: Sequence[Point]) -> bool:
    """Whether a leg runs through another that does not follow it; touching is allowed."""
    legs = list(pairwise(points))
    return any(
        _apart(*legs[i], *legs[j]) and _apart(*legs[j], *legs[i])
        for i, j in combinations(range(len(legs)), 2)
        if j > i + 1
    )


def _apart(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether c and d lie on different sides of the line through a and b."""
    side = minus(b, a)
    first, second = cross(side, minus(c, a)), cross(side, minus(d, a))
    return float(first * second) < -1e-9
