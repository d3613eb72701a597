"""Return air drops: a straight duct with a filter rack built in."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import ClassVar, Literal

from pydantic import Field

from takeoff.edges import SLIP_AND_DRIVE

from ._fields import (
    DuctArrangement,
    DuctSeam,
    FilterSlot,
    FilterThickness,
    FirstEnd,
    FullJoint,
    LastEnd,
    Wish,
    two_ends,
)
from ._racked import racked
from .base import AirWay, Fitting, Made, OpenEnd, Shop, Size, register


@register
class Drop(Fitting):
    """A straight duct with a filter rack built in, as return air comes down beside a furnace."""

    kind: ClassVar[str] = "drop"
    also: ClassVar[tuple[str, ...]] = ("return drop", "return air drop")
    air_side: ClassVar[Literal["supply", "return"]] = "return"
    summary: ClassVar[str] = (
        "A straight duct of a filter's nominal size with a filter rack built in, as a return drop."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "14", "length": "58", "filter_at": "52"},
        {"width": "25", "height": "16", "length": "40", "filter_at": "30", "thickness": "4"},
        {"width": "20", "height": "10", "length": "47", "filter_at": "6", "slot": "left"},
    )

    width: Size = Field(description="Inside width of the duct, and nominal width of the filter.")
    height: Size = Field(description="Inside depth of the duct, and nominal height of the filter.")
    length: Size = Field(description="Length of the finished drop.")
    filter_at: Size = Field(description="From the first end to the middle of the filter.")
    thickness: FilterThickness = Fraction(1)
    slot: FilterSlot = "right"
    joint: FullJoint = None
    arrangement: DuctArrangement = "auto"
    seam: DuctSeam = "pittsburgh"
    end_1: FirstEnd = SLIP_AND_DRIVE
    end_2: LastEnd = SLIP_AND_DRIVE
    cross_break: Wish = Field(
        default="auto",
        description="Whether sides without slot or screws are cross-broken; auto by the profile's "
        "width.",
    )

    def make(self, shop: Shop) -> Made:
        """One set of sides for every joint, the rails and the cover."""
        return racked(
            shop,
            self.may_turn(shop),
            (self.width, self.height, self.length),
            (self.filter_at, self.thickness, self.slot, "filter_at"),
            (self.end_1, self.end_2),
            (self.seam, self.arrangement, self.cross_break),
            self.joint,
        )

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return two_ends((self.end_1, self.end_2), self.width, self.height)

    def air_ways(self) -> tuple[AirWay, ...]:
        """The filter."""
        return (AirWay("filter", "filter", self.width, self.height),)
