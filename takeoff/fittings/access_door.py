"""Access doors: a frame round a hole in a duct, and a door that goes over its collar."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import Field

from takeoff.edges import ending
from takeoff.lengths import Length, show
from takeoff.pattern.allowances import Strip
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Role

from ._body import Arrangement, build, check_flanges, find_end
from ._checks import check_fit
from ._cuboid import Cuboid
from ._fields import Name
from ._panels import Body, chain
from .base import CannotMake, Cutout, Fitting, Hardware, Made, Shop, Size, register

SIDES = ("bottom", "right", "top", "left")
FRAME = Arrangement("one piece", (chain("frame", *SIDES),), ("left",))
DOOR = Arrangement("one piece", (chain("door", "back"),), ())
CLEARANCE = Fraction(1, 8)
"""Inches that the door is wider inside than the frame's collar on either side; a hem on the collar
and a gasket take it up. Common practice, no source."""
SCREWS_APART = Fraction(4)
"""Inches from screw to screw round the frame. Common practice, no source."""


@register
class AccessDoor(Fitting):
    """A door for the side of a duct or plenum: frame, door, and the hole they need."""

    kind: ClassVar[str] = "access door"
    also: ClassVar[tuple[str, ...]] = ("duct door", "inspection door")
    summary: ClassVar[str] = (
        "A frame with a collar round a hole in a duct, and a door that goes over the collar."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "12", "height": "8"},
        {"width": "18", "height": "16", "collar": "1 1/2", "latches": "4"},
    )

    width: Size = Field(description="Clear width of the opening.")
    height: Size = Field(description="Clear height of the opening.")
    collar: Size = Field(
        default=Fraction(1), description="How far the frame's collar stands out from the duct."
    )
    end_1: Name = Field(
        default="flange out", description="What is done to the frame's edge on the duct."
    )
    seam: Name = Field(default="lap", description="The seam that closes the frame.")
    latches: Annotated[int, Field(ge=1, le=12)] = Field(
        default=2, description="How many latches hold the door."
    )

    def make(self, shop: Shop) -> Made:
        """The frame, bent from one strip, and the door, a tray with hemmed edges."""
        frame, door = self._frame(shop), self._door(shop)
        check_flanges(frame, lambda _: "end_1", shop)
        pieces = (*frame.pieces, *door.pieces)
        check_fit(pieces, shop, self.may_turn(shop), "width", self.width)
        return Made(
            pieces,
            frame.seams(),
            hardware=self._hardware(),
            cutouts=(self._hole(shop),),
        )

    def _frame(self, shop: Shop) -> Body:
        """The collar as a short duct that stands out (y) from the parent at y = 0."""
        self._check_collar(shop)
        cuboid = Cuboid(self.width, self.collar, self.height)
        flange = ending(self.end_1, find_end(shop, "end_1", self.end_1))
        raw = Edging()
        return build(
            shop,
            cuboid,
            FRAME,
            self.seam,
            lambda _face, opening: flange if opening == "front" else raw,
            {},
            frozenset(),
        )

    def _door(self, shop: Shop) -> Body:
        """A panel over the collar, its edges turned down beside it and hemmed."""
        gap = CLEARANCE
        size = Cuboid(
            self.width + 2 * gap, self.collar, self.height + 2 * gap, (-gap, Fraction(0), -gap)
        )
        (hem,) = ending("hem", find_end(shop, "end_1", "hem")).strips
        side = Strip(self.collar, 90, "edge", Role.END)
        # the hem goes out, away from the collar
        edge = Edging((side, replace(hem, angle=-180)), name="edge")
        return build(shop, size, DOOR, self.seam, lambda *_: edge, {}, frozenset())

    def _check_collar(self, shop: Shop) -> None:
        (hem,) = ending("hem", find_end(shop, "end_1", "hem")).strips
        least = max(shop.profile.brake.min_flange, Fraction(hem.width))
        if self.collar < least:
            raise CannotMake(
                "collar",
                show(self.collar, shop.profile.unit),
                "is too low for the hem of the door that goes over it",
                f"Give {show(least, shop.profile.unit)} or more.",
            )

    def _hardware(self) -> tuple[Hardware, ...]:
        girth: Length = 2 * (self.width + self.height)
        screws = sum(
            2 * max(2, math.ceil(float(side) / float(SCREWS_APART)))
            for side in (self.width, self.height)
        )
        return (
            Hardware("latch", self.latches, "for the door"),
            Hardware("sheet metal screw", screws, "for the frame on the duct"),
            Hardware("gasket", 1, f"{math.ceil(girth)} in, between collar and door"),
        )

    def _hole(self, shop: Shop) -> Cutout:
        right, up = self.width / 2, self.height / 2
        corners = ((-right, -up), (right, -up), (right, up), (-right, up))
        unit = shop.profile.unit
        return Cutout(
            "access door", corners, None, f"{show(self.width, unit)} by {show(self.height, unit)}."
        )
