"""S slips: strips folded to an S, which take the raw edges of two ducts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from pydantic import Field

from ._checks import check_fit
from ._strips import Profile, bent_strip, check_profile
from .base import Fitting, Made, Shop, Size, register


@register
class SlipCleat(Fitting):
    """A strip folded to an S, as long as a side of the duct."""

    kind: ClassVar[str] = "slip cleat"
    also: ClassVar[tuple[str, ...]] = ("s slip", "flat slip", "s cleat")
    summary: ClassVar[str] = "A strip folded to an S that takes the raw slip edges of a joint."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"duct_side": "20"},
        {"duct_side": "14", "leg": "1 1/8"},
    )

    duct_side: Size = Field(description="The side of the duct that it goes along.")
    leg: Size | None = Field(
        default=None,
        description="Each of the three legs of the S; as the shop profile has it if blank.",
    )

    def make(self, shop: Shop) -> Made:
        """One strip: three legs, folded one way and back."""
        leg = self.leg or shop.profile.cleats.slip_leg
        profile = Profile((leg, leg, leg), (180.0, -180.0))
        check_profile(profile, shop, ("leg", "leg"))
        piece = bent_strip("slip cleat", profile, self.duct_side, shop)
        check_fit((piece,), shop, self.may_turn(shop), "duct_side", self.duct_side)
        return Made((piece,))
