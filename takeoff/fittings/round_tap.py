"""Round taps: a round branch on a flat wall or on round pipe, with the hole it needs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import Field

from takeoff.lengths import show_with_unit
from takeoff.pattern.allowances import total_width

from ._circle import MOST, OFF_TRUE, bow, divisions
from ._fields import Name, PiecesRound
from ._flange import lying_on
from ._least import at_least
from ._round import closing, cut_evenly, fewest, seams_of
from ._round_ends import CRIMP, GOES_IN, along_rim, end_note, lap_of, rim_edging, round_edging
from ._saddle import Saddle
from ._shell import Ring, Shell, staves
from .base import CannotMake, Cutout, Fitting, Made, OpenEnd, Shop, Size, register

DOVETAIL = "dovetail"
LEAST_LINE = Fraction(1, 2)
"""Inches of metal left on the shortest line of a branch. Common practice, no source."""


@register
class RoundTap(Fitting):
    """A round branch."""

    kind: ClassVar[str] = "round tap"
    also: ClassVar[tuple[str, ...]] = ("saddle tap", "round branch", "start collar")
    summary: ClassVar[str] = (
        "A round branch on a flat wall or on round pipe, square to it or leaning, with the hole "
        "it needs."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"diameter": "6", "length": "4"},
        {"diameter": "6", "parent_diameter": "10", "length": "6"},
        {"diameter": "6", "parent_diameter": "8", "angle": "45", "length": "9"},
        {"diameter": "8", "angle": "45", "length": "8", "end_1": "flange out"},
    )
    measured: ClassVar[tuple[str, ...]] = ("parent_diameter", "angle")

    diameter: Size = Field(description="Inside diameter of the branch.")
    parent_diameter: Size | None = Field(
        default=None, description="Diameter of the round pipe it goes on; blank for a flat wall."
    )
    angle: Annotated[float, Field(ge=30, le=90)] = Field(
        default=90, description="Degrees between the branch and its parent: 90 stands square."
    )
    length: Size = Field(
        description="From the parent's surface to the branch's end, along the branch's axis."
    )
    pieces: PiecesRound = None
    seam: Name = Field(default="grooved", description="The seam along the branch.")
    end_1: Name = Field(
        default=DOVETAIL, description="What is done to the edge that lies on the parent."
    )
    end_2: Name = Field(default=CRIMP, description="What is done to the far end.")

    def make(self, shop: Shop) -> Made:
        """The branch, and the hole in its parent."""
        self._check(shop)
        saddle = self._saddle()
        count = divisions(self.diameter, saddle.height)
        ring = self._ring(shop, saddle, count)
        rims = {
            **lying_on(
                ring,
                ring.lower,
                rim_edging(shop, "end_1", self.end_1, self.diameter),
                saddle.normal,
            ),
            **along_rim(ring.upper, rim_edging(shop, "end_2", self.end_2, self.diameter)),
        }
        seam = closing(shop, self.seam)
        shells, told = fewest(
            self.pieces,
            lambda pieces: [Shell(cut_evenly(ring, pieces), seam, rims)],
            shop,
            self.may_turn(shop),
        )
        pieces, seams = seams_of(shells, ())
        notes = (
            *told,
            *self._tab_note(),
            *end_note(shop, "the far end", self.end_2),
            *_steep_note(saddle, count),
        )
        return Made(pieces, seams, notes, cutouts=(self._hole(saddle, count),))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The far end; the other lies on the parent."""
        return (OpenEnd("branch", self.end_2, diameter=self.diameter),)

    def _saddle(self) -> Saddle:
        parent = None if self.parent_diameter is None else float(self.parent_diameter)
        return Saddle(float(self.diameter), parent, self.angle)

    def _ring(self, shop: Shop, saddle: Saddle, count: int) -> Ring:
        """The branch, its seam on the shortest line."""
        top = float(self.length + lap_of(shop, self.end_2))
        return staves(
            "branch",
            saddle.axis.ring(self.diameter, count, saddle.height),
            saddle.axis.ring(self.diameter, count, top),
        )

    def _hole(self, saddle: Saddle, count: int) -> Cutout:
        flat = self.parent_diameter is None
        exact = self.diameter if flat and self.angle == 90 else None
        over = "" if flat else ", the second round it on the flat sheet"
        return Cutout(
            self.kind,
            saddle.hole(count),
            exact,
            "Measured from where the branch's axis meets the parent: the first size runs along "
            f"the parent, to the side the branch leans to{over}.",
        )

    def _check(self, shop: Shop) -> None:
        unit = shop.profile.unit
        if self.parent_diameter is not None and self.diameter > self.parent_diameter:
            raise CannotMake(
                "diameter",
                show_with_unit(self.diameter, unit),
                "is larger than the pipe it goes on",
                f"{show_with_unit(self.parent_diameter, unit)} or less would be allowed.",
            )
        if self.end_1 in GOES_IN:
            raise CannotMake(
                "end_1",
                self.end_1,
                "is for an end that goes into another pipe",
                "Choose dovetail, flange out or raw for the edge on the parent.",
            )
        self._check_arch(shop)
        least = self._saddle().highest + float(LEAST_LINE)
        if float(self.length) < least - 1e-9:
            raise CannotMake(
                "length",
                show_with_unit(self.length, unit),
                f"leaves less than {show_with_unit(LEAST_LINE, unit)} of metal on the shortest "
                "line",
                f"{at_least(least, unit)} or more would be allowed.",
            )

    def _check_arch(self, shop: Shop) -> None:
        """CannotMake when an edge is wider than the arch of the cut has room for."""
        width = total_width(round_edging(shop, "end_1", self.end_1).strips)
        arch = self._saddle().arch
        if float(width) >= arch:
            unit = shop.profile.unit
            raise CannotMake(
                "end_1",
                self.end_1,
                f"is {show_with_unit(width, unit)} wide and folds on itself in the arch of the cut",
                f"{show_with_unit(_below(arch), unit, 32)} or less would be allowed there.",
            )

    def _tab_note(self) -> tuple[str, ...]:
        if self.end_1 != DOVETAIL:
            return ()
        return ("Slit the edge on the parent into tabs, down to its bend line.",)


def _steep_note(saddle: Saddle, count: int) -> tuple[str, ...]:
    if count < MOST or bow(saddle.height, count) <= OFF_TRUE:
        return ()
    return (
        "Branch and parent are so nearly alike that the cut turns within a stave: dress it to the "
        "parent.",
    )


def _below(value: float) -> Fraction:
    """The next thirty-second of an inch below."""
    return Fraction(math.ceil(value * 32) - 1, 32)
