"""Hanger straps: plain strips that carry duct, with a foot under it where one is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from pydantic import Field

from ._checks import check_fit
from ._strips import Profile, bent_strip, check_profile
from .base import Fitting, Made, Shop, Size, register


@register
class HangerStrap(Fitting):
    """A strap to hang duct by."""

    kind: ClassVar[str] = "hanger strap"
    also: ClassVar[tuple[str, ...]] = ("strap", "hanger")
    summary: ClassVar[str] = "A plain strap to hang duct by, with a foot bent under the duct."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"length": "24", "foot": "2"},
        {"length": "18", "width": "1 1/2"},
    )

    length: Size = Field(description="From its upper end to the bend, or all of it without a foot.")
    width: Size | None = Field(
        default=None, description="Width of the strap; as the shop profile has it if blank."
    )
    foot: Size | None = Field(
        default=None, description="How far its lower end is bent under the duct; none if blank."
    )

    def make(self, shop: Shop) -> Made:
        """One strap."""
        foot = () if self.foot is None else (self.foot,)
        profile = Profile((self.length, *foot), (90.0,) * len(foot))
        check_profile(profile, shop, ("foot", "foot"))
        width = self.width or shop.profile.cleats.strap_width
        piece = bent_strip("strap", profile, width, shop)
        check_fit((piece,), shop, self.may_turn(shop), "length", self.length)
        return Made((piece,))
