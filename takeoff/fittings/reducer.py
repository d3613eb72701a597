"""Round reducers: concentric and eccentric cones between two round ends."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.lengths import Length, show_with_unit

from ._circle import Axis, divisions
from ._collar import RoundEnd, finish
from ._fields import LengthOverAll, Name, PiecesRound
from ._round import (
    between_collars,
    check_slope,
    closing,
    coarse_note,
    cut_evenly,
    fewest,
    seams_of,
)
from ._shell import Shell, staves
from ._shift import Room
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, read_choice, register


@register
class Reducer(Fitting):
    """A cone from a large round end to a small one."""

    kind: ClassVar[str] = "reducer"
    also: ClassVar[tuple[str, ...]] = ("round reducer", "taper", "eccentric reducer")
    summary: ClassVar[str] = "A cone from one round size to another, centred or flat on one side."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"large": "12", "small": "8", "length": "8"},
        {"large": "10", "small": "6", "length": "8", "align": "flat side", "collar_2": "2"},
        {"large": "14", "small": "12", "length": "12", "offset": "3", "end_1": "flange out"},
    )
    measured: ClassVar[tuple[str, ...]] = ("align",)

    large: Size = Field(description="Inside diameter of the large end.")
    small: Size = Field(description="Inside diameter of the small end.")
    length: LengthOverAll
    align: Annotated[Literal["centred", "flat side"], BeforeValidator(read_choice)] = Field(
        default="centred",
        description="Whether the ends share their centreline or the cone is flat on one side.",
    )
    offset: Size | None = Field(
        default=None,
        description="How far the small end's centre is off the large end's, in place of align.",
    )
    collar_1: Room = Field(
        default=Fraction(0), description="Length of the straight collar on the large end."
    )
    collar_2: Room = Field(
        default=Fraction(0), description="Length of the straight collar on the small end."
    )
    divisions: int | None = Field(
        default=None,
        ge=12,
        le=480,
        multiple_of=12,
        description="Into how many parts the circles are divided; blank for what keeps the flats "
        "within 1/64 in of the round.",
    )
    pieces: PiecesRound = None
    seam: Name = Field(default="grooved", description="The seam along the cone.")
    end_1: Name = Field(default="raw", description="What is done to the large end.")
    end_2: Name = Field(default="raw", description="What is done to the small end.")

    def make(self, shop: Shop) -> Made:
        """The cone, and its collars where it has them."""
        self._check(shop)
        count = self.divisions or divisions(self.large)
        seam, turn = closing(shop, self.seam), self.may_turn(shop)
        cone = staves(
            "cone",
            self._axis(1).ring(self.large, count, 0.0),
            self._axis(2).ring(self.small, count, 0.0),
        )
        ends = finish(shop, cone, 0, seam, self._ends(), turn, 1)
        body, told = fewest(
            self.pieces,
            lambda pieces: [Shell(cut_evenly(cone, pieces), seam, ends.rims)],
            shop,
            turn,
        )
        pieces, seams = seams_of((*body, *ends.collars), ends.joints)
        notes = dict.fromkeys((*told, *ends.notes, *coarse_note(shop, self.large, count)))
        return Made(pieces, seams, tuple(notes))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return (
            OpenEnd("large end", self.end_1, diameter=self.large),
            OpenEnd("small end", self.end_2, diameter=self.small),
        )

    @property
    def off_centre(self) -> Length:
        """How far the ends' centrelines are apart (in)."""
        if self.offset is not None:
            return self.offset
        return (self.large - self.small) / 2 if self.align == "flat side" else 0

    def _axis(self, end: int) -> Axis:
        """The axis of an end; the seam, at angle 0, is the cone's shortest line."""
        if end == 1:
            return Axis()
        rise = self.length - self.collar_1 - self.collar_2
        return Axis((float(self.off_centre), 0.0, float(rise)))

    def _ends(self) -> tuple[RoundEnd, RoundEnd]:
        return (
            RoundEnd(
                "end_1",
                "the large end",
                self.end_1,
                self.large,
                self._axis(1),
                "lower",
                self.collar_1,
            ),
            RoundEnd(
                "end_2",
                "the small end",
                self.end_2,
                self.small,
                self._axis(2),
                "upper",
                self.collar_2,
            ),
        )

    def _check(self, shop: Shop) -> None:
        unit = shop.profile.unit
        if self.small >= self.large:
            raise CannotMake(
                "small",
                show_with_unit(self.small, unit),
                "is not smaller than the large end",
                f"Less than {show_with_unit(self.large, unit)} would be allowed.",
            )
        if self.offset is not None and self.align == "flat side":
            raise CannotMake(
                "offset",
                show_with_unit(self.offset, unit),
                "is given for a cone that is flat on one side, which has its own",
                f"Leave it blank for {show_with_unit((self.large - self.small) / 2, unit)}.",
            )
        run = (self.large - self.small) / 2 + self.off_centre
        between_collars(shop, self.length, self.collar_1, self.collar_2)
        check_slope(shop, self.length, self.collar_1 + self.collar_2, run, "its steepest side")
