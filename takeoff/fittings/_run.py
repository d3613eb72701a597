"""A run of straight rectangular duct: cut into joints, each a body of four sides."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import Length, show, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Hole

from ._body import Arrangement, broad_faces, build, choose, edge_of_opening
from ._cuboid import Cuboid
from ._panels import Body, chain
from .base import CannotMake, Made, OpenEnd, Shop

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

HolesOf = Callable[[Cuboid], Mapping[str, tuple[Hole, ...]]]


def no_holes(_joint: Cuboid) -> Mapping[str, tuple[Hole, ...]]:
    """A joint without cut-outs."""
    return {}


@dataclass(frozen=True)
class Run:
    """A run of straight duct along y.

    Attributes:
        width: of the opening, along x (in).
        height: of the opening, along z (in).
        length: of the finished run (in).
        ends: what is done to the first and to the last end.
        shop: whose sheets, brake and profile it is made with.
        turn: whether its blanks may be turned on the sheet.
        seam: along the duct.
        arrangement: of the sides over pieces; `auto` for the first possible.
        cross_break: `auto`, `yes` or `no`.
        joint: finished length of a full joint (in); None for what the profile leaves.
        holes: the cut-outs of a joint, by side, in the side's own frame.
    """

    width: Fraction
    height: Fraction
    length: Fraction
    ends: tuple[str, str]
    shop: Shop
    turn: bool
    seam: str
    arrangement: str
    cross_break: str
    joint: Fraction | None = None
    holes: HolesOf = no_holes

    def make(self) -> Made:
        """One set of pieces for every joint."""
        made = Made(())
        for number, length in enumerate(self.lengths):
            body, notes = self._joint(length, number)
            several = len(set(self.lengths)) > 1
            label = f", {show(length, self.shop.profile.unit)} joint" if several else ""
            pieces = tuple(piece.called(f"{piece.name}{label}") for piece in body.pieces)
            seams = body.seams(first=len(made.pieces))
            made = Made(made.pieces + pieces, made.seams + seams, made.notes + notes)
        inner = OpenEnd("joint", self.between, self.width, self.height)
        return replace(
            made,
            notes=(*self._note(), *dict.fromkeys(made.notes)),
            joints=(inner,) * (len(self.lengths) - 1),
        )

    @property
    def between(self) -> str:
        """What is done to the ends of the joints inside the run."""
        return self.ends[0] if self.ends[0] == self.ends[1] else SLIP_AND_DRIVE

    @cached_property
    def lengths(self) -> tuple[Fraction, ...]:
        """The finished lengths of the joints, full ones first (in)."""
        full = self.joint or self._full_joint()
        count, rest = divmod(self.length, full)
        lengths = (full,) * int(count)
        if rest and lengths and rest < SHORTEST:
            half = (full + rest) / 2
            return (*lengths[:-1], half, half)
        return (*lengths, rest) if rest else lengths

    @cached_property
    def begins(self) -> tuple[Fraction, ...]:
        """Where each joint begins along the run (in)."""
        return (Fraction(0), *accumulate(self.lengths[:-1]))

    def _full_joint(self) -> Fraction:
        """The profile's joint of flat sheet less what the ends of a joint take from it."""
        cuboid = Cuboid(self.width, self.length, self.height)
        taken: Length = Fraction(0)
        for end in self.ends:
            edgings = [self._edge(end, cuboid, side, "front") for side in SIDES]
            taken = taken + max(total_width(edging.strips) for edging in edgings)
        full = Fraction(self.shop.profile.joint.length - taken)
        if full <= 0:
            raise CannotMake(
                "end_1",
                self.ends[0],
                "takes more metal than a whole joint has",
                "Choose a narrower end or set a longer joint in the shop profile.",
            )
        return full

    def _joint(self, length: Fraction, number: int) -> tuple[Body, tuple[str, ...]]:
        origin = (Fraction(0), self.begins[number], Fraction(0))
        cuboid = Cuboid(self.width, length, self.height, origin)
        last = number == len(self.lengths) - 1
        ends = {
            "front": self.between if number else self.ends[0],
            "back": self.ends[1] if last else self.between,
        }
        holes = self.holes(cuboid)

        def across(side: str) -> Fraction:
            return self.width if side in ("bottom", "top") else self.height

        plain = [side for side in SIDES if side not in holes]
        wide = broad_faces(plain, across, self.cross_break, self.shop.profile.cross_break.over)

        def make(way: Arrangement) -> Body:
            return build(
                self.shop,
                cuboid,
                way,
                self.seam,
                lambda face, opening: self._edge(ends[opening], cuboid, face, opening),
                holes,
                wide,
            )

        return choose(
            WAYS,
            self.arrangement,
            make,
            self.shop,
            self.turn,
            lambda opening: "end_1" if opening == "front" else "end_2",
        )

    def _edge(self, end: str, cuboid: Cuboid, face: str, opening: str) -> Edging:
        column = "end_1" if end == self.ends[0] else "end_2"
        return edge_of_opening(self.shop, column, end, cuboid, face, opening)

    def _note(self) -> tuple[str, ...]:
        if len(self.lengths) == 1:
            return ()
        unit = self.shop.profile.unit
        listed = ", ".join(show(length, unit) for length in self.lengths)
        return (
            f"The run of {show_with_unit(self.length, unit)} is cut into {len(self.lengths)} "
            f"joints: {listed}.",
        )
