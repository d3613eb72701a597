"""Round caps: a disc with its edge turned, or a disc with a collar."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import entering, receiving
from takeoff.lengths import show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.develop import Layout, develop
from takeoff.pattern.edging import RAW, Edging
from takeoff.pattern.facets import Piece
from takeoff.pattern.patches import Patch

from ._body import find_seam
from ._circle import Axis, divisions
from ._fields import Name
from ._flange import level, lying_on
from ._level import turned
from ._round import bent, check_pieces, closing, cut_evenly, fewest
from ._round_ends import CRIMP, along_rim, end_note, lap_of, rim_edging, rolled, round_edging
from ._shell import Placed, Ring, Shell, joined, staves
from .base import Fitting, Made, OpenEnd, Shop, Size, read_choice, register

DISC = "disc"
WIDEST_EDGE = 1
"""Inches; a wider edge of a disc does not turn without puckering. Common practice, no source."""


@register
class RoundCap(Fitting):
    """A cap that closes the end of round pipe."""

    kind: ClassVar[str] = "round cap"
    also: ClassVar[tuple[str, ...]] = ("pipe cap", "round end cap")
    summary: ClassVar[str] = "A disc that closes round pipe, its edge turned or with a collar."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"diameter": "8"},
        {"diameter": "6", "collar": "2"},
        {"diameter": "14", "flange": "3/4"},
        {"diameter": "10", "collar": "3", "joint": "lap", "end_1": "hem"},
    )

    diameter: Size = Field(description="Diameter of the pipe it closes.")
    collar: Size | None = Field(
        default=None, description="Length of a collar round the disc; blank for a turned edge."
    )
    edge: Name = Field(
        default="flange in", description="What is done to the disc's edge where it has no collar."
    )
    flange: Annotated[Size, Field(le=WIDEST_EDGE)] = Field(
        default=Fraction(1, 2), description="How far the disc's edge is turned."
    )
    joint: Annotated[Literal["paned", "lap"], BeforeValidator(read_choice)] = Field(
        default="paned", description="The seam from disc to collar."
    )
    seam: Name = Field(default="grooved", description="The seam along the collar.")
    end_1: Name = Field(default=CRIMP, description="What is done to the free edge of the collar.")

    def make(self, shop: Shop) -> Made:
        """The disc, and its collar where it has one."""
        count = divisions(self.diameter)
        rim = Axis().ring(self.diameter, count, 0.0)
        disc = Patch(DISC, rim[::-1])
        if self.collar is None:
            edging = self._turned_edge(shop)
            piece = self._disc(shop, disc, edging)
            return Made((piece,), (), (self._disc_note(shop, edging),))
        return self._with_collar(shop, disc, count)

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The side with which it closes a pipe."""
        treatment = self.edge if self.collar is None else self.end_1
        return (OpenEnd("edge", treatment, diameter=self.diameter),)

    def _turned_edge(self, shop: Shop) -> Edging:
        edging = round_edging(shop, "edge", self.edge)
        if not edging.strips:
            return edging
        first, *others = edging.strips
        return replace(edging, strips=(replace(first, width=self.flange), *others))

    def _with_collar(self, shop: Shop, disc: Patch, count: int) -> Made:
        assert self.collar is not None
        rule = find_seam(shop, self.joint)
        on_disc, on_collar = RAW, rolled(receiving(rule))
        if rule.single:
            # The double edge lies in the disc's plane until it is turned over the throw-off.
            on_disc, on_collar = bent(rolled(receiving(rule)), 0), rolled(entering(rule))
        top = float(self.collar + lap_of(shop, self.end_1))
        ring = staves("collar", disc.corners[::-1], Axis().ring(self.diameter, count, top))
        rims = {
            **lying_on(ring, ring.lower, on_collar, level),
            **along_rim(ring.upper, rim_edging(shop, "end_1", self.end_1, self.diameter)),
        }
        (shell,), told = fewest(
            None,
            lambda pieces: [Shell(cut_evenly(ring, pieces), closing(shop, self.seam), rims)],
            shop,
            self.may_turn(shop),
        )
        floor = Placed(_rim_of(disc), 0, "upper")
        wall = Placed(shell.ring, 1, "lower")
        halves = (floor, wall) if rule.single else (wall, floor)
        return Made(
            (self._disc(shop, disc, on_disc), *shell.pieces),
            (*joined(self.joint, *halves), *shell.seams(1)),
            (*told, self._disc_note(shop, on_disc), *end_note(shop, "the collar", self.end_1)),
        )

    def _disc(self, shop: Shop, disc: Patch, edging: Edging) -> Piece:
        laid = develop(Layout(DISC, (disc,), {}, edging=lambda *_: edging))
        # Corners and not flats face the sides of the blank, so that the true disc is cut from it.
        piece = turned(laid, math.pi / len(disc.corners))
        check_pieces((piece,), shop, self.may_turn(shop), "diameter", self.diameter)
        return piece

    def _disc_note(self, shop: Shop, edging: Edging) -> str:
        unit = shop.profile.unit
        across = show_with_unit(self.diameter + 2 * total_width(edging.strips), unit)
        if not edging.strips:
            return f"Cut the disc {across} across."
        inner = show_with_unit(self.diameter, unit)
        return f"Cut the disc {across} across and scribe its edge at {inner} across."


def _rim_of(disc: Patch) -> Ring:
    """The disc's edges in order round the axis, as an upper rim."""
    count = len(disc.corners)
    edges = tuple((disc.name, (count - 2 - i) % count) for i in range(count))
    return Ring(disc.name, (disc,), (), edges)
