"""Drive cleats: strips folded on both edges, driven over the drive edges of a joint."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from pydantic import Field

from takeoff.lengths import Length, show_with_unit

from ._checks import check_fit
from ._strips import Profile, bent_strip, check_profile
from .base import CannotMake, Fitting, Made, Shop, Size, register


@register
class DriveCleat(Fitting):
    """A strip with both edges folded over, as long as a side of the duct and its two tails."""

    kind: ClassVar[str] = "drive cleat"
    also: ClassVar[tuple[str, ...]] = ("drive", "drive slip")
    summary: ClassVar[str] = (
        "A strip with both edges folded over, driven on the drive edges of a joint, with tails to "
        "turn over."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"duct_side": "8"},
        {"duct_side": "12 1/2", "tail": "3/4", "width": "2 3/4"},
    )

    duct_side: Size = Field(description="The side of the duct that it is driven along.")
    tail: Size | None = Field(
        default=None,
        description="What it is longer than the side at either end; as the shop profile has it "
        "if blank.",
    )
    width: Size | None = Field(
        default=None,
        description="Width of the strip before folding; as the shop profile has it if blank.",
    )

    def make(self, shop: Shop) -> Made:
        """One strip: its fold, its face, its fold."""
        rule = shop.profile.cleats
        width = rule.drive_width if self.width is None else self.width
        unit = shop.profile.unit
        if width <= 2 * rule.drive_fold:
            raise CannotMake(
                "width",
                show_with_unit(width, unit),
                f"leaves nothing between two folds of {show_with_unit(rule.drive_fold, unit)}",
                f"Give more than {show_with_unit(2 * rule.drive_fold, unit)}.",
            )
        face = width - 2 * rule.drive_fold
        profile = Profile((rule.drive_fold, face, rule.drive_fold), (180.0, 180.0))
        check_profile(profile, shop, ("width", "width"))
        piece = bent_strip("drive cleat", profile, self.cut_length(shop), shop)
        check_fit((piece,), shop, self.may_turn(shop), "duct_side", self.duct_side)
        return Made((piece,))

    def cut_length(self, shop: Shop) -> Length:
        """The side and a tail at either end (in)."""
        tail = shop.profile.cleats.drive_tail if self.tail is None else self.tail
        return self.duct_side + 2 * tail
