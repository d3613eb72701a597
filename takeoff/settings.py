"""What a shop can set: seams, ends, machines, bending, cutting and prices, each value checked.

Lengths are exact inches inside. A length is read in the `unit` of the validation context.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import (
    AfterValidator,
    Field,
)

from takeoff.codes import NO_EDITION, Conditions, editions
from takeoff.errors import nearest
from takeoff.faults import refuse
from takeoff.lengths import INCH, UNITS, Grid, Length, Unit
from takeoff.rates import Billing, Fastening, Hanger, Prices, Rates, Sealing
from takeoff.tables import Amount, Angle, Positive, ShopLength, Strip, Table, above_zero

BEND_PER_RADIUS = 0.01743
BEND_PER_THICKNESS = 0.0078
"""Per degree of bend: BA = (0.01743 R + 0.0078 T) N."""


class Seam(Table):
    """Metal added for a seam, and what its two edges are called.

    Attributes:
        pocket: added to the edge that receives, inches.
        single: added to the edge that enters, inches.
        single_curved: the same where that edge is curved, inches.
        pocket_name: what papers call the receiving edge.
        single_name: what papers call the entering edge.
        pocket_angle: degrees the brake bends the receiving strip; 0 if it stays flat.
        single_angle: degrees the brake bends the entering strip; 0 if it stays flat.
        bend_notch: width of the notch in the strip where a bend line crosses it, inches.
        sealed: whether sealant goes on it.
    """

    pocket: Strip
    single: Strip
    single_curved: Strip
    pocket_name: Annotated[str, Field(min_length=1)]
    single_name: Annotated[str, Field(min_length=1)]
    pocket_angle: Angle
    single_angle: Angle
    bend_notch: Strip
    sealed: Annotated[bool, Field(strict=True)] = True


class StripRule(Table):
    """One strip of an end treatment.

    Attributes:
        width: inches.
        angle: degrees between the strip and the metal before it: above 0 towards the inside of
            the fitting, below 0 outward, 180 or -180 folded flat.
    """

    width: Annotated[Strip, AfterValidator(above_zero)]
    angle: Angle


class EndTreatment(Table):
    """What is done to the edge of an opening.

    Attributes:
        strips: by name, in the order they follow each other outward from the opening.
        rivets_per_corner: where the treatments of two sides meet.
    """

    strips: Mapping[str, StripRule] = Field(default_factory=dict)
    rivets_per_corner: Annotated[int, Field(ge=0, le=12, strict=True)] = 0

    @property
    def allowance(self) -> Fraction:
        """Metal added beyond the opening, all strips together, inches."""
        return sum((strip.width for strip in self.strips.values()), Fraction(0))


class GridSteps(Table):
    """Steps that blank sizes are rounded up to, by the unit of the job."""

    inch: Positive
    millimetre: Positive

    def of(self, unit: Unit) -> Grid:
        """The grid for jobs in that unit."""
        return Grid(1 / (self.inch if unit == INCH else self.millimetre))


class Brake(Table):
    """The brake: inches, and whether its fingers come off."""

    length: Positive
    nose_depth: Positive
    beam_height: Positive
    fingers: Annotated[bool, Field(strict=True)]
    min_flange: Annotated[Strip, AfterValidator(above_zero)]


class Shear(Table):
    """The shear, inches.

    Attributes:
        length: its longest cut.
        min_strip: the narrowest strip that its hold-down clamps; 0 where any can be held.
    """

    length: Positive
    min_strip: ShopLength


class Joint(Table):
    """The longest straight duct that is made in one piece, inches."""

    length: Positive


class Slope(Table):
    """How far the sides of a transition or an offset may lean from the run, degrees."""

    steepest: Annotated[float, Field(gt=0, lt=90, allow_inf_nan=False)]


class Vanes(Table):
    """Turning vanes of square elbows: radius and greatest distance along the runner, inches."""

    radius: Positive
    spacing: Positive


class Round(Table):
    """How deep a crimped or smaller round end goes into the next piece, inches."""

    lap: Positive


class Branch(Table):
    """How far the entry of a branch reaches along the duct, inches."""

    entry: Positive


class Filter(Table):
    """What a filter rack is made with, inches.

    Attributes:
        undersize: what a filter is less than its nominal width and height.
        rail: how far the rails stand into the air.
        rail_base: their leg on the wall.
        cover_lap: how far the cover reaches beyond the slot.
        screw_spacing: the farthest from screw to screw.
        screw_hole: diameter of the pilot hole.
    """

    undersize: Positive
    rail: Positive
    rail_base: Positive
    cover_lap: Positive
    screw_spacing: Positive
    screw_hole: Positive


class Cleats(Table):
    """Strips that join and hang duct, inches.

    Attributes:
        drive_width: of the strip for a drive cleat, both folds in it.
        drive_fold: each fold.
        drive_tail: what it is longer than the duct's side, at either end.
        slip_leg: each of the three legs of an S slip.
        slip_gauge: the lightest gauge for an S slip.
        strap_width: of a hanger strap.
    """

    drive_width: Positive
    drive_fold: Positive
    drive_tail: ShopLength
    slip_leg: Positive
    slip_gauge: Annotated[int, Field(ge=1, le=40, strict=True)]
    strap_width: Positive


class CrossBreak(Table):
    """Sides wider than this are cross-broken, inches."""

    over: Positive


class Bend(Table):
    """How much metal a bend takes.

    Attributes:
        rule: "sharp": none, sizes simply add. "allowance": by the formula of `allowance`.
        radius: inside radius R, inches; used by the rule "allowance".
    """

    rule: Literal["sharp", "allowance"]
    radius: ShopLength

    def allowance(self, angle: float, thickness: Length) -> float:
        """Length of metal in a bend, inches: BA = (0.01743 R + 0.0078 T) N.

        Args:
            angle: N, degrees from flat, either sign.
            thickness: T, inches.
        """
        per_degree = BEND_PER_RADIUS * float(self.radius) + BEND_PER_THICKNESS * float(thickness)
        return per_degree * abs(angle)

    def deduction(self, angle: float, thickness: Length) -> Length:
        """What a bend takes off the sum of the outside sizes, inches; exactly 0 when sharp.

        BD = 2 (R + T) tan(N / 2) - BA. The outsides of a strip folded flat never meet, so for 180
        degrees its setback is R + T, measured to where the fold is tangent.

        Raises:
            ValueError: an angle of more than 180 degrees either way.
        """
        if abs(angle) > 180:
            raise ValueError(f"a bend of {angle} degrees is more than folded flat")
        if self.rule == "sharp":
            return Fraction(0)
        slope = 1.0 if abs(angle) == 180 else math.tan(math.radians(abs(angle)) / 2)
        setback = (float(self.radius) + float(thickness)) * slope
        return 2 * setback - self.allowance(angle, thickness)


def _a_gauge(name: str) -> str:
    if not (name.isascii() and name.isdigit() and 1 <= int(name) <= 40):
        raise refuse("is not a gauge", "Give a whole number, 1 to 40.")
    return name


class Cut(Table):
    """Metal lost by a cut, and trimmed off all round a sheet, inches."""

    kerf: Strip
    trim: Strip


Share = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
"""Percent."""


class Smallest(Table):
    """The smallest leftover that is kept: its shorter side in inches, its area in ft2."""

    min_side: ShopLength
    min_area_ft2: Amount


class Offcut(Smallest):
    """Which leftovers are kept.

    Attributes:
        heavy: other figures, by the lightest gauge that they hold for, heavier ones included.
    """

    heavy: Mapping[Annotated[str, AfterValidator(_a_gauge)], Smallest] = Field(default_factory=dict)

    def of(self, gauge: int) -> Smallest:
        """The smallest that is kept of a gauge: by the entry nearest to it, if one holds for it."""
        holding = [name for name in self.heavy if int(name) >= gauge]
        return self.heavy[min(holding, key=int)] if holding else self


class Room(Table):
    """The stock room, and what its metal counts when a plan chooses what to cut from.

    Attributes:
        place: a file, or the URL of a database; "" for one in the user's own folder.
        offcut_value: of an offcut from the rack, percent of what a new sheet costs for its area.
        sheet_value: of a sheet on hand, percent of its price.
    """

    place: str
    offcut_value: Share
    sheet_value: Share


class Grain(Table):
    """Whether a blank may be turned a quarter on the sheet, unless its job row says."""

    turn: Annotated[bool, Field(strict=True)]


def _known_edition(name: str) -> str:
    if name != NO_EDITION and name not in editions():
        raise refuse("is not an edition known here", nearest(name, (*editions(), NO_EDITION)))
    return name


def _known_pressure(value: float) -> float:
    if value not in (0.5, 1):
        raise refuse("is not a pressure of the tables", "Give 0.5 or 1.")
    return value


class Code(Table):
    """The code table that gauges are held against, and for what duct.

    Attributes:
        edition: short name of the table; "none" for no table.
        pressure: greatest static pressure in the duct, in w.g.: 0.5 or 1.
        place: whether the duct is enclosed in the building or exposed.
        lightest: `gauge = auto` takes no gauge lighter than this.
    """

    edition: Annotated[str, AfterValidator(_known_edition)]
    pressure: Annotated[float, AfterValidator(_known_pressure)]
    place: Literal["enclosed", "exposed"]
    lightest: Annotated[int, Field(ge=1, le=40, strict=True)]

    @property
    def conditions(self) -> Conditions:
        """What the tables are asked."""
        return Conditions(self.edition, f"{self.pressure:g}", self.place)


AirLimit = Annotated[float, Field(gt=0, allow_inf_nan=False)]


class Air(Table):
    """The limits of the air check.

    Attributes:
        supply_speed: fastest air in supply duct and openings, fpm.
        return_speed: fastest air in return duct and openings, fpm.
        filter_speed: fastest air through the face of a filter, fpm.
        friction: greatest loss in a duct, in w.g. per 100 ft.
    """

    supply_speed: AirLimit
    return_speed: AirLimit
    filter_speed: AirLimit
    friction: AirLimit


class Profile(Table):
    """Everything a shop can set. See `data/shop.toml` for each value and its source."""

    units: Literal["in", "mm"]
    grid: GridSteps
    seams: Mapping[str, Seam]
    ends: Mapping[str, EndTreatment]
    brake: Brake
    shear: Shear
    joint: Joint
    slope: Slope
    vanes: Vanes
    round: Round
    branch: Branch
    filter: Filter
    cleats: Cleats
    cross_break: CrossBreak
    bend: Bend
    cut: Cut
    offcut: Offcut
    room: Room
    grain: Grain
    fastening: Fastening
    sealing: Sealing
    hangers: Mapping[str, Hanger]
    prices: Prices
    rates: Rates
    bill: Billing
    code: Code
    air: Air

    @property
    def unit(self) -> Unit:
        """The unit that bare numbers are read and sizes are shown in."""
        return UNITS[self.units]
