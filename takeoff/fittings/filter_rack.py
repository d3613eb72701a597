"""Filter racks: a short duct with rails for a filter, a slot in one side and a cover over it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE

from ._racked import racked
from .base import AirWay, Fitting, Made, OpenEnd, Shop, Size, read_choice, register

Name = Annotated[str, BeforeValidator(read_choice)]


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

    width: Size = Field(description="Nominal width of the filter, and inside width of the duct.")
    height: Size = Field(description="Nominal height of the filter, and inside height of the duct.")
    thickness: Size = Field(
        default=Fraction(1), description="Nominal thickness of the filter: the width of the slot."
    )
    length: Size = Field(
        default=Fraction(8), description="Length of the duct; the filter stands in its middle."
    )
    slot: Annotated[Literal["left", "right", "top", "bottom"], BeforeValidator(read_choice)] = (
        Field(default="right", description="The side that the filter slides in from.")
    )
    arrangement: Annotated[
        Literal["auto", "one piece", "two l", "u and side", "four sides"],
        BeforeValidator(read_choice),
    ] = Field(
        default="auto",
        description="How the four sides are shared out over pieces; auto takes the fewest pieces "
        "that the sheets and the brake can take.",
    )
    seam: Name = Field(default="pittsburgh", description="The seam along the duct.")
    end_1: Name = Field(default=SLIP_AND_DRIVE, description="What is done to the first end.")
    end_2: Name = Field(default=SLIP_AND_DRIVE, description="What is done to the last end.")

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
        return (
            OpenEnd("end 1", self.end_1, self.width, self.height),
            OpenEnd("end 2", self.end_2, self.width, self.height),
        )

    def air_ways(self) -> tuple[AirWay, ...]:
        """The filter."""
        return (AirWay("filter", "filter", self.width, self.height),)
