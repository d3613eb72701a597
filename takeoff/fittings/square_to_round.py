"""Square to round: from any rectangle to any circle, offset in both axes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import ClassVar

from pydantic import Field

from takeoff.edges import SLIP_AND_DRIVE, slip_or_drive
from takeoff.pattern.allowances import Trim
from takeoff.pattern.edging import Edging, sloped

from ._circle import divisions
from ._collar import RoundEnd, finish
from ._fields import LengthOverAll, Name, PiecesRound
from ._flange import level, lying_on
from ._quarters import SIDES, Quarters
from ._round import (
    between_collars,
    check_slope,
    closing,
    coarse_note,
    fewest,
    lapped,
    seams_of,
)
from ._round_ends import square_edging
from ._shell import Closing, EdgeName, Ring, Shell
from ._shift import Room, Shift
from .base import Fitting, Made, OpenEnd, Shop, Size, register

RELIEF = 0.1
"""Inches a strip is cut back at a corner of the square end for each inch of its width, at least."""


@register
class SquareToRound(Fitting):
    """A transition from a rectangular to a round opening."""

    kind: ClassVar[str] = "square to round"
    also: ClassVar[tuple[str, ...]] = ("rectangle to round", "round to square")
    summary: ClassVar[str] = (
        "From a rectangle to a circle, offset either way, in up to four pieces."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "16", "diameter": "14", "length": "12"},
        {
            "width": "14",
            "height": "8",
            "diameter": "8",
            "length": "10",
            "offset_side": "2",
            "offset_up": "-1",
            "pieces": "2",
            "collar_1": "1 1/2",
            "end_2": "crimp",
        },
        {
            "width": "12",
            "height": "12",
            "diameter": "12",
            "length": "9",
            "divisions": "4",
            "pieces": "4",
            "end_1": "flange out",
            "collar_2": "2",
        },
    )
    measured: ClassVar[tuple[str, ...]] = ("offset_side", "offset_up")

    width: Size = Field(description="Width of the rectangular opening.")
    height: Size = Field(description="Height of the rectangular opening.")
    diameter: Size = Field(description="Inside diameter of the round opening.")
    length: LengthOverAll
    offset_side: Shift = Field(
        default=Fraction(0),
        description="How far the round centre lies to the right of the rectangle's; minus for the "
        "left.",
    )
    offset_up: Shift = Field(
        default=Fraction(0),
        description="How far the round centre lies above the rectangle's; minus for below.",
    )
    divisions: int | None = Field(
        default=None,
        ge=2,
        le=60,
        description="Parts of each quarter of the circle, so bends in each corner; blank for what "
        "keeps the flats within 1/64 in of the round.",
    )
    pieces: PiecesRound = None
    collar_1: Room = Field(
        default=Fraction(0), description="Length of the straight collar on the square end."
    )
    collar_2: Room = Field(
        default=Fraction(0), description="Length of the straight collar on the round end."
    )
    seam: Name = Field(default="grooved", description="The seams, down the middle of flat sides.")
    end_1: Name = Field(default=SLIP_AND_DRIVE, description="What is done to the square end.")
    end_2: Name = Field(default="raw", description="What is done to the round end.")

    def make(self, shop: Shop) -> Made:
        """The body, and its collars where it has them."""
        parts = self.divisions or divisions(self.diameter) // 4
        shape = Quarters(
            self.width,
            self.height,
            self.diameter,
            between_collars(shop, self.length, self.collar_1, self.collar_2),
            (self.offset_side, self.offset_up),
            parts,
        )
        self._check(shop, shape)
        seam, turn = closing(shop, self.seam), self.may_turn(shop)
        whole = shape.body(1)
        ends = finish(shop, whole, 0, seam, (self._round_end(shape),), turn, 0)
        made, told = fewest(
            self.pieces,
            lambda pieces: self._shells(shop, shape, seam, pieces, ends.rims),
            shop,
            turn,
        )
        joints = [(k, len(made) + mine, rim, 0, its) for k, mine, rim, _, its in ends.joints]
        if self.collar_1:
            joints.append(("lap", 1, "upper", 0, "lower"))
        pieces, seams = seams_of((*made, *ends.collars), joints)
        notes = (
            *told,
            *ends.notes,
            *coarse_note(shop, self.diameter, 4 * parts),
            *self._drive_note(),
        )
        return Made(pieces, seams, tuple(dict.fromkeys(notes)))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The rectangular and the round end."""
        return (
            OpenEnd("square end", self.end_1, self.width, self.height),
            OpenEnd("round end", self.end_2, diameter=self.diameter),
        )

    def _round_end(self, shape: Quarters) -> RoundEnd:
        return RoundEnd(
            "end_2", "the round end", self.end_2, self.diameter, shape.axis, "upper", self.collar_2
        )

    def _shells(
        self,
        shop: Shop,
        shape: Quarters,
        seam: Closing,
        pieces: int,
        rims: Mapping[EdgeName, Edging],
    ) -> list[Shell]:
        """The body and the square collar, in so many pieces each."""
        body = shape.body(pieces)
        if not self.collar_1:
            square = self._square_edges(shop, body)
            return [Shell(body, seam, {**rims, **square}, trims=_corner_trims(shape, body, square))]
        collar = shape.collar(pieces, float(self.collar_1))
        edges = {
            **self._square_edges(shop, collar),
            **lapped(shop, collar, "upper", body, "lower"),
        }
        return [Shell(body, seam, rims), Shell(collar, seam, edges, shop.deduction)]

    def _square_edges(self, shop: Shop, ring: Ring) -> dict[EdgeName, Edging]:
        """What the edges of the square end carry: with slip and drive, drive on the short sides."""
        edges: dict[EdgeName, Edging] = {}
        for name, edge in ring.lower:
            end = self.end_1
            if end == SLIP_AND_DRIVE:
                upright = name.startswith(("right", "left"))
                sides = (self.height, self.width) if upright else (self.width, self.height)
                end = slip_or_drive(*sides, upright)
            edging = square_edging(shop, "end_1", end)
            edges |= lying_on(ring, [(name, edge)], edging, level)
        return edges

    def _check(self, shop: Shop, shape: Quarters) -> None:
        runs = shape.runs()
        steepest = max(range(4), key=lambda side: runs[side])
        collars, what = self.collar_1 + self.collar_2, f"the {SIDES[steepest]} side"
        check_slope(shop, self.length, collars, runs[steepest], what)

    def _drive_note(self) -> tuple[str, ...]:
        if self.end_1 not in (SLIP_AND_DRIVE, "drive") or self.collar_1:
            return ()
        return (
            "The drive edges lie on slanting sides; a collar_1 gives the cleats straight metal.",
        )


def _corner_trims(
    shape: Quarters, body: Ring, edges: Mapping[EdgeName, Edging]
) -> Callable[[str, int, bool], Sequence[Trim] | None]:
    """How the strips of the square end give way at its corners, where rolled lines meet.

    Each is cut by its own slope, by half of the angle the flat edge turns in, and by the relief.
    """
    ends: dict[tuple[str, int, bool], int] = {}
    for side, name in enumerate(SIDES):
        along = [edge for edge in body.lower if edge[0].startswith(f"{name} side")]
        ends[(*along[0], True)] = side - 1
        ends[(*along[-1], False)] = side

    def trims(patch: str, edge: int, at_start: bool) -> Sequence[Trim] | None:
        corner = ends.get((patch, edge, at_start))
        if corner is None or (patch, edge) not in edges:
            return None
        edging = edges[patch, edge]
        inward = math.tan(math.radians(-shape.flat_turn(corner % 4)) / 2)
        return sloped(edging.strips, max(float(edging.slope), inward + RELIEF, RELIEF))

    return trims
