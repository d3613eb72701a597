"""A flat pattern: outline, bend lines, running marks, cut-outs, slits and cross-breaks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.lengths import Unit, show_exactly
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Forming, Piece, Point, Role
from takeoff.pattern.marks import Axis
from takeoff.pattern.outline import outline

from . import theme
from .bench_marks import bench_marks
from .extent import extent
from .piece_labels import piece_labels
from .primitives import Area, Drawing, Lines, Pen, Primitive, Spot, spots
from .tape import Reading, below, beside, letters_room

EDGE = 4.0
"""Points kept free round the drawing."""


def flat_pattern(
    piece: Piece, order: Sequence[BendStep], unit: Unit, room: Spot, title: str
) -> Drawing:
    """The piece as it is cut, as large as the room (points) takes it; drawing units are inches.

    Bends are numbered in their order. Bend lines are dashed: long dashes up, long
    and two dots down, dots where a machine forms.
    """
    shape = outline(piece)
    across, along = _readings(piece, Axis.WIDTH, unit), _readings(piece, Axis.LENGTH, unit)
    scale = min(
        (room[0] - letters_room(along) - 2 * EDGE) / float(shape.width),
        (room[1] - letters_room(across) - 2 * EDGE) / float(shape.length),
    )
    items = (
        *_metal(piece),
        *_lines(piece),
        *piece_labels(piece, order, scale),
        *below(across, scale),
        *beside(along, scale),
    )
    return Drawing(*extent(items, scale, EDGE), scale, items, title)


def _metal(piece: Piece) -> Iterator[Primitive]:
    """Blank, strips of seams, outline and cut-outs, one over the other."""
    shape = outline(piece)
    yield Area(spots(shape.points), theme.PAPER)
    for facet in piece.facets:
        if facet.role is Role.SEAM:
            yield Area(spots(facet.corners), theme.SEAM_STRIP)
    yield Area(spots(shape.points), None, theme.OUTLINE)
    for hole in piece.holes:
        yield Area(spots(hole.points), theme.SCRAP, theme.HOLE)


def _lines(piece: Piece) -> Iterator[Primitive]:
    """Slits, bend lines and cross-breaks."""
    slits = tuple(_line(slit.start, slit.end) for slit in outline(piece).slits)
    if slits:
        yield Lines(slits, theme.SLIT)
    for hinge in piece.bends:
        yield Lines((_line(hinge.start, hinge.end),), bend_pen(hinge.angle, hinge.forming))
    crosses = [piece.facet(name).corners for name in piece.cross_break]
    segments = tuple(
        _line(corners[place], corners[place + 2])
        for corners in crosses
        if len(corners) == 4
        for place in (0, 1)
    )
    if segments:
        yield Lines(segments, theme.CROSS_BREAK)


def _line(start: Point, end: Point) -> tuple[Spot, Spot]:
    first, last = spots((start, end))
    return first, last


def bend_pen(angle: float, forming: Forming) -> Pen:
    """How a bend line is drawn: by the way it is bent, or dotted where a machine forms it."""
    if forming is not Forming.BRAKE or angle == 0:
        return theme.FORMED
    return theme.BEND_UP if angle > 0 else theme.BEND_DOWN


def _readings(piece: Piece, axis: Axis, unit: Unit) -> list[Reading]:
    """What the tape says, from 0 at the datum edge to the far edge."""
    marks = {0.0: show_exactly(0, unit)}
    for mark in bench_marks(piece, axis):
        marks[round(float(mark.at), 6)] = show_exactly(mark.at, unit)
    return [Reading(at, text) for at, text in sorted(marks.items())]
