"""Corner angles: short angles that close and stiffen the corners of a flanged joint."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import Field

from ._checks import check_fit
from ._strips import Profile, bent_strip, check_profile
from .base import Fitting, Made, Shop, Size, register


@register
class CornerAngle(Fitting):
    """A strip bent to an angle."""

    kind: ClassVar[str] = "corner angle"
    also: ClassVar[tuple[str, ...]] = ("angle",)
    summary: ClassVar[str] = "A strip bent to an angle that closes and stiffens a corner."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"leg_1": "1", "length": "2"},
        {"leg_1": "2", "leg_2": "1", "length": "30", "angle": "90"},
    )
    measured: ClassVar[tuple[str, ...]] = ("leg_1", "leg_2", "angle")

    leg_1: Size = Field(default=Fraction(1), description="Outside size of the first leg.")
    leg_2: Size | None = Field(
        default=None, description="Outside size of the other leg; as the first if blank."
    )
    length: Size = Field(description="Length of the angle.")
    angle: Annotated[float, Field(gt=0, le=135, allow_inf_nan=False)] = Field(
        default=90, description="Degrees that it is bent from flat, up to 135."
    )

    def make(self, shop: Shop) -> Made:
        """One strip."""
        profile = Profile((self.leg_1, self.leg_2 or self.leg_1), (self.angle,))
        check_profile(profile, shop, ("leg_1", "angle"))
        piece = bent_strip("corner angle", profile, self.length, shop)
        check_fit((piece,), shop, self.may_turn(shop), "length", self.length)
        return Made((piece,))
