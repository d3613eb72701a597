"""Rectangular elbows: two cheeks, a heel and a throat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import Length, show_with_unit

from ._arcs import OFF_TRUE
from ._bend import Bend, Step
from ._body import Arrangement, first_possible
from ._elbow_limits import check_bend, check_flanges_clear
from ._fields import (
    FirstHeight,
    FirstOpening,
    FirstWidth,
    Name,
    SecondHeight,
    SecondOpening,
    SecondWidth,
    Wish,
)
from ._panels import chain
from ._shift import Room
from ._tube import SIDES, Line, Node, Tube, tube
from ._tube_body import TubeBody
from ._tube_ends import Ends, rolled_sides_receive, seam_edgings
from .base import CannotMake, Fitting, Hardware, Made, OpenEnd, Shop, Size, read_choice, register

Shape = Annotated[Literal["radius", "square"], BeforeValidator(read_choice)]
Sizes = tuple[Fraction, Fraction]

CALLED: Mapping[str, Mapping[str, str]] = {
    "flat": {"bottom": "cheek", "top": "cheek", "right": "throat", "left": "heel"},
    "riser": {"left": "cheek", "right": "cheek", "top": "throat", "bottom": "heel"},
}
"""What the sides are in an elbow seen turning to the right, and in one seen turning up."""
TWIST_WITHIN = 3 * OFF_TRUE
"""Inches a cheek may drop from one line across it to the next.

