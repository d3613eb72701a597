"""Straight rectangular duct, cut into joints where the run is longer than one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE

from ._run import Run
from .base import Fitting, Made, OpenEnd, Shop, Size, read_choice, register

Name = Annotated[str, BeforeValidator(read_choice)]


@register
class StraightDuct(Fitting):
    """A run of straight rectangular duct."""

    kind: ClassVar[str] = "straight duct"
    also: ClassVar[tuple[str, ...]] = ("duct", "straight", "rectangular duct")
    summary: ClassVar[str] = "Straight rectangular duct, cut into joints where the run is longer."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "8", "length": "47"},
        {"width": "14", "height": "10", "length": "118", "arrangement": "two L"},
        {"width": "508mm", "height": "203mm", "length": "1200mm", "end_1": "raw", "end_2": "hem"},
    )

    width: Size = Field(description="Width of the opening, the side that lies level.")
    height: Size = Field(description="Height of the opening.")
    length: Size = Field(description="Length of the finished run.")
    joint: Size | None = Field(
        default=None,
        description="Finished length of a full joint; blank for what the profile's joint leaves "
        "when its ends are taken off.",
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
    cross_break: Annotated[Literal["auto", "yes", "no"], BeforeValidator(read_choice)] = Field(
        default="auto",
        description="Whether the sides are cross-broken; auto by the profile's width.",
    )

    def make(self, shop: Shop) -> Made:
        """One set of pieces for every joint."""
        return Run(
            self.width,
            self.height,
            self.length,
            (self.end_1, self.end_2),
            shop,
            self.may_turn(shop),
            self.seam,
            self.arrangement,
            self.cross_break,
            self.joint,
        ).make()

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return (
            OpenEnd("end 1", self.end_1, self.width, self.height),
            OpenEnd("end 2", self.end_2, self.width, self.height),
        )
