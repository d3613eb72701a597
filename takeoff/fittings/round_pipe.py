"""Round pipe, cut into joints where the run is longer than one."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import ClassVar

from pydantic import Field

from takeoff.lengths import Length, show, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import RAW, Edging

from ._circle import Axis, divisions
from ._fields import FirstEnd, InsideDiameter, Name, two_ends
from ._round import closing, cut_evenly, fewest, seams_of
from ._round_ends import CRIMP, GOES_IN, SMALL_END, along_rim, end_note, lap_of, rim_edging, seven_t
from ._shell import Shell, staves
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, register

SHORTEST = Fraction(6)
"""Inches; a shorter last joint is shared with the one before it."""


@register
class RoundPipe(Fitting):
    """A run of round pipe."""

    kind: ClassVar[str] = "round pipe"
    also: ClassVar[tuple[str, ...]] = ("pipe", "round duct")
    summary: ClassVar[str] = "Round pipe with a seam along it, cut into joints where it is longer."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"diameter": "8", "length": "46 1/2"},
        {"diameter": "6", "length": "10'", "seam": "snap lock"},
        {"diameter": "14", "length": "30", "end_1": "flange out", "end_2": "flange out"},
        {"diameter": "150mm", "length": "1.1m", "end_2": "small end"},
    )

    diameter: InsideDiameter
    length: Size = Field(description="Length of the run, without what goes into the next piece.")
    joint: Size | None = Field(
        default=None,
        description="Length of a full joint as it counts in the run; blank for what the profile's "
        "joint leaves when its ends are taken off.",
    )
    pieces: int | None = Field(
        default=None,
        ge=1,
        le=4,
        description="How many pieces go round; blank for the fewest that the sheets can take.",
    )
    seam: Name = Field(default="grooved", description="The seam along the pipe.")
    end_1: FirstEnd = "raw"
    end_2: Name = Field(
        default=CRIMP,
        description="What is done to the last end: crimp and small end go into the next piece.",
    )

    def make(self, shop: Shop) -> Made:
        """The rolled pieces of every joint."""
        lengths = self._joints(shop)
        shells: list[Shell] = []
        notes: tuple[str, ...] = ()
        begin = Fraction(0)
        for number, length in enumerate(lengths):
            ends = self._ends(number, len(lengths))
            shell, told = self._joint(shop, length, begin, ends)
            if len(set(lengths)) > 1:
                name = f"{shell.ring.name}, {show(length, shop.profile.unit)} joint"
                shell = replace(shell, ring=replace(shell.ring, name=name))
            shells.append(shell)
            notes += told
            begin += length
        pieces, seams = seams_of(shells, ())
        joints = tuple(
            OpenEnd(
                f"joint {number}",
                self._ends(number - 1, len(lengths))[1],
                None,
                None,
                self.diameter,
            )
            for number in range(1, len(lengths))
        )
        run = self._run_note(shop, lengths)
        return Made(pieces, seams, (*run, *dict.fromkeys(notes)), joints=joints)

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return two_ends((self.end_1, self.end_2), diameter=self.diameter)

    def _ends(self, number: int, count: int) -> tuple[str, str]:
        """The ends of one of the joints: those between joints slip together or are both alike."""
        alike = self.end_1 == self.end_2 and self.end_1 not in GOES_IN
        slips = self.end_2 if self.end_2 in GOES_IN else CRIMP
        first = self.end_1 if number == 0 or alike else "raw"
        last = self.end_2 if number == count - 1 or alike else slips
        return first, last

    def _joints(self, shop: Shop) -> list[Fraction]:
        """The lengths of the joints as they count in the run, full ones first."""
        full = self.joint or self._full_joint(shop)
        count, rest = divmod(self.length, full)
        lengths = [full] * int(count)
        if rest and lengths and rest < SHORTEST:
            half = (lengths.pop() + rest) / 2
            return [*lengths, half, half]
        return [*lengths, rest] if rest else lengths

    def _full_joint(self, shop: Shop) -> Fraction:
        """The profile's joint of flat sheet less what the ends of a joint take from it."""
        first, last = self._ends(1, 3)
        taken = max(
            sum(self._taken(shop, column, end) for column, end in ends)
            for ends in (
                (("end_1", self.end_1), ("end_2", last)),
                (("end_1", first), ("end_2", self.end_2)),
            )
        )
        full = shop.profile.joint.length - Fraction(taken)
        if full <= 0:
            raise CannotMake(
                "end_1",
                self.end_1,
                "takes more metal than a whole joint has",
                "Choose a narrower end or set a longer joint in the shop profile.",
            )
        return full

    def _taken(self, shop: Shop, column: str, end: str) -> Length:
        strips = self._rim(shop, column, end).strips
        return total_width(strips) + lap_of(shop, end)

    def _rim(self, shop: Shop, column: str, end: str) -> Edging:
        """What a rim carries; the small end carries nothing, the pipe tapers to it."""
        return RAW if end == SMALL_END else rim_edging(shop, column, end, self.diameter)

    def _joint(
        self, shop: Shop, length: Fraction, begin: Fraction, ends: tuple[str, str]
    ) -> tuple[Shell, tuple[str, ...]]:
        laps = [float(lap_of(shop, end)) for end in ends]
        low, high = float(begin) - laps[0], float(begin + length) + laps[1]
        count = divisions(self.diameter)
        low_rim, high_rim = (
            Axis().ring(self._end_diameter(shop, end), count, height)
            for end, height in zip(ends, (low, high), strict=True)
        )
        ring = staves("pipe", low_rim, high_rim)
        edges = {
            **along_rim(ring.lower, self._rim(shop, "end_1", ends[0])),
            **along_rim(ring.upper, self._rim(shop, "end_2", ends[1])),
        }
        seam = closing(shop, self.seam)
        (shell,), told = fewest(
            self.pieces,
            lambda pieces: [Shell(cut_evenly(ring, pieces), seam, edges)],
            shop,
            self.may_turn(shop),
        )
        first, last = (end_note(shop, "an end", end) for end in ends)
        return shell, (*told, *first, *last)

    def _end_diameter(self, shop: Shop, end: str) -> float:
        short = float(seven_t(shop.metal.thickness)) if end == SMALL_END else 0.0
        diameter = float(self.diameter) - short / math.pi
        if diameter <= 0:
            raise CannotMake(
                "diameter",
                show_with_unit(self.diameter, shop.profile.unit),
                "leaves nothing of an end cut 7 thicknesses short",
                f"More than {show_with_unit(short / math.pi, shop.profile.unit)} would be allowed.",
            )
        return diameter

    def _run_note(self, shop: Shop, lengths: list[Fraction]) -> tuple[str, ...]:
        if len(lengths) == 1:
            return ()
        unit = shop.profile.unit
        listed = ", ".join(show(length, unit) for length in lengths)
        return (
            f"The run of {show_with_unit(self.length, unit)} is cut into {len(lengths)} joints: "
            f"{listed}.",
        )
