"""Round elbows of gores: pipe cut on the mitre, the seams in turn in the throat and the back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, ClassVar

from pydantic import Field

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.edging import Edging
from takeoff.plural import many

from ._circle import Curve, divisions
from ._fields import FirstEnd, InsideDiameter, LastEnd, Name, two_ends
from ._flange import lying_on
from ._least import at_least
from ._mitre import Mitre
from ._round import Joint, closing, cut_evenly, fewest, seams_of, turned
from ._round_ends import CRIMP, along_rim, end_note, lap_of, rim_edging
from ._shell import Closing, EdgeName, Ring, Shell, staves
from ._shift import Room
from .base import CannotMake, Fitting, Made, OpenEnd, Shop, Size, register

SMALL = 16
"""Inches; up to this diameter the first column of the table below holds, above it the second."""
FEWEST_PIECES: Mapping[int, tuple[int, int]] = {
    15: (2, 2),
    30: (3, 3),
    45: (3, 4),
    60: (4, 5),
    90: (5, 6),
}
"""Fewest pieces by angle: Unified Facilities Guide Specification 15801N."""
STEEPEST_MITRE = 45.0
"""Degrees; a piece cut steeper than this turns the air more than a square elbow does."""
LEAST_THROAT = Fraction(1, 4)
"""Inches of metal left in the throat of a piece. Common practice, no source."""


@register
class GoredElbow(Fitting):
    """A round elbow."""

    kind: ClassVar[str] = "gored elbow"
    also: ClassVar[tuple[str, ...]] = ("round elbow", "segmented elbow")
    summary: ClassVar[str] = "A round elbow of gores at any angle, the two end pieces half gores."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"diameter": "8", "angle": "90"},
        {"diameter": "4", "angle": "60", "gores": "3", "centreline_radius": "8"},
        {"diameter": "12", "angle": "45", "neck_1": "2", "neck_2": "2", "end_1": "flange out"},
        {"diameter": "6", "angle": "30", "gores": "1", "centreline_radius": "9"},
    )
    measured: ClassVar[tuple[str, ...]] = ("angle", "centreline_radius")

    diameter: InsideDiameter
    angle: Annotated[float, Field(gt=0, le=180)] = Field(
        default=90, description="Degrees the elbow turns."
    )
    gores: int | None = Field(
        default=None,
        ge=1,
        le=24,
        description="Number of gores, the two half gores at the ends counted as one, so one less "
        "than the pieces; blank for the fewest published for the angle and the diameter.",
    )
    centreline_radius: Size | None = Field(
        default=None, description="Radius of the bend on its centreline; blank for 1 1/2 diameters."
    )
    neck_1: Room = Field(default=Fraction(0), description="Straight length at the first end.")
    neck_2: Room = Field(default=Fraction(0), description="Straight length at the last end.")
    pieces: int | None = Field(
        default=None,
        ge=1,
        le=2,
        description="How many pieces go round in each gore; blank for the fewest that the sheets "
        "can take.",
    )
    seam: Name = Field(default="grooved", description="The seam along each piece.")
    joint: Name = Field(default="paned", description="The seam from gore to gore.")
    end_1: FirstEnd = "raw"
    end_2: LastEnd = CRIMP

    def make(self, shop: Shop) -> Made:
        """The pieces from end to end."""
        self._check(shop)
        count = divisions(self.diameter, self._mitre().height)
        seam, joint = closing(shop, self.seam), turned(closing(shop, self.joint, "joint"))
        gores = [self._gore(shop, number, count) for number in range(self.joints + 1)]

        def make(pieces: int) -> list[Shell]:
            return [
                self._shell(shop, ring, number, pieces, seam, joint)
                for number, ring in enumerate(gores)
            ]

        shells, told = fewest(self.pieces, make, shop, self.may_turn(shop))
        links: list[Joint] = [
            (self.joint, number, "upper", number + 1, "lower") for number in range(self.joints)
        ]
        pieces, seams = seams_of(shells, links)
        notes = (
            self._note(shop),
            *told,
            *end_note(shop, "the first end", self.end_1),
            *end_note(shop, "the last end", self.end_2),
        )
        return Made(pieces, seams, notes)

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its two ends."""
        return two_ends((self.end_1, self.end_2), diameter=self.diameter)

    @property
    def joints(self) -> int:
        """The mitred joints, as many as gores."""
        return self.gores or fewest_gores(self.diameter, self.angle)

    @property
    def radius(self) -> Length:
        """Of the centreline (in)."""
        return self.centreline_radius or self.diameter * Fraction(3, 2)

    def _mitre(self) -> Mitre:
        return Mitre(float(self.diameter), float(self.radius), self.angle / 2 / self.joints)

    def _check(self, shop: Shop) -> None:
        unit = shop.profile.unit
        mitre = self._mitre()
        if mitre.degrees > STEEPEST_MITRE + 1e-9:
            least = math.ceil(self.angle / 2 / STEEPEST_MITRE - 1e-9)
            raise CannotMake(
                "gores",
                str(self.joints),
                f"cuts the pieces at {mitre.degrees:g} degrees, steeper than 45",
                f"{least} or more would be allowed.",
            )
        if self.radius * 2 < self.diameter:
            raise CannotMake(
                "centreline_radius",
                show_with_unit(self.radius, unit),
                "leaves a throat radius below zero",
                f"{show_with_unit(self.diameter / 2, unit)} or more would be allowed.",
            )
        self._check_throat(shop, mitre)

    def _check_throat(self, shop: Shop, mitre: Mitre) -> None:
        """CannotMake where a piece would have no metal in the throat."""
        inner = mitre.height(0) * 2 if self.joints > 1 else math.inf
        ends = [mitre.height(0) + float(self._neck(shop, number)) for number in (0, self.joints)]
        if min(inner, *ends) >= LEAST_THROAT:
            return
        unit = shop.profile.unit
        share = 2 if inner < min(ends) else 1
        least = float(self.diameter) / 2 + float(LEAST_THROAT) / share / mitre.slope
        raise CannotMake(
            "centreline_radius",
            show_with_unit(self.radius, unit),
            f"leaves less than {show_with_unit(LEAST_THROAT, unit)} of metal in the throat of "
            "a piece",
            f"{at_least(least, unit)} or more would be allowed, or longer necks.",
        )

    def _neck(self, shop: Shop, number: int) -> Length:
        """The straight length of an end piece, with what goes into the next fitting."""
        first = number == 0
        neck = self.neck_1 if first else self.neck_2
        return neck + lap_of(shop, self.end_1 if first else self.end_2)

    def _gore(self, shop: Shop, number: int, count: int) -> Ring:
        """A piece of the elbow, standing where it is in it; the first and the last are half."""
        mitre = self._mitre()
        axis = mitre.axis(number)
        low: float | Curve = mitre.depth
        high: float | Curve = mitre.height
        if number == 0:
            low = -float(self._neck(shop, number))
        elif number == self.joints:
            high = float(self._neck(shop, number))
        name = "end gore" if number in (0, self.joints) else "gore"
        return staves(
            name,
            axis.ring(self.diameter, count, low),
            axis.ring(self.diameter, count, high),
        )

    def _shell(
        self,
        shop: Shop,
        ring: Ring,
        number: int,
        pieces: int,
        seam: Closing,
        joint: Closing,
    ) -> Shell:
        """A piece with its edges; its seam lies in the throat, of every other one in the back."""
        begin = len(ring.patches) // 2 // pieces * (number % 2)
        mitre = self._mitre()
        low: Mapping[EdgeName, Edging]
        high: Mapping[EdgeName, Edging]
        if number == 0:
            low = along_rim(ring.lower, rim_edging(shop, "end_1", self.end_1, self.diameter))
        else:
            low = lying_on(ring, ring.lower, joint.entering, mitre.normal(number - 1))
        if number == self.joints:
            high = along_rim(ring.upper, rim_edging(shop, "end_2", self.end_2, self.diameter))
        else:
            high = lying_on(ring, ring.upper, joint.receiving, mitre.normal(number))
        return Shell(cut_evenly(ring, pieces, begin), seam, {**low, **high})

    def _note(self, shop: Shop) -> str:
        count = self.joints + 1
        whole = f"{many(count - 2, 'whole gore')} and " if count > 2 else ""
        return (
            f"{count} pieces: {whole}two end gores, cut at {self._mitre().degrees:g} degrees; "
            f"centreline radius {show_with_unit(self.radius, shop.profile.unit)}."
        )


def fewest_gores(diameter: Length, angle: float) -> int:
    """Gores of the fewest pieces published; above 90 degrees none turns more than there."""
    column = 0 if diameter <= SMALL else 1
    for most, pieces in FEWEST_PIECES.items():
        if angle <= most:
            return pieces[column] - 1
    return math.ceil(angle / 90 * (FEWEST_PIECES[90][column] - 1) - 1e-9)
