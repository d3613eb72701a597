"""Filter racks: a short duct with rails for a filter, a slot in one side and a cover over it."""

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
    LastEnd,
    two_ends,
)
from ._racked import racked
from .base import AirWay, Fitting, Made, OpenEnd, Shop, Size, register


@register
class FilterRack(Fitting):
    """A short duct that holds a filter, which slides in from one side."""

    kind: ClassVar[str] = "filter rack"
    air_side: ClassVar[Literal["supply", "return"]] = "return"
    also: ClassVar[tuple[str, ...]] = ("filter frame", "slide in filter rack")
    summary: ClassVar[str] = (
        "A short duct of a filter's nominal size, with rails, a slot in one side, and a cover."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "20"},
        {"width": "25", "height": "16", "thickness": "4", "length": "10", "slot": "top"},
        {"width": "20", "height": "14", "end_1": "flange out", "arrangement": "two L"},
    )
    measured: ClassVar[tuple[str, ...]] = ("thickness", "length")

    width: Size = Field(description="Nominal width of the filter, and inside width of the duct.")
    height: Size = Field(description="Nominal height of the filter, and inside height of the duct.")
    thickness: FilterThickness = Fraction(1)
    length: Size = Field(
        default=Fraction(8), description="Length of the duct; the filter stands in its middle."
    )
    slot: FilterSlot = "right"
    arrangement: DuctArrangement = "auto"
    seam: DuctSeam = "pittsburgh"
    end_1: FirstEnd = SLIP_AND_DRIVE
    end_2: LastEnd = SLIP_AND_DRIVE

    def make(self, shop: Shop) -> Made:
        """The duct, its rails and the cover."""
        return racked(
            shop,
            self.may_turn(shop),
            (self.width, self.height, self.length),
            (self.length / 2, self.thickness, self.slot, "length"),
            (self.end_1, self.end_2),
            (self.seam, self.arrangement, "no"),
            self.length,
        )

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return two_ends((self.end_1, self.end_2), self.width, self.height)

    def air_ways(self) -> tuple[AirWay, ...]:
        """The filter."""
        return (AirWay("filter", "filter", self.width, self.height),)
