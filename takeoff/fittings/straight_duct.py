"""Straight rectangular duct, cut into joints where the run is longer than one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from pydantic import Field

from takeoff.edges import SLIP_AND_DRIVE

from ._fields import DuctArrangement, DuctSeam, FirstEnd, FullJoint, LastEnd, Wish, two_ends
from ._run import Run
from .base import Fitting, Made, OpenEnd, Shop, Size, register


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
    joint: FullJoint = None
    arrangement: DuctArrangement = "auto"
    seam: DuctSeam = "pittsburgh"
    end_1: FirstEnd = SLIP_AND_DRIVE
    end_2: LastEnd = SLIP_AND_DRIVE
    cross_break: Wish = Field(
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
        return two_ends((self.end_1, self.end_2), self.width, self.height)
