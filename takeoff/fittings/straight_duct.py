"""Straight rectangular duct, cut into joints where the run is longer than one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.lengths import Length, show, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import Edging

from ._body import (
    SLIP_AND_DRIVE,
    Arrangement,
    broad_faces,
    build,
    choose,
    edge_of_opening,
)
from ._cuboid import Cuboid
from ._panels import Body, chain
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, read_choice, register

SIDES = ("bottom", "right", "top", "left")
SHORTEST = Fraction(6)
"""Inches; a shorter last joint is shared with the one before it."""

WAYS = (
    Arrangement("one piece", (chain("wrap", *SIDES),), ("left",)),
    Arrangement(
        "two l", (chain("L", "bottom", "right"), chain("L", "top", "left")), ("right", "left")
    ),
    Arrangement(
        "u and side",
        (chain("U", "left", "bottom", "right"), chain("side", "top")),
        ("left", "right"),
    ),
    Arrangement(
        "four sides",
        (
            chain("width side", "bottom"),
            chain("height side", "right"),
            chain("width side", "top"),
            chain("height side", "left"),
        ),
        ("left", "right"),
    ),
)

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
        lengths = self._joints(shop)
        begins = [Fraction(0), *accumulate(lengths)]
        made = Made(())
        for number, length in enumerate(lengths):
            body, notes = self._joint(shop, length, begins[number], number, len(lengths))
            label = f", {show(length, shop.profile.unit)} joint" if len(set(lengths)) > 1 else ""
            pieces = tuple(replace(p, name=f"{p.name}{label}") for p in body.pieces())
            seams = body.seams(first=len(made.pieces))
            made = Made(made.pieces + pieces, made.seams + seams, made.notes + notes)
        return replace(made, notes=(*self._run_note(shop, lengths), *dict.fromkeys(made.notes)))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return (
            OpenEnd("end 1", self.end_1, self.width, self.height),
            OpenEnd("end 2", self.end_2, self.width, self.height),
        )

    def _joints(self, shop: Shop) -> list[Fraction]:
        """The finished lengths of the joints, full ones first."""
        full = self.joint or self._full_joint(shop)
        count, rest = divmod(self.length, full)
        lengths = [full] * int(count)
        if rest and lengths and rest < SHORTEST:
            half = (lengths.pop() + rest) / 2
            return [*lengths, half, half]
        return [*lengths, rest] if rest else lengths

    def _full_joint(self, shop: Shop) -> Fraction:
        """The profile's joint of flat sheet less what the ends of a joint take from it."""
        cuboid = Cuboid(self.width, self.length, self.height)
        taken: Length = Fraction(0)
        for end in (self.end_1, self.end_2):
            edgings = [self._edge(shop, end, cuboid, side, "front") for side in SIDES]
            taken = taken + max(total_width(edging.strips) for edging in edgings)
        full = Fraction(shop.profile.joint.length - taken)
        if full <= 0:
            raise CannotMake(
                "end_1",
                self.end_1,
                "takes more metal than a whole joint has",
                "Choose a narrower end or set a longer joint in the shop profile.",
            )
        return full

    def _joint(
        self, shop: Shop, length: Fraction, begin: Fraction, number: int, count: int
    ) -> tuple[Body, tuple[str, ...]]:
        cuboid = Cuboid(self.width, length, self.height, (Fraction(0), begin, Fraction(0)))
        between = self.end_1 if self.end_1 == self.end_2 else SLIP_AND_DRIVE
        ends = {
            "front": self.end_1 if number == 0 else between,
            "back": self.end_2 if number == count - 1 else between,
        }
        across = {
            "bottom": self.width,
            "top": self.width,
            "left": self.height,
            "right": self.height,
        }
        wide = broad_faces(
            SIDES, lambda face: across[face], self.cross_break, shop.profile.cross_break.over
        )

        def make(way: Arrangement) -> Body:
            return build(
                shop,
                cuboid,
                way,
                self.seam,
                lambda face, opening: self._edge(shop, ends[opening], cuboid, face, opening),
                {},
                wide,
            )

        return choose(
            WAYS,
            self.arrangement,
            make,
            shop,
            self.may_turn(shop),
            lambda opening: "end_1" if opening == "front" else "end_2",
        )

    def _edge(self, shop: Shop, end: str, cuboid: Cuboid, face: str, opening: str) -> Edging:
        column = "end_1" if end == self.end_1 else "end_2"
        return edge_of_opening(shop, column, end, cuboid, face, opening)

    def _run_note(self, shop: Shop, lengths: list[Fraction]) -> tuple[str, ...]:
        if len(lengths) == 1:
            return ()
        unit = shop.profile.unit
        listed = ", ".join(show(length, unit) for length in lengths)
        return (
            f"The run of {show_with_unit(self.length, unit)} is cut into {len(lengths)} joints: "
            f"{listed}.",
        )