Of two flat triangles on a twisted panel the farthest lies a quarter of its warp off it; that leaves
a quarter of what is allowed for the chords of the curve.
"""


@register
class Elbow(Fitting):
    """A rectangular elbow."""

    kind: ClassVar[str] = "elbow"
    also: ClassVar[tuple[str, ...]] = ("rectangular elbow", "ell", "radius elbow")
    summary: ClassVar[str] = (
        "Turns rectangular duct through any angle: radius or square throat and heel, equal or "
        "different openings."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "18", "height": "8", "turns": "riser", "throat": "6"},
        {"width": "20", "height": "10", "throat_shape": "square", "throat": "4"},
        {"width": "16", "height": "10", "width_2": "12", "angle": "45", "neck_1": "2"},
        {"width": "14", "height": "10", "height_2": "8", "throat": "7", "end_2": "raw"},
    )
    measured: ClassVar[tuple[str, ...]] = ("width_2", "height_2", "angle", "turns", "throat")

    width: FirstWidth
    height: FirstHeight
    width_2: SecondWidth = None
    height_2: SecondHeight = None
    angle: float = Field(
        default=90.0, gt=0, le=180, allow_inf_nan=False, description="Degrees of the turn."
    )
    turns: Annotated[Literal["flat", "riser"], BeforeValidator(read_choice)] = Field(
        default="flat",
        description="The way it turns: flat, to the side, with cheeks across the width; or riser, "
        "up or down, with cheeks across the height.",
    )
    throat: Room = Field(
        default=Fraction(6),
        description="Radius of the throat; with a square throat the length of each of its legs.",
    )
    throat_shape: Shape = Field(default="radius", description="Throat: radius or square.")
    heel_shape: Shape | None = Field(
        default=None, description="Heel: radius or square; as the throat if blank."
    )
    heel_radius: Size | None = Field(
        default=None,
        description="Radius of the heel; blank for a full heel, whose straight parts are no longer "
        "than the throat's.",
    )
    neck_1: Room = Field(
        default=Fraction(0), description="Straight neck added at the first opening."
    )
    neck_2: Room = Field(
        default=Fraction(0), description="Straight neck added at the second opening."
    )
    drop: Annotated[Literal["near", "far", "both"], BeforeValidator(read_choice)] = Field(
        default="far",
        description="The cheek that drops where the openings differ across the turn: the near one "
        "(the bottom; the left one of a riser), the far one, or both alike.",
    )
    vanes: Wish = Field(
        default="auto", description="Turning vanes; auto puts them where the throat is square."
    )
    seam: Name = Field(default="pittsburgh", description="The seams along the cheeks.")
    end_1: FirstOpening = SLIP_AND_DRIVE
    end_2: SecondOpening = SLIP_AND_DRIVE

    def make(self, shop: Shop) -> Made:
        """Two cheeks, the heel and the throat."""
        ends = Ends(shop, (self.end_1, self.end_2), self._sizes())
        bend = self._bend()
        self._check_drop(bend, shop)
        check_bend(bend, shop, self.seam)
        ends.check()
        shape = self._tube(bend)
        called = self._called()
        check_flanges_clear(bend, ends, self._side("throat"))

        def make(way: Arrangement) -> TubeBody:
            return TubeBody(
                shape,
                way,
                seam_edgings(shop, self.seam),
                lambda side, opening: ends.on(shape, side, opening),
                shop.deduction,
                called,
                far_first=frozenset({self._cheeks()[1]} if self._alike() else ()),
            )

        body, notes = first_possible(
            (self._way(bend, shop),), "auto", make, shop, self.may_turn(shop)
        )
        more = tuple(self._notes(shop))
        return Made(body.pieces, body.seams(), (*notes, *more), tuple(self._vanes(bend, shop)))

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two openings."""
        first, second = self._sizes()
        return OpenEnd("end 1", self.end_1, *first), OpenEnd("end 2", self.end_2, *second)

    def _sizes(self) -> tuple[Sizes, Sizes]:
        first = self.width, self.height
        return first, (self.width_2 or self.width, self.height_2 or self.height)

    def _check_drop(self, bend: Bend, shop: Shop) -> None:
        """CannotMake where a dropping cheek has a curve on one hand and a corner on the other."""
        if self._drop() and bend.square_throat != bend.square_heel:
            column, second = ("height_2", 1) if self.turns == "flat" else ("width_2", 0)
            raise CannotMake(
                column,
                show_with_unit(self._sizes()[1][second], shop.profile.unit),
                "makes a cheek drop between a round and a square side, which no sheet follows",
                "Make throat and heel both radius or both square, or change the size in a "
                "transition.",
            )

    def _bend(self) -> Bend:
        first, second = self._sizes()
        way = 0 if self.turns == "flat" else 1
        drop = abs(first[1 - way] - second[1 - way])
        square_throat = self.throat_shape == "square"
        return Bend(
            math.radians(self.angle),
            (first[way], second[way]),
            self.throat,
            (self.neck_1, self.neck_2),
            square_throat,
            (self.heel_shape or self.throat_shape) == "square",
            self.heel_radius,
            max(1, math.ceil(float(drop) / TWIST_WITHIN)),
        )

    def _tube(self, bend: Bend) -> Tube:
        heel, throat = bend.heel_path(), bend.throat_path()
        lines: list[Line] = []
        for line in range(4):
            sides = {SIDES[line], SIDES[line - 1]}
            path = heel if self._side("heel") in sides else throat
            far = self._cheeks()[1] in sides
            lines.append(tuple(self._node(step, far) for step in path))
        return tube(lines, self._excess(bend))

    def _excess(self, bend: Bend) -> Mapping[int, float]:
        """What the true girth of heel and throat has beyond their chords, by side.

        Where a cheek drops, the facets are no rectangles and stay as long as their chords: the
        pattern is then short by less than 1/100 in.
        """
        excess: dict[int, float] = {}
        if self._drop():
            return excess
        if not bend.square_heel:
            excess[SIDES.index(self._side("heel"))] = bend.heel_arc.excess(bend.count)
        if not bend.square_throat:
            excess[SIDES.index(self._side("throat"))] = bend.throat_arc.excess(bend.count)
        return excess

    def _node(self, step: Step, far: bool) -> Node:
        """A point of the plane figure put on the near or the far cheek."""
        (u, v), place, rolled = step
        near_edge, far_edge = self._across(min(max(place - 1, 0.0), 1.0))
        across = far_edge if far else near_edge
        at = (u, v, across) if self.turns == "flat" else (across, v, u)
        return Node(at, place, rolled)

    def _across(self, share: float) -> tuple[float, float]:
        """Where the two cheeks lie at a share of the turn; the drop grows evenly with it."""
        first, second = (float(size[1 if self.turns == "flat" else 0]) for size in self._sizes())
        change = (second - first) * share
        near = {"near": -change, "far": 0.0, "both": -change / 2}[self.drop]
        return near, near + first + change

    def _cheeks(self) -> tuple[str, str]:
        """The near and the far cheek: low and high across the turn."""
        return ("bottom", "top") if self.turns == "flat" else ("left", "right")

    def _side(self, part: str) -> str:
        return next(side for side, name in CALLED[self.turns].items() if name == part)

    def _called(self) -> Mapping[str, str]:
        return CALLED[self.turns]

    def _way(self, bend: Bend, shop: Shop) -> Arrangement:
        near, far = self._cheeks()
        names = ("cheek", "cheek")
        if self._drop():
            names = {
                "near": ("drop cheek", "flat cheek"),
                "far": ("flat cheek", "drop cheek"),
                "both": ("drop cheek", "drop cheek"),
            }[self.drop]
        heel, throat = self._side("heel"), self._side("throat")
        straight = bend.square_heel and bend.square_throat
        rolled_receive = straight or rolled_sides_receive(shop, self.seam)
        return Arrangement(
            "four pieces",
            (
                chain(names[0], near),
                chain(names[1], far),
                chain("heel", heel),
                chain("throat", throat),
            ),
            (heel, throat) if rolled_receive else (near, far),
        )

    def _drop(self) -> Length:
        first, second = self._sizes()
        across = 1 if self.turns == "flat" else 0
        return abs(first[across] - second[across])

    def _alike(self) -> bool:
        """Whether it is the same from either end, so that one cheek turned over is the other."""
        first, second = self._sizes()
        return (first, self.neck_1, self.end_1) == (second, self.neck_2, self.end_2)

    def _notes(self, shop: Shop) -> Iterator[str]:
        if self._drop():
            yield (
                f"The cheek drops {show_with_unit(self._drop(), shop.profile.unit)} and is "
                "twisted: its pattern is triangulated, and the lines across it are worked in by "
                "hand."
            )
        if not self._alike():
            yield "The two cheeks are of opposite hand: bend one the other way."

    def _vanes(self, bend: Bend, shop: Shop) -> Iterator[Hardware]:
        """Vanes side by side on the line from the throat's corner to the heel's.

        That runner is cut into equal steps no wider than the profile's spacing; a vane stands on
        every mark between. Each is an arc of the profile's radius through the angle of the turn.
        """
        if self.vanes == "no" or (self.vanes == "auto" and not bend.square_throat):
            return
        rule, unit = shop.profile.vanes, shop.profile.unit
        runner = bend.diagonal
        count = max(1, math.ceil(runner / float(rule.spacing) - 1e-9) - 1)
        long = min(size[1 if self.turns == "flat" else 0] for size in self._sizes())
        girth = float(rule.radius) * bend.angle
        yield Hardware(
            "turning vane",
            count,
            f"{show_with_unit(long, unit)} long, {show_with_unit(girth, unit)} wide, rolled to "
            f"{show_with_unit(rule.radius, unit)} radius, "
            f"{show_with_unit(runner / (count + 1), unit)} apart on the runner",
        )
        yield Hardware("vane runner", 2, f"{show_with_unit(runner, unit)} long")
