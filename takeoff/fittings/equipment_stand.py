"""Equipment stands: a frame of four angles on four legs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import ClassVar

from pydantic import Field

from takeoff.edges import ending
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import Trim
from takeoff.pattern.develop import Layout, SpaceHole, develop
from takeoff.pattern.edging import RAW, Edging
from takeoff.pattern.facets import Piece, Point3
from takeoff.pattern.patches import Patch

from ._body import find_end
from ._checks import check_fit
from ._fields import Name
from .base import CannotMake, Fitting, Hardware, Made, Shop, Size, register

HOLE_POINTS = 24
PITCH = 3
"""Least distance from bolt to bolt, in diameters (Trade of Sheet Metalwork, phase 2, module 1, unit
12, for rivets); the bolts are half of that from an edge at least."""
CORNERS = ((0, 0), (1, 0), (1, 1), (0, 1))


@register
class EquipmentStand(Fitting):
    """A stand of bent angles, bolted at its corners."""

    kind: ClassVar[str] = "equipment stand"
    also: ClassVar[tuple[str, ...]] = ("stand", "furnace stand", "unit stand")
    summary: ClassVar[str] = (
        "A frame of four angles on four legs of angle, bolted, to carry a unit."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "22", "depth": "28", "height": "18"},
        {"width": "17 1/2", "depth": "20", "height": "12", "rail": "3", "foot": "raw"},
    )

    width: Size = Field(description="Outside, from left to right.")
    depth: Size = Field(description="Outside, from front to back.")
    height: Size = Field(description="From the floor to the unit.")
    rail: Size = Field(default=Fraction(2), description="Height of the frame's sides.")
    bearing: Size = Field(
        default=Fraction(2), description="Width of the ledge that the unit stands on."
    )
    leg: Size = Field(default=Fraction(2), description="Width of each side of a leg.")
    foot: Name = Field(
        default="flange out", description="What is done to the lower edges of the legs."
    )
    bolt: Size = Field(
        default=Fraction(5, 16), description="Diameter of the holes for the corner bolts."
    )

    def make(self, shop: Shop) -> Made:
        """Four rails and four legs, drilled to meet."""
        self._check(shop)
        rails = [self._rail(side, shop) for side in range(4)]
        legs = [self._leg(corner, shop) for corner in range(4)]
        turn = self.may_turn(shop)
        check_fit(rails[::2], shop, turn, "width", self.width)
        check_fit(rails[1::2], shop, turn, "depth", self.depth)
        check_fit(legs, shop, turn, "height", self.height)
        bolts = Hardware("bolt, washer and nut", 16, "two through each rail at each leg")
        return Made((*rails, *legs), notes=(self._caution(shop),), hardware=(bolts,))

    def _rail(self, side: int, shop: Shop) -> Piece:
        """A side of the frame with its ledge, mitred to the next."""
        low, high = self.height - self.rail, self.height
        outer = [self._corner(side + i, Fraction(0)) for i in (0, 1)]
        inner = [self._corner(side + i, self.bearing) for i in (0, 1)]
        face = Patch(
            "side",
            (
                _up(outer[0], low),
                _up(outer[0], high),
                _up(outer[1], high),
                _up(outer[1], low),
            ),
        )
        ledge = Patch(
            "ledge",
            (
                _up(outer[1], high),
                _up(outer[0], high),
                _up(inner[0], high),
                _up(inner[1], high),
            ),
        )
        holes = tuple(
            self._hole("side", point, side % 2 == 0)
            for corner in (side, side + 1)
            for point in self._bolts(corner, side)
        )
        return develop(
            Layout(
                "front rail" if side % 2 == 0 else "side rail",
                (face, ledge),
                {"ledge": "side"},
                deduction=shop.deduction,
                right=1,
                holes=holes,
            )
        )

    def _leg(self, corner: int, shop: Shop) -> Piece:
        """An angle in a corner of the frame, from under the ledge to the floor."""
        here = self._corner(corner, Fraction(0))
        before, after = self._along(corner, corner - 1), self._along(corner, corner + 1)
        high = self.height
        first = Patch(
            "first side",
            (_up(before, 0), _up(before, high), _up(here, high), _up(here, 0)),
        )
        second = Patch(
            "second side", (_up(here, 0), _up(here, high), _up(after, high), _up(after, 0))
        )
        foot = ending(self.foot, find_end(shop, "foot", self.foot))

        def edging(_patch: str, edge: int) -> Edging:
            return foot if edge == 3 else RAW

        def trims(_patch: str, _edge: int, _start: bool) -> tuple[Trim, ...]:
            return ()

        holes = tuple(
            self._hole(patch, point, side % 2 == 0)
            for patch, side in (("first side", corner - 1), ("second side", corner))
            for point in self._bolts(corner, side)
        )
        return develop(
            Layout(
                "leg",
                (first, second),
                {"second side": "first side"},
                edging,
                trims,
                deduction=shop.deduction,
                right=2,
                holes=holes,
            )
        )

    def _corner(self, number: int, inset: Length) -> tuple[Length, Length]:
        """A corner of the frame in plan, moved in by so much from both sides."""
        right, back = CORNERS[number % 4]
        x = self.width - inset if right else inset
        y = self.depth - inset if back else inset
        return x, y

    def _along(self, corner: int, toward: int) -> tuple[Length, Length]:
        """The end of a leg's side: so far from its corner towards another."""
        (x, y), (u, v) = self._corner(corner, Fraction(0)), self._corner(toward, Fraction(0))
        return x + _sign(u - x) * self.leg, y + _sign(v - y) * self.leg

    def _bolts(self, corner: int, side: int) -> Iterator[Point3]:
        """Two bolts of a leg through a side: in the middle of the leg, at quarters of the rail."""
        toward = side + 1 if (corner - side) % 4 == 0 else side
        (x, y), (u, v) = self._corner(corner, Fraction(0)), self._corner(toward, Fraction(0))
        at = x + _sign(u - x) * self.leg / 2, y + _sign(v - y) * self.leg / 2
        for quarter in (1, 3):
            yield _up(at, self.height - self.rail + self.rail * quarter / 4)

    def _hole(self, patch: str, centre: Point3, along_x: bool) -> SpaceHole:
        x, y, z = (float(c) for c in centre)
        radius = float(self.bolt) / 2
        points = []
        for i in range(HOLE_POINTS):
            across, up = (
                radius * math.cos(math.tau * i / HOLE_POINTS),
                radius * math.sin(math.tau * i / HOLE_POINTS),
            )
            points.append((x + across, y, z + up) if along_x else (x, y + across, z + up))
        return SpaceHole(patch, tuple(points), "bolt", centre, self.bolt)

    def _check(self, shop: Shop) -> None:
        unit = shop.profile.unit
        least = shop.profile.brake.min_flange
        shorter = min(self.width, self.depth)
        limits = (
            ("bearing", self.bearing, least, shorter / 2),
            ("rail", self.rail, max(least, 2 * PITCH * self.bolt), self.height),
            ("leg", self.leg, max(least, PITCH * self.bolt), shorter / 2),
        )
        for column, value, low, high in limits:
            if not low <= value <= high or (column != "rail" and value == high):
                raise CannotMake(
                    column,
                    show_with_unit(value, unit),
                    "does not go with the size of the stand, its bolts or the brake",
                    f"Give {show_with_unit(low, unit)} or more, and less than "
                    f"{show_with_unit(high, unit)}."
                    if column != "rail"
                    else f"Give {show_with_unit(low, unit)} to {show_with_unit(high, unit)}.",
                )

    @staticmethod
    def _caution(shop: Shop) -> str:
        return (
            f"What a stand of {shop.metal.gauge} ga carries is not worked out here: go by the "
            "unit's weight and instructions, the local code and a licensed practitioner; fix it "
            "against tipping."
        )


def _up(plan: tuple[Length, Length], z: Length) -> Point3:
    return plan[0], plan[1], z


def _sign(value: Length) -> int:
    return (value > 0) - (value < 0)
