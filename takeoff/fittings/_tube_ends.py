"""The two openings of a rectangular tube: their edges, and whether their flanges go in."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from takeoff.edges import entering, receiving
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Forming
from takeoff.settings import Seam

from ._body import edge_of_opening, find_seam
from ._cuboid import Cuboid
from ._tube import SIDES, Tube
from ._tube_body import SeamEdgings
from .base import CannotMake, Shop

SQUARE = 90
LEFT_OVER = 1 / 16
"""Inches of a seam strip's outer edge that the cuts at its ends must leave."""


@dataclass(frozen=True)
class Ends:
    """What is done to the two openings of a tube.

    Args:
        shop: its profile has the treatments.
        names: the treatments of openings 1 and 2.
        sizes: width and height of openings 1 and 2 (in).
    """

    shop: Shop
    names: tuple[str, str]
    sizes: tuple[tuple[Length, Length], tuple[Length, Length]]

    def edging(self, side: int, opening: int) -> Edging:
        """The treatment of a side's edge, strips square to the side."""
        width, height = self.sizes[opening - 1]
        cuboid = Cuboid(width, Fraction(1), height)
        column, name = f"end_{opening}", self.names[opening - 1]
        return edge_of_opening(self.shop, column, name, cuboid, SIDES[side], "front")

    def on(self, tube: Tube, side: int, opening: int) -> Edging:
        """As `edging`, a square strip bent so far that it lies in the plane of the opening."""
        edging = self.edging(side, opening)
        if not edging.strips or abs(edging.strips[0].angle) != SQUARE:
            return edging
        first, *others = edging.strips
        turned_in = first.angle > 0
        lean = _angle_into_opening(tube, side, opening, turned_in)
        bent = replace(first, angle=lean if turned_in else -lean)
        return replace(edging, strips=(bent, *others))

    def check(self) -> None:
        """CannotMake when flanges that turn in leave nothing of an opening between them."""
        unit = self.shop.profile.unit
        for opening in (1, 2):
            width, height = self.sizes[opening - 1]
            for pair, across in (((1, 3), width), ((0, 2), height)):
                reach = sum((self.inward(side, opening) for side in pair), start=Fraction(0))
                if reach and reach >= across:
                    raise CannotMake(
                        f"end_{opening}",
                        self.names[opening - 1],
                        f"leaves no opening: it is {show_with_unit(across, unit)} across and the "
                        f"flanges take {show_with_unit(reach, unit)}",
                        "Make the flanges narrower or the fitting larger.",
                    )

    def inward(self, side: int, opening: int) -> Length:
        """How far a side's strips turn in over an opening (in)."""
        strips = self.edging(side, opening).strips
        return total_width(strips) if strips and 0 < strips[0].angle < 180 else Fraction(0)

    def outward(self, side: int, opening: int) -> Length:
        """How far a side's strips stand out from an opening (in)."""
        strips = self.edging(side, opening).strips
        return total_width(strips) if strips and -180 < strips[0].angle < 0 else Fraction(0)


def seam_edgings(shop: Shop, name: str) -> SeamEdgings:
    """The profile's seam as edgings."""
    rule = find_seam(shop, name)
    return SeamEdgings(name, receiving(rule), entering(rule), entering(_on_a_curve(rule)))


def rolled_sides_receive(shop: Shop, name: str) -> bool:
    """Whether the rolled sides of a fitting take the pockets of its seams, or its flat cheeks do.

    A strip that is bent up cannot be rolled with its side: the rolled side gets what stays flat.

    Raises:
        CannotMake: both edges of the seam are bent up.
    """
    seam = seam_edgings(shop, name)
    if _stays_flat(seam.receiving):
        return True
    if _stays_flat(seam.entering):
        return False
    raise CannotMake(
        "seam",
        name,
        "cannot run round a curve: both its edges are bent",
        "Choose a seam with a flat edge, such as pittsburgh or lap, or a square fitting.",
    )


def cheek_strip(shop: Shop, seam: str) -> Length:
    """How wide a strip the cheek of a curved fitting carries along the curve (in)."""
    edges = seam_edgings(shop, seam)
    on_cheek = edges.curved if rolled_sides_receive(shop, seam) else edges.receiving
    return total_width(on_cheek.strips)


def _stays_flat(edging: Edging) -> bool:
    return all(strip.forming is not Forming.BRAKE or strip.angle == 0 for strip in edging.strips)


def _on_a_curve(rule: Seam) -> Seam:
    return rule.model_copy(update={"single": rule.single_curved})


def _angle_into_opening(tube: Tube, side: int, opening: int, turned_in: bool) -> float:
    """Degrees between a side's own direction out of an opening and the plane of the opening."""
    corners = np.array(tube.opening(opening), dtype=float)
    a, b = corners[side], corners[(side + 1) % 4]
    along = (b - a) / np.linalg.norm(b - a)
    into = _square_to(along, corners.mean(axis=0) - a)
    cell = tube.cells[side][0 if opening == 1 else -1]
    middle = np.array([tube.at(corner) for corner in cell.corners], dtype=float).mean(axis=0)
    out = -_square_to(along, middle - a)
    cos = float(out @ into) * (1 if turned_in else -1)
    return round(math.degrees(math.acos(max(-1.0, min(1.0, cos)))), 9)


def _square_to(
    along: npt.NDArray[np.float64], vector: npt.NDArray[np.float64]
) -> npt.NDArray[np.float64]:
    rest = vector - (vector @ along) * along
    return np.asarray(rest / np.linalg.norm(rest))
