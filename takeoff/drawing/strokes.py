"""What a pattern file holds: one piece at full size, as strokes told apart by what they are for."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from takeoff.lengths import Length, Unit, show
from takeoff.pattern.facets import Forming, Hinge, Piece, Point
from takeoff.pattern.marks import Axis, degrees, running_marks
from takeoff.pattern.outline import outline

from .boxes import box_of, middle
from .primitives import Spot, spots

LETTERS = 0.3
"""Height of the letters, inches; smaller on a small piece."""
CROSS = 0.25
"""Half the size of a centre mark, inches."""


SAME = 1e-6
"""Inches within which a line is at a running mark."""


class Use(StrEnum):
    """What a stroke is for: the layers of a pattern file."""

    CUT = "cut"
    BEND_UP = "bend up"
    BEND_DOWN = "bend down"
    SCRIBE = "scribe"
    CENTRE = "centre mark"
    TEXT = "text"


@dataclass(frozen=True)
class Path:
    """Straight strokes from spot to spot; closed where the last joins the first."""

    use: Use
    spots: tuple[Spot, ...]
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    """A round stroke."""

    use: Use
    centre: Spot
    radius: float


@dataclass(frozen=True)
class Words:
    """A text: where its middle stands, its letters' height (in), its turn in degrees."""

    at: Spot
    text: str
    height: float
    turn: float = 0.0


Stroke = Path | Circle | Words


def strokes(piece: Piece, title: str, unit: Unit) -> tuple[Stroke, ...]:
    """Everything of a piece that is cut, bent or marked, in inches from its datum corner.

    Args:
        piece: the flat piece, settled at its datum.
        title: written in the middle of its root face.
        unit: what running marks are shown in.
    """
    shape = outline(piece)
    letters = min(LETTERS, float(min(shape.width, shape.length)) / 12)
    return (
        Path(Use.CUT, spots(shape.points), closed=True),
        *(Path(Use.CUT, spots((slit.start, slit.end))) for slit in shape.slits),
        *_holes(piece),
        *(Path(_use(hinge), spots((hinge.start, hinge.end))) for hinge in piece.bends),
        *_cross_breaks(piece),
        *_angles(piece, letters),
        *_marks(piece, letters, unit),
        Words(_low_on(piece.root.corners, letters * 2.5), title, letters * 1.5),
    )


def _use(hinge: Hinge) -> Use:
    """A line that no brake bends is only scribed."""
    if hinge.forming is not Forming.BRAKE or hinge.angle == 0:
        return Use.SCRIBE
    return Use.BEND_UP if hinge.angle > 0 else Use.BEND_DOWN


def _holes(piece: Piece) -> Iterator[Stroke]:
    for hole in piece.holes:
        if hole.centre is None or hole.diameter is None:
            yield Path(Use.CUT, spots(hole.points), closed=True)
            yield from _cross(_middle(hole.points))
        else:
            (centre,) = spots((hole.centre,))
            yield Circle(Use.CUT, centre, float(hole.diameter) / 2)
            yield from _cross(centre)


def _cross(centre: Spot) -> Iterator[Stroke]:
    x, y = centre
    yield Path(Use.CENTRE, ((x - CROSS, y), (x + CROSS, y)))
    yield Path(Use.CENTRE, ((x, y - CROSS), (x, y + CROSS)))


def _cross_breaks(piece: Piece) -> Iterator[Stroke]:
    """The diagonals of a face of four corners."""
    for name in piece.cross_break:
        corners = piece.facet(name).corners
        if len(corners) == 4:
            yield Path(Use.SCRIBE, spots((corners[0], corners[2])))
            yield Path(Use.SCRIBE, spots((corners[1], corners[3])))


def _angles(piece: Piece, letters: float) -> Iterator[Stroke]:
    """The angle beside each line that the brake bends, along the line."""
    for hinge in piece.hinges:
        if _use(hinge) is Use.SCRIBE:
            continue
        (ax, ay), (bx, by) = spots((hinge.start, hinge.end))
        turn = math.degrees(math.atan2(by - ay, bx - ax))
        upright = turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn
        way = "up" if hinge.angle > 0 else "down"
        aside = math.radians(turn + 90)  # on the metal that the line's strip or face hangs on
        at = (
            (ax + bx) / 2 + letters * math.cos(aside),
            (ay + by) / 2 + letters * math.sin(aside),
        )
        yield Words(at, f"{degrees(hinge.angle)} {way}", letters, upright)


def _marks(piece: Piece, letters: float, unit: Unit) -> Iterator[Stroke]:
    """The running marks, read from the datum edge, each at the datum end of its line."""
    for axis, turn in ((Axis.WIDTH, 90.0), (Axis.LENGTH, 0.0)):
        for mark in running_marks(piece, axis):
            if mark.angle is None:
                continue
            text = show(mark.at, unit, 32)
            along = _datum_end(piece, axis, float(mark.at)) + letters * (len(text) * 0.4 + 0.5)
            before = float(mark.at) - letters * 0.7
            spot = (before, along) if axis is Axis.WIDTH else (along, before)
            yield Words(spot, text, letters, turn)


def _datum_end(piece: Piece, axis: Axis, at: float) -> float:
    """How far from the other datum edge the line at a running mark begins."""
    across, along = (0, 1) if axis is Axis.WIDTH else (1, 0)
    return min(
        float(point[along])
        for hinge in piece.hinges
        for point in (hinge.start, hinge.end)
        if abs(float(point[across]) - at) < SAME
    )


def _low_on(points: Iterable[Point], up: float) -> Spot:
    """Above the middle of the lowest reach of some points."""
    places = spots(points)
    return _middle(places)[0], min(y for _, y in places) + up


def _middle(points: Iterable[tuple[Length, Length]]) -> Spot:
    return middle(box_of(spots(points)))
