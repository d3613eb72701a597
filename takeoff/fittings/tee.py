"""Rectangular tees: a straight duct with a branch square to it, made in one fitting."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import Length, show_with_unit

from ._branch import Entry, entry_points, entry_size, entry_too_large
from ._checks import check_bends, check_fit
from ._cheeked import Cheeked
from ._fields import CheekSeam, CommonHeight, Name
from ._section import Mouth, Wall
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, read_choice, register


@register
class Tee(Fitting):
    """A straight run with a branch square to it, of one height throughout."""

    kind: ClassVar[str] = "tee"
    also: ClassVar[tuple[str, ...]] = ("rectangular tee",)
    summary: ClassVar[str] = (
        "A straight run with a square branch in one fitting, of one height; the run may go on "
        "narrower."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "8", "length": "30", "branch": "12", "entry": "shoe"},
        {"width": "16", "height": "8", "length": "24", "branch": "8", "neck": "3"},
        {
            "width": "24",
            "width_2": "18",
            "height": "10",
            "length": "32",
            "branch": "14",
            "neck": "8",
            "at": "12",
            "entry": "radius",
            "entry_size": "6",
        },
    )
    measured: ClassVar[tuple[str, ...]] = ("width_2", "at")

    width: Size = Field(description="Width of the first end of the run.")
    width_2: Size | None = Field(
        default=None,
        description="Width of the other end of the run, flat on the side away from the branch; "
        "as the first if blank.",
    )
    height: CommonHeight
    length: Size = Field(description="Length of the run.")
    branch: Size = Field(description="Width of the branch.")
    neck: Size = Field(
        default=Fraction(6), description="From the run's wall to the end of the branch."
    )
    at: Size | None = Field(
        default=None,
        description="From the first end of the run to the near side of the branch; the branch is "
        "in the middle if blank.",
    )
    entry: Annotated[Entry, BeforeValidator(read_choice)] = Field(
        default="straight",
        description="How the branch's near corner is made: straight, shoe (45 degree entry) or "
        "radius.",
    )
    entry_size: Size | None = Field(
        default=None,
        description="How far the shoe or the radius reaches from the corner; the shop profile's "
        "entry if blank.",
    )
    end_1: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the first end of the run."
    )
    end_2: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the other end of the run."
    )
    end_3: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the end of the branch."
    )
    seam: CheekSeam = "pittsburgh"

    @property
    def width_out(self) -> Fraction:
        """Width of the other end of the run (in)."""
        return self.width_2 or self.width

    def make(self, shop: Shop) -> Made:
        """The wall away from the branch, the two walls that turn into it, and two cheeks."""
        body = self._body(shop)
        check_bends(body.walls, self._column, shop)
        pieces = body.pieces
        check_fit(pieces, shop, self.may_turn(shop), "length", self.length)
        return Made(pieces, body.seams())

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The two ends of the run, and the branch."""
        return (
            OpenEnd("end 1", self.end_1, self.width, self.height),
            OpenEnd("end 2", self.end_2, self.width_out, self.height),
            OpenEnd("end 3", self.end_3, self.branch, self.height),
        )

    def _body(self, shop: Shop) -> Cheeked:
        zero, top = Fraction(0), self.width + self.neck
        near = (self.length - self.branch) / 2 if self.at is None else self.at
        far = near + self.branch
        self._check(shop, near, far)
        size = entry_size(self.entry, self.entry_size, shop)
        room = min(near, self.neck)
        if size >= room:
            raise entry_too_large(self.entry, size, room, shop, "room at the branch's corner")
        corner, rolled = entry_points(self.entry, (near, self.width), size)
        return Cheeked(
            (
                Wall("back", ((zero, zero), (self.length, zero))),
                Wall(
                    "outlet side",
                    ((self.length, self.width_out), (far, self.width_out), (far, top)),
                ),
                Wall("inlet side", ((near, top), *corner, (zero, self.width)), rolled),
            ),
            (
                Mouth("end 2", "end_2", self.end_2),
                Mouth("end 3", "end_3", self.end_3),
                Mouth("end 1", "end_1", self.end_1),
            ),
            self.height,
            self.seam,
            shop,
        )

    def _check(self, shop: Shop, near: Length, far: Length) -> None:
        unit = shop.profile.unit
        if far >= self.length or near <= 0:
            column = "branch" if self.at is None else "at"
            room = self.length - (self.branch if self.at is not None else 0)
            raise CannotMake(
                column,
                show_with_unit(self.branch if self.at is None else self.at, unit),
                f"puts the branch beyond the run, which is {show_with_unit(self.length, unit)}",
                f"Give less than {show_with_unit(room, unit)}, or a longer run."
                if room > 0
                else f"Make the run longer than the branch, {show_with_unit(self.branch, unit)}.",
            )
        if self.width_out > self.width:
            raise CannotMake(
                "width_2",
                show_with_unit(self.width_out, unit),
                "is wider than the first end",
                f"Give {show_with_unit(self.width, unit)} or less, or turn the tee round.",
            )

    @staticmethod
    def _column(wall: str) -> str:
        return "neck" if wall == "outlet side" else "entry_size"
