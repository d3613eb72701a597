"""Transitions between two rectangular openings."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field, PlainSerializer

from takeoff.edges import SLIP_AND_DRIVE

from ._fields import (
    CornerSeam,
    FirstHeight,
    FirstOpening,
    FirstWidth,
    LengthOverAll,
    SecondHeight,
    SecondOpening,
    SecondWidth,
    TubeArrangement,
    Wish,
)
from ._shift import Room, Shift
from ._tapered import Opening, Taper, make_tapered
from ._tube_ends import Ends
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, plain, register

Side = Literal["bottom", "right", "top", "left"]


def _sides(value: object) -> object:
    if not isinstance(value, str):
        return value
    words = plain(value).replace(" and ", ",").replace(";", ",").split(",")
    names = tuple(dict.fromkeys(word.strip().removeprefix("on ") for word in words if word.strip()))
    return () if names in (("none",), ("centred",), ("centered",)) else names


def _listed(sides: tuple[str, ...]) -> str:
    return ", ".join(sides) or "none"


@register
class Transition(Fitting):
    """A change of size, with any offset."""

    kind: ClassVar[str] = "transition"
    also: ClassVar[tuple[str, ...]] = ("duct transition",)
    summary: ClassVar[str] = (
        "Changes one rectangular opening into another, centred, flat on a side or with any offset."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "16", "width_2": "14", "height_2": "12", "length": "12"},
        {
            "width": "20",
            "height": "8",
            "width_2": "18",
            "length": "24",
            "flat_on": "left",
            "collar_1": "0",
            "collar_2": "0",
        },
        {
            "width": "24",
            "height": "12",
            "width_2": "16",
            "height_2": "16",
            "length": "20",
            "flat_on": "bottom",
            "offset_side": "-3",
            "end_2": "flange out",
        },
        {
            "width": "18",
            "height": "14",
            "width_2": "12",
            "height_2": "12",
            "length": "18",
            "lean": "20",
            "end_2": "raw",
        },
    )
    measured: ClassVar[tuple[str, ...]] = (
        "width_2",
        "height_2",
        "flat_on",
        "offset_side",
        "offset_up",
    )

    width: FirstWidth
    height: FirstHeight
    width_2: SecondWidth = None
    height_2: SecondHeight = None
    length: LengthOverAll
    flat_on: Annotated[tuple[Side, ...], BeforeValidator(_sides), PlainSerializer(_listed)] = Field(
        default=(),
        description="The sides that run straight through: none (centred), top, bottom, left, "
        "right, or two that meet, such as: bottom, left.",
    )
    offset_side: Shift | None = Field(
        default=None,
        description="How far the second opening's centre lies to the right of the first's; minus "
        "for the left.",
    )
    offset_up: Shift | None = Field(
        default=None,
        description="How far the second opening's centre lies above the first's; minus for below.",
    )
    lean: float = Field(
        default=0.0,
        ge=-45,
        le=45,
        allow_inf_nan=False,
        description="Degrees that the second opening faces upward from the run; minus for down.",
    )
    twist: float = Field(
        default=0.0,
        ge=-45,
        le=45,
        allow_inf_nan=False,
        description="Degrees that the second opening is turned about the run, clockwise as one "
        "looks along it.",
    )
    collar_1: Room = Field(
        default=Fraction(1), description="Length of the straight collar at the first opening."
    )
    collar_2: Room = Field(
        default=Fraction(1), description="Length of the straight collar at the second opening."
    )
    arrangement: TubeArrangement = "auto"
    seam: CornerSeam = "pittsburgh"
    end_1: FirstOpening = SLIP_AND_DRIVE
    end_2: SecondOpening = SLIP_AND_DRIVE
    cross_break: Wish = Field(
        default="auto",
        description="Whether the panels are cross-broken; auto by the profile's width.",
    )

    def make(self, shop: Shop) -> Made:
        """The panels, as few pieces as the shape allows."""
        sizes = self._sizes()
        ends = Ends(shop, (self.end_1, self.end_2), sizes)
        taper = Taper(
            Opening(*sizes[0]),
            self._second(),
            (self.collar_1, self.collar_2),
            ("collar_1", "collar_2"),
        )
        return make_tapered(
            taper, ends, self.seam, self.arrangement, self.cross_break, self.may_turn(shop)
        )

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two openings."""
        first, second = self._sizes()
        return OpenEnd("end 1", self.end_1, *first), OpenEnd("end 2", self.end_2, *second)

    def doubts(self) -> tuple[str, ...]:
        """Whether it changes nothing from one opening to the other."""
        first, second = self._sizes()
        moved = self.offset_side or self.offset_up or self.lean or self.twist
        if first != second or moved:
            return ()
        return (
            "its second opening is as large as the first and in line with it, so nothing changes "
            "along it; give its second width or height, or make it straight duct",
        )

    def _sizes(self) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
        first = self.width, self.height
        return first, (self.width_2 or self.width, self.height_2 or self.height)

    def _second(self) -> Opening:
        width, height = self._sizes()[1]
        side = self._shift("offset_side", self.offset_side, ("left", "right"), width - self.width)
        up = self._shift("offset_up", self.offset_up, ("bottom", "top"), height - self.height)
        return Opening(width, height, (side, self.length, up), self.lean, self.twist)

    def _shift(
        self, column: str, given: Fraction | None, sides: tuple[str, str], wider: Fraction
    ) -> Fraction:
        """How far the second centre is shifted along one axis: as given, or to keep a side flat."""
        flat = [side for side in sides if side in self.flat_on]
        if given is not None and flat:
            raise CannotMake(
                column, str(given), f"is given with flat on {flat[0]}", "Give one of the two."
            )
        if len(flat) > 1 and wider:
            raise CannotMake(
                "flat_on",
                " and ".join(flat),
                "cannot both be flat where the size changes",
                f"Choose {sides[0]} or {sides[1]}.",
            )
        if given is not None:
            return given
        if not flat:
            return Fraction(0)
        return wider / 2 if flat[0] == sides[0] else -wider / 2
