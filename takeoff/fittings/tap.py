"""Rectangular taps: a branch that goes into the wall of a duct."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import show, show_with_unit

from ._branch import Entry, entry_points, entry_size, entry_too_large
from ._checks import check_bends, check_fit
from ._cheeked import Cheeked
from ._fields import CheekSeam, Name
from ._section import Mouth, Wall
from .base import Cutout, Fitting, Made, OpenEnd, Shop, Size, read_choice, register


@register
class Tap(Fitting):
    """A rectangular branch on the side of a duct, with the hole that it needs there."""

    kind: ClassVar[str] = "tap"
    also: ClassVar[tuple[str, ...]] = ("branch", "shoe tap", "rectangular tap")
    summary: ClassVar[str] = (
        "A rectangular branch for a duct's side, with straight, 45 degree or radius entry, "
        "and the hole it needs."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "14", "height": "8", "length": "10", "entry": "shoe"},
        {"width": "10", "height": "6", "length": "6"},
        {"width": "12", "height": "8", "length": "12", "entry": "radius", "entry_size": "6"},
    )
    measured: ClassVar[tuple[str, ...]] = ("entry",)

    width: Size = Field(description="Width of the branch, along the duct it goes into.")
    height: Size = Field(description="Height of the branch, across the duct it goes into.")
    length: Size = Field(description="From the duct's wall to the end of the branch.")
    entry: Annotated[Entry, BeforeValidator(read_choice)] = Field(
        default="straight",
        description="How the side that meets the air is made: straight, shoe (45 degree entry) "
        "or radius.",
    )
    entry_size: Size | None = Field(
        default=None,
        description="How far the shoe or the radius reaches along the duct; the shop profile's "
        "entry if blank.",
    )
    end_1: Name = Field(
        default="flange out", description="What is done to the edge that lies on the duct."
    )
    end_2: Name = Field(
        default=SLIP_AND_DRIVE, description="What is done to the far end of the branch."
    )
    seam: CheekSeam = "pittsburgh"

    def make(self, shop: Shop) -> Made:
        """The wall that meets the air, the wall behind it, and two cheeks."""
        size = self._entry(shop)
        body = self._body(shop, size)
        check_bends(body.walls, lambda _: "length", shop)
        pieces = body.pieces
        check_fit(pieces, shop, self.may_turn(shop), "length", self.length)
        return Made(pieces, body.seams(), self._notes(shop, size), (), (self._hole(shop, size),))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The far end of the branch; the other lies on a duct's wall."""
        return (OpenEnd("end 2", self.end_2, self.width, self.height),)

    def _body(self, shop: Shop, size: Fraction) -> Cheeked:
        zero = Fraction(0)
        points, rolled = entry_points(self.entry, (zero, zero), size)
        heel = Wall("heel", ((self.width, zero), (self.width, self.length)))
        throat = Wall("throat", ((zero, self.length), *points), rolled)
        return Cheeked(
            (heel, throat),
            (Mouth("end 2", "end_2", self.end_2), Mouth("end 1", "end_1", self.end_1)),
            self.height,
            self.seam,
            shop,
        )

    def _entry(self, shop: Shop) -> Fraction:
        size = entry_size(self.entry, self.entry_size, shop)
        if size >= self.length:
            raise entry_too_large(self.entry, size, self.length, shop, "length of the branch")
        return size

    def _hole(self, shop: Shop, size: Fraction) -> Cutout:
        """The hole in the duct, the branch's axis at its origin, the air coming from the left."""
        left, right, up = -self.width / 2 - size, self.width / 2, self.height / 2
        unit = shop.profile.unit
        note = f"{show(right - left, unit)} along the duct by {show(self.height, unit)}"
        if size:
            note += (
                f", reaching {show_with_unit(size, unit)} further towards the air from the "
                "branch's side"
            )
        corners = ((left, -up), (right, -up), (right, up), (left, up))
        return Cutout(f"{self.entry} tap", corners, None, f"{note}.")

    def _notes(self, shop: Shop, size: Fraction) -> tuple[str, ...]:
        if not size or self.entry_size is not None:
            return ()
        length = show_with_unit(size, shop.profile.unit)
        return (f"The {self.entry} is {length}, the shop's usual entry.",)
