"""Offsets: rectangular duct shifted parallel to itself."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field

from takeoff.edges import SLIP_AND_DRIVE
from takeoff.lengths import show_with_unit

from ._body import Arrangement, first_possible
from ._fields import CornerSeam, FirstOpening, SecondOpening, TubeArrangement, Wish, two_ends
from ._ogee import Ogee
from ._panels import chain
from ._shift import Room, Shift
from ._tapered import Opening, Taper, make_tapered, round_up
from ._tube import SIDES
from ._tube_body import TubeBody
from ._tube_ends import Ends, cheek_strip, rolled_sides_receive, seam_edgings
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, read_choice, register


@register
class Offset(Fitting):
    """A parallel shift of the duct."""

    kind: ClassVar[str] = "offset"
    also: ClassVar[tuple[str, ...]] = ("duct offset", "rectangular offset", "ogee offset")
    summary: ClassVar[str] = (
        "Shifts rectangular duct parallel to itself, in one axis or two, with a radius or angled."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "14", "height": "8", "length": "24", "offset_side": "6", "shape": "radius"},
        {"width": "20", "height": "8", "length": "30", "offset_up": "-6"},
        {
            "width": "12",
            "height": "10",
            "length": "36",
            "offset_side": "6",
            "offset_up": "4",
            "shape": "radius",
            "seam": "lap",
        },
    )
    measured: ClassVar[tuple[str, ...]] = ("offset_side", "offset_up", "shape")

    width: Size = Field(description="Width of the duct.")
    height: Size = Field(description="Height of the duct.")
    length: Size = Field(description="Length over all along the run, necks included.")
    offset_side: Shift = Field(
        default=Fraction(0), description="How far it shifts to the right; minus for the left."
    )
    offset_up: Shift = Field(
        default=Fraction(0), description="How far it shifts upward; minus for down."
    )
    shape: Annotated[Literal["angled", "radius"], BeforeValidator(read_choice)] = Field(
        default="angled",
        description="Angled, with flat slanting sides, or radius, with two arcs.",
    )
    throat: Size | None = Field(
        default=None,
        description="Radius of the throats of a radius offset in one axis, of the centre line in "
        "two; blank for the largest.",
    )
    neck_1: Room = Field(
        default=Fraction(1), description="Length of the straight neck at the first opening."
    )
    neck_2: Room = Field(
        default=Fraction(1), description="Length of the straight neck at the second opening."
    )
    arrangement: TubeArrangement = "auto"
    seam: CornerSeam = "pittsburgh"
    end_1: FirstOpening = SLIP_AND_DRIVE
    end_2: SecondOpening = SLIP_AND_DRIVE
    cross_break: Wish = Field(
        default="auto",
        description="Whether the flat panels of an angled offset are cross-broken; auto by the "
        "profile's width.",
    )

    def make(self, shop: Shop) -> Made:
        """Its panels."""
        if not self.offset_side and not self.offset_up:
            raise CannotMake(
                "offset_side", "0", "shifts nothing", "Give an offset, or ask for straight duct."
            )
        size = self.width, self.height
        ends = Ends(shop, (self.end_1, self.end_2), (size, size))
        if self.shape == "radius":
            return self._radius(ends)
        taper = Taper(
            Opening(*size),
            Opening(*size, (self.offset_side, self.length, self.offset_up)),
            (self.neck_1, self.neck_2),
            ("neck_1", "neck_2"),
        )
        return make_tapered(
            taper, ends, self.seam, self.arrangement, self.cross_break, self.may_turn(shop)
        )

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two openings."""
        return two_ends((self.end_1, self.end_2), self.width, self.height)

    def _radius(self, ends: Ends) -> Made:
        shop = ends.shop
        ogee = self._ogee()
        ends.check()
        self._check(ogee, shop)
        shape = ogee.tube()

        def make(way: Arrangement) -> TubeBody:
            return TubeBody(
                shape,
                way,
                seam_edgings(shop, self.seam),
                lambda side, opening: ends.on(shape, side, opening),
                shop.deduction,
            )

        rolled = ogee.two_axes or rolled_sides_receive(shop, self.seam)
        way, turn = _four_pieces(ogee, rolled), self.may_turn(shop)
        body, notes = first_possible((way,), self.arrangement, make, shop, turn)
        return Made(body.pieces, body.seams(), (*notes, *self._notes(ogee, shop)))

    def _ogee(self) -> Ogee:
        shift = self.offset_side, self.offset_up
        size = self.width, self.height
        within = Fraction(0) if all(shift) else size[0 if shift[0] else 1] / 2
        radius = None if self.throat is None else self.throat + within
        return Ogee(size, shift, self.length, (self.neck_1, self.neck_2), radius)

    def _check(self, ogee: Ogee, shop: Shop) -> None:
        unit = shop.profile.unit
        if self.arrangement not in ("auto", "four sides"):
            raise CannotMake(
                "arrangement",
                self.arrangement,
                "cannot be bent along a curved corner",
                "Ask for four sides, or an angled offset.",
            )
        if ogee.run <= 0:
            raise CannotMake(
                "neck_1" if self.neck_1 >= self.neck_2 else "neck_2",
                show_with_unit(max(self.neck_1, self.neck_2), unit),
                f"leaves no room in a piece {show_with_unit(self.length, unit)} long",
                "Make it longer or the necks shorter.",
            )
        self._check_steepness(ogee, shop)
        if ogee.radius is not None and ogee.radius > ogee.largest_radius + 1e-9:
            most = ogee.largest_radius - float(ogee.radius - (self.throat or 0))
            raise CannotMake(
                "throat",
                show_with_unit(self.throat or 0, unit),
                "is a larger radius than the length leaves room for",
                f"Up to {show_with_unit(math.floor(most * 16) / 16, unit)}.",
            )

    def _check_steepness(self, ogee: Ogee, shop: Shop) -> None:
        """The length that the throat radius needs, or the slope that a moved section may have.

        Two arcs that meet lean 2 atan(s / L) at the middle, and have L2 + s2 = 4 R s.
        """
        unit, shift = shop.profile.unit, ogee.sideways
        if ogee.two_axes:
            steepest = math.radians(shop.profile.slope.steepest)
            needed = shift / math.tan(steepest / 2)
            why = f"makes the sides lean more than {shop.profile.slope.steepest:g} degrees"
            fits = ogee.angle <= steepest + 1e-9
        else:
            strip = float(cheek_strip(shop, self.seam))
            least = max(float(self.throat or 0), strip) + ogee.across / 2
            needed = math.sqrt(max(4 * least * shift - shift**2, shift**2))
            why = "is too short for the arcs of so large an offset"
            fits = ogee.run >= needed and ogee.centre_radius - ogee.across / 2 > strip
        if not fits:
            allowed = round_up(needed + 1 / 64) + self.neck_1 + self.neck_2
            raise CannotMake(
                "length",
                show_with_unit(self.length, unit),
                why,
                f"Make it {show_with_unit(allowed, unit)} or longer.",
            )

    def _notes(self, ogee: Ogee, shop: Shop) -> Iterator[str]:
        unit = shop.profile.unit
        if ogee.two_axes:
            yield (
                "All four corners are curved: the lock former cannot run these pockets, turn them "
                "by hand or choose a lap."
            )
            return
        throat = show_with_unit(ogee.centre_radius - ogee.across / 2, unit)
        heel = show_with_unit(ogee.centre_radius + ogee.across / 2, unit)
        yield f"Throats are struck to {throat} radius and heels to {heel}."
        yield "The two cheeks are of opposite hand: bend one the other way."


def _four_pieces(ogee: Ogee, rolled_receive: bool) -> Arrangement:
    """The rolled sides or the cheeks take the pockets; where all are rolled, left and right do."""
    if ogee.two_axes:
        return Arrangement(
            "four sides", tuple(chain(side, side) for side in SIDES), ("left", "right")
        )
    cheeks = ("bottom", "top") if ogee.axis == 0 else ("left", "right")
    wraps = tuple(side for side in SIDES if side not in cheeks)
    return Arrangement(
        "four sides",
        (*(chain("cheek", side) for side in cheeks), *(chain(side, side) for side in wraps)),
        wraps if rolled_receive else cheeks,
    )
