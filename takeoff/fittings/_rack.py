"""A rack in a straight duct for a filter that slides in from one side.

The duct runs along y. The filter stands across it between pairs of rails on the two sides beside
the slot and on the side opposite. A rail is an angle: its base lies on the duct, away from the
filter, and takes the screws, so that no screw comes near the track or the slot.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from takeoff.lengths import Length, show, show_with_unit
from takeoff.pattern.allowances import Strip
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Hole, Piece, Point3, Role

from ._body import Arrangement, build, find_end
from ._cuboid import Cuboid
from ._panels import chain
from ._rail import INWARD, OPPOSITE, Rail, in_side, round_hole
from ._strips import Profile, bent_strip
from .base import CannotMake, Hardware, Shop


@dataclass(frozen=True)
class Rack:
    """The rack: a nominal filter of the duct's inside size in a slot across the duct.

    Attributes:
        duct: the whole duct, its run from y = 0 (in).
        middle: of the filter along the run (in).
        thickness: nominal, the width of the track and the slot (in).
        slot: the side that the filter slides in from.
        shop: whose filter settings are used.
        column: the field that says where the rack is.
    """

    duct: Cuboid
    middle: Fraction
    thickness: Fraction
    slot: str
    shop: Shop
    column: str

    @property
    def track(self) -> tuple[Fraction, Fraction]:
        """Where the filter's faces stand along the run (in)."""
        return self.middle - self.thickness / 2, self.middle + self.thickness / 2

    @property
    def reach(self) -> tuple[Fraction, Fraction]:
        """The stretch of the run that rails and cover take up (in)."""
        rule = self.shop.profile.filter
        out = max(rule.rail_base, rule.cover_lap)
        return self.track[0] - out, self.track[1] + out

    @property
    def slot_height(self) -> Fraction:
        """Length of the slot across its side: midway between filter and duct, nearer the filter.

        A filter is `undersize` less than nominal; the slot is three quarters of that less.
        """
        return self._across(self.slot) - self.shop.profile.filter.undersize * 3 / 4

    def check(self) -> None:
        """CannotMake where the filter would fall out of its rails or the rack lies off the run."""
        rule, unit = self.shop.profile.filter, self.shop.profile.unit
        if rule.rail <= rule.undersize:
            raise CannotMake(
                "filter.rail",
                show_with_unit(rule.rail, unit),
                "does not hold a filter that lies against the other rail",
                f"Set more than {show_with_unit(rule.undersize, unit)} in the shop profile.",
            )
        for name, size in (("width", self.duct.width), ("height", self.duct.height)):
            if size <= 2 * rule.rail + rule.undersize:
                raise CannotMake(
                    name,
                    show_with_unit(size, unit),
                    "leaves no air between the rails",
                    f"Give more than {show_with_unit(2 * rule.rail + rule.undersize, unit)}.",
                )
        low, high = self.reach
        if low < 0 or high > self.duct.depth:
            least, most = self.middle - low, self.duct.depth - (high - self.middle)
            allowed = (
                f"Give {show_with_unit(least, unit)} to {show_with_unit(most, unit)}."
                if self.column != "length" and least <= most
                else f"Make the duct {show_with_unit(high - low, unit)} long or longer."
            )
            value = self.duct.depth if self.column == "length" else self.middle
            raise CannotMake(
                self.column, show_with_unit(value, unit), "leaves no room for the rack", allowed
            )

    def holes(self, joint: Cuboid) -> Mapping[str, tuple[Hole, ...]]:
        """The slot and the screw holes of a joint of the duct, each in its side's own frame."""
        low = joint.origin[1]
        if not low < self.middle < low + joint.depth:
            return {}
        places: dict[str, list[Hole]] = {side: [] for side in INWARD}
        places[self.slot].append(self._slot(joint))
        for rail in self.rails():
            places[rail.side] += [self._screw(joint, rail.side, p) for p in self.screws(rail)]
        places[self.slot] += [self._screw(joint, self.slot, p) for p in self.cover_screws()]
        return {side: tuple(holes) for side, holes in places.items() if holes}

    def rails(self) -> tuple[Rail, ...]:
        """Two rails on each of three sides; those opposite the slot fit between the others."""
        return tuple(self._rails())

    def pieces(self) -> tuple[Piece, ...]:
        """The rails and the cover, in their places in the duct."""
        return (*(self._rail_piece(rail) for rail in self.rails()), self._cover())

    def hardware(self) -> tuple[Hardware, ...]:
        """The filter, and a screw for each hole."""
        unit = self.shop.profile.unit
        screws = sum(len(self.screws(rail)) for rail in self.rails())
        size = " x ".join(
            show(x, unit) for x in (self.duct.width, self.duct.height, self.thickness)
        )
        return (
            Hardware("filter", 1, f"nominal {size}"),
            Hardware("sheet metal screw", screws, "for the rails"),
            Hardware("sheet metal screw", len(self.cover_screws()), "for the cover"),
        )

    def screws(self, rail: Rail) -> tuple[Point3, ...]:
        """Where a rail is screwed: along the middle of its base."""
        across = self.shop.profile.filter.rail_base / 2
        return tuple(rail.at((across, step, 0)) for step in self._steps(rail.length))

    def cover_screws(self) -> tuple[Point3, ...]:
        """Where the cover is screwed: in its laps on both sides of the slot, inside the hems."""
        rule = self.shop.profile.filter
        out = (rule.cover_lap - self._hem) / 2
        long = self._across(self.slot)
        return tuple(
            self._on_slot_side(y, step)
            for y in (self.track[0] - out, self.track[1] + out)
            for step in self._steps(long)
        )

    @property
    def _hem(self) -> Length:
        return find_end(self.shop, "end_1", "hem").allowance

    def _across(self, side: str) -> Fraction:
        """How wide a side of the duct is (in)."""
        return Fraction(self.duct.width if side in ("bottom", "top") else self.duct.height)

    def _steps(self, length: Length) -> list[Fraction]:
        """Places along a length, an inch from its ends, no farther apart than the profile says."""
        margin = min(Fraction(1), Fraction(length) / 4)
        between = Fraction(length) - 2 * margin
        count = max(1, math.ceil(between / self.shop.profile.filter.screw_spacing))
        return [margin + between * i / count for i in range(count + 1)]

    def _rails(self) -> Iterator[Rail]:
        rule = self.shop.profile.filter
        far = OPPOSITE[self.slot]
        sides = [side for side in INWARD if side not in (self.slot, far)]
        for side in (*sides, far):
            short = side == far
            length = self._across(side) - (2 * rule.rail if short else 0)
            begin = rule.rail if short else Fraction(0)
            for edge, toward in zip(self.track, (1, -1), strict=True):
                rail = Rail("stop rail" if short else "rail", side, (0, 0, 0), toward, length)
                forwards = sum(rail.along) > 0
                start = begin if forwards else self._across(side) - begin
                y = edge - toward * rule.rail_base
                yield replace(rail, origin=self._on_side(side, y, start))

    def _on_side(self, side: str, y: Length, along: Length) -> Point3:
        """A point of a side, by its place along the run and along x or z."""
        width, height = self.duct.width, self.duct.height
        if side in ("bottom", "top"):
            return along, y, height if side == "top" else Fraction(0)
        return (width if side == "right" else Fraction(0)), y, along

    def _on_slot_side(self, y: Length, along: Length) -> Point3:
        return self._on_side(self.slot, y, along)

    def _rail_piece(self, rail: Rail) -> Piece:
        rule = self.shop.profile.filter
        profile = Profile((rule.rail_base, rule.rail), (90.0,))
        flat = bent_strip(rail.name, profile, rail.length, self.shop)
        across = rule.rail_base / 2
        holes = tuple(
            round_hole("leg 1", (across, step), rule.screw_hole, "screw")
            for step in self._steps(rail.length)
        )
        finished = {
            name: tuple(rail.at(point) for point in corners)
            for name, corners in flat.finished.items()
        }
        return replace(flat, holes=holes, finished=finished)

    def _cover(self) -> Piece:
        """A panel over the slot: hemmed beside it, turned down over the two sides next to it."""
        rule = self.shop.profile.filter
        low, high = self.track[0] - rule.cover_lap, self.track[1] + rule.cover_lap
        place = replace(
            self.duct,
            depth=high - low,
            origin=(self.duct.origin[0], self.duct.origin[1] + low, self.duct.origin[2]),
        )
        hem = Strip(self._hem, -180, "hem", Role.END)
        turned = Strip(rule.cover_lap, 90, "flange", Role.END)

        def edge(_face: str, opening: str) -> Edging:
            beside = opening in ("front", "back")
            return Edging((hem if beside else turned,), name="hem" if beside else "flange")

        way = Arrangement("one piece", (chain("cover", self.slot),), ())
        holes = tuple(self._screw(place, self.slot, point) for point in self.cover_screws())
        seam = next(iter(self.shop.profile.seams))
        body = build(self.shop, place, way, seam, edge, {self.slot: holes}, frozenset())
        (piece,) = body.pieces
        return piece

    def _slot(self, joint: Cuboid) -> Hole:
        across = self._across(self.slot)
        low, high = (across - self.slot_height) / 2, (across + self.slot_height) / 2
        near, far = self.track
        corners = ((near, low), (far, low), (far, high), (near, high))
        points = tuple(in_side(joint, self.slot, self._on_slot_side(*c)) for c in corners)
        unit = self.shop.profile.unit
        label = f"slot {show(self.thickness, unit)} x {show(self.slot_height, unit)}"
        return Hole(self.slot, points, label)

    def _screw(self, joint: Cuboid, side: str, point: Point3) -> Hole:
        hole = self.shop.profile.filter.screw_hole
        return round_hole(side, in_side(joint, side, point), hole, "screw")
