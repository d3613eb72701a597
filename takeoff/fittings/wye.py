"""Rectangular wyes: one inlet parted into two branches that lean away from each other."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import Field

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.facets import Point

from ._checks import check_bends, check_fit
from ._cheeked import Cheeked
from ._fields import CheekSeam, CommonHeight, Name
from ._section import Mouth, Wall
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, register

Lean = Annotated[float, Field(ge=0, le=80, allow_inf_nan=False)]

LEAST_BETWEEN = 45.0
"""Degrees between the branches: the crotch is bent by 180 less this, and a leaf brake bends to
about 135. Common practice, no source."""


@register
class Wye(Fitting):
    """One inlet and two branches, of one height throughout."""

    kind: ClassVar[str] = "wye"
    also: ClassVar[tuple[str, ...]] = ("y branch", "rectangular wye")
    summary: ClassVar[str] = "One inlet parted into two leaning branches of the same height."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "8", "width_2": "12", "width_3": "12"},
        {
            "width": "24",
            "height": "10",
            "width_2": "16",
            "width_3": "10",
            "angle_2": "30",
            "angle_3": "60",
            "leg": "6",
        },
        {"width": "18", "height": "8", "angle_2": "0", "width_2": "12", "width_3": "10"},
    )
    measured: ClassVar[tuple[str, ...]] = ("width_2", "width_3", "angle_2", "angle_3")

    width: Size = Field(description="Width of the inlet.")
    height: CommonHeight
    width_2: Size | None = Field(
        default=None, description="Width of the left branch; half the inlet if blank."
    )
    width_3: Size | None = Field(
        default=None, description="Width of the right branch; half the inlet if blank."
    )
    angle_2: Lean = Field(
        default=45, description="Degrees that the left branch leans from the inlet's axis, 0 to 80."
    )
    angle_3: Lean = Field(
        default=45,
        description="Degrees that the right branch leans from the inlet's axis, 0 to 80.",
    )
    neck: Size = Field(
        default=Fraction(2), description="Straight from the inlet to where the branches part."
    )
    leg: Size = Field(
        default=Fraction(4),
        description="Length of each branch along its shorter wall: from the crotch, or from where "
        "its outer wall begins to lean.",
    )
    end_1: Name = Field(default=SLIP_AND_DRIVE, description="What is done to the inlet.")
    end_2: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the end of the left branch."
    )
    end_3: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the end of the right branch."
    )
    seam: CheekSeam = "pittsburgh"

    @property
    def branches(self) -> tuple[Fraction, Fraction]:
        """Widths of the left and the right branch (in)."""
        return self.width_2 or self.width / 2, self.width_3 or self.width / 2

    def make(self, shop: Shop) -> Made:
        """The two outer walls, the crotch, and two cheeks."""
        self._check_angles()
        self._check_widths(shop)
        body = self._body(shop)
        check_bends(body.walls, self._column, shop)
        pieces = body.pieces
        check_fit(pieces, shop, self.may_turn(shop), "width", self.width)
        return Made(pieces, body.seams())

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The inlet and the two branches."""
        left, right = self.branches
        return (
            OpenEnd("end 1", self.end_1, self.width, self.height),
            OpenEnd("end 2", self.end_2, left, self.height),
            OpenEnd("end 3", self.end_3, right, self.height),
        )

    def _body(self, shop: Shop) -> Cheeked:
        left, right = self._legs()
        crotch = left.meets(right)
        left_end, right_end = left.end(crotch, self.leg), right.end(crotch, self.leg)
        return Cheeked(
            (
                Wall("right side", (*self._side(self.width, self.angle_3), right_end[0])),
                Wall("crotch", (right_end[1], crotch, left_end[1])),
                Wall("left side", (left_end[0], *self._side(Fraction(0), self.angle_2)[::-1])),
            ),
            (
                Mouth("end 3", "end_3", self.end_3),
                Mouth("end 2", "end_2", self.end_2),
                Mouth("end 1", "end_1", self.end_1),
            ),
            self.height,
            self.seam,
            shop,
        )

    def _legs(self) -> tuple[_Leg, _Leg]:
        left, right = self.branches
        return (
            _Leg((0, self.neck), -math.radians(self.angle_2), left),
            _Leg((self.width, self.neck), math.radians(self.angle_3), right),
        )

    def _side(self, u: Length, angle: float) -> tuple[Point, ...]:
        """An outer wall up to where its branch begins; a branch that does not lean has no bend."""
        return ((u, Fraction(0)), (u, self.neck)) if angle else ((u, Fraction(0)),)

    def _column(self, wall: str) -> str:
        """The shorter of what lies on either side of the bends."""
        return "neck" if wall != "crotch" and self.neck < self.leg else "leg"

    def _check_angles(self) -> None:
        between = self.angle_2 + self.angle_3
        if between < LEAST_BETWEEN:
            raise CannotMake(
                "angle_3",
                f"{self.angle_3:g} degrees",
                f"leaves {between:g} degrees between the branches, the crotch cannot be bent",
                f"Give {LEAST_BETWEEN - self.angle_2:g} degrees or more.",
            )

    def _check_widths(self, shop: Shop) -> None:
        """The crotch must not lie below the place where the outer walls begin to lean.

        The inner walls cross that line at B2 / cos a2 from the left and B3 / cos a3 from the right.
        """
        unit = shop.profile.unit
        left, right = self.branches
        lean = math.cos(math.radians(self.angle_3))
        room = float(self.width) - float(left) / math.cos(math.radians(self.angle_2))
        if float(right) < room * lean - 1e-9:
            least = Fraction(math.ceil(room * lean * 16), 16)
            raise CannotMake(
                "width_3",
                show_with_unit(right, unit),
                "is too narrow: the crotch would lie in the inlet's neck",
                f"Give {show_with_unit(least, unit)} or more, or a wider left branch.",
            )


@dataclass(frozen=True)
class _Leg:
    """One branch in section: where its outer wall begins, how it leans (radians), its width."""

    foot: Point
    lean: float
    width: Length

    @property
    def way(self) -> tuple[float, float]:
        """The direction of its axis."""
        return math.sin(self.lean), math.cos(self.lean)

    @property
    def inner(self) -> tuple[float, float]:
        """A point of its inner wall, square across from the foot."""
        (u, v), (across, up) = self.foot, self.way
        side = -1 if self.lean > 0 or (self.lean == 0 and u > 0) else 1
        width = float(self.width) * side
        return float(u) + width * up, float(v) - width * across

    def along(self, point: Point) -> float:
        """How far along the branch's axis a point lies from its foot (in)."""
        across, up = self.way
        return float(point[0] - self.foot[0]) * across + float(point[1] - self.foot[1]) * up

    def meets(self, other: _Leg) -> tuple[float, float]:
        """Where the inner walls of two branches cross."""
        (a, b), (c, d) = self.way, other.way
        u, v = other.inner[0] - self.inner[0], other.inner[1] - self.inner[1]
        step = (u * d - v * c) / (a * d - b * c)
        return self.inner[0] + a * step, self.inner[1] + b * step

    def end(self, crotch: Point, leg: Length) -> tuple[Point, Point]:
        """The outer and the inner corner of the branch's end."""
        (a, b), reach = self.way, max(0.0, self.along(crotch)) + float(leg)
        outer = float(self.foot[0]) + a * reach, float(self.foot[1]) + b * reach
        inner = self.inner[0] + a * reach, self.inner[1] + b * reach
        return outer, inner
