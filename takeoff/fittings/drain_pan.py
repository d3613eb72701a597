"""Drain pans: folded from one sheet, watertight without solder."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import ending
from takeoff.lengths import INCH, Length, show, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.facets import Hole

from ._body import find_end
from ._checks import check_fit
from ._folded_pan import FoldedPan
from .base import CannotMake, Fitting, Hardware, Made, Shop, Size, read_choice, register

GALLON = 231
"""Cubic inches in a US gallon (its definition)."""
LITRE = 1000 / 2.54**3
"""Cubic inches in a litre."""
BELOW_DRAIN = Fraction(1, 4)
"""Inches of metal between a drain's hole and the floor's bend. Common practice, no source."""
HOLE_POINTS = 48


@register
class DrainPan(Fitting):
    """An open pan with folded corners and a hemmed rim."""

    kind: ClassVar[str] = "drain pan"
    also: ClassVar[tuple[str, ...]] = ("pan", "condensate pan", "drip pan")
    summary: ClassVar[str] = (
        "An open pan folded from one sheet: corners turned into ears, not cut, and a hemmed rim."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "24", "depth": "30", "height": "2"},
        {"width": "60", "depth": "28", "height": "2 1/2", "drain": "7/8"},
        {"width": "12", "depth": "5", "height": "3", "rim": "raw"},
    )

    width: Size = Field(description="Inside, from left to right.")
    depth: Size = Field(description="Inside, from front to back.")
    height: Size = Field(description="Height of the walls.")
    rim: Annotated[Literal["hem", "raw"], BeforeValidator(read_choice)] = Field(
        default="hem", description="What is done to the rim: a hem turned out, or raw."
    )
    drain: Size | None = Field(
        default=None,
        description="Diameter of a hole for the drain, low in the middle of a wall without ears; "
        "none if blank.",
    )

    def make(self, shop: Shop) -> Made:
        """One piece."""
        pan = self._pan(shop)
        piece = pan.piece(self._hole(shop, pan))
        check_fit((piece,), shop, self.may_turn(shop), "width", self.width)
        hardware = () if self.drain is None else (self._drain_fitting(shop, self.drain),)
        return Made((piece,), (), self._notes(shop, pan), hardware)

    def _pan(self, shop: Shop) -> FoldedPan:
        """The ears lie on the shorter walls, where those are long enough for two of them."""
        short, long = sorted((self.width, self.depth))
        eared, other = (short, long) if 2 * self.height <= short else (long, short)
        unit = shop.profile.unit
        if 2 * self.height > eared:
            raise CannotMake(
                "height",
                show_with_unit(self.height, unit),
                "is too high: two ears of that length do not go on any of its walls",
                f"Give {show_with_unit(long / 2, unit)} or less.",
            )
        least = shop.profile.brake.min_flange
        if self.height < least:
            raise CannotMake(
                "height",
                show_with_unit(self.height, unit),
                "is less than the brake grips",
                f"Give {show_with_unit(least, unit)} or more.",
            )
        edging = ending(self.rim, find_end(shop, "rim", self.rim))
        rim = tuple(replace(strip, angle=-abs(strip.angle)) for strip in edging.strips)
        if total_width(rim) > self.height:
            raise CannotMake(
                "height",
                show_with_unit(self.height, unit),
                "is less than the hem on its rim",
                f"Give {show_with_unit(total_width(rim), unit)} or more, or a raw rim.",
            )
        return FoldedPan(eared, other, self.height, rim, shop.deduction(90))

    def _hole(self, shop: Shop, pan: FoldedPan) -> tuple[Hole, ...]:
        """The drain's hole, in the frame of the blank's floor."""
        if self.drain is None:
            return ()
        unit = shop.profile.unit
        most = self.height - 2 * BELOW_DRAIN
        if self.drain > most or self.drain >= pan.width:
            raise CannotMake(
                "drain",
                show_with_unit(self.drain, unit),
                "leaves too little metal in its wall",
                f"Give {show_with_unit(max(min(most, pan.width / 2), BELOW_DRAIN), unit)} or less, "
                "or a higher pan.",
            )
        x, y, _ = pan.flat
        centre = x + BELOW_DRAIN + self.drain / 2 - pan.half, y / 2
        points = tuple(
            (
                float(centre[0]) + float(self.drain) / 2 * math.cos(math.tau * i / HOLE_POINTS),
                float(centre[1]) + float(self.drain) / 2 * math.sin(math.tau * i / HOLE_POINTS),
            )
            for i in range(HOLE_POINTS)
        )
        return (Hole("right", points, f"drain {show(self.drain, unit)}", centre, self.drain),)

    def _drain_fitting(self, shop: Shop, drain: Length) -> Hardware:
        return Hardware(
            "drain fitting", 1, f"for a hole {show_with_unit(drain, shop.profile.unit)} wide"
        )

    def _notes(self, shop: Shop, pan: FoldedPan) -> tuple[str, ...]:
        volume = float(self.width * self.depth * self.height)
        unit = shop.profile.unit
        holds = f"{volume / GALLON:.1f} US gal" if unit == INCH else f"{volume / LITRE:.1f} litres"
        ends = show_with_unit(pan.length, unit)
        return (
            f"Holds {holds} to the rim.",
            "Cut nothing at its corners: pinch each together on its diagonal as the walls come up, "
            f"lay the ears on the walls {ends} long, and close the hems over them last.",
        )
