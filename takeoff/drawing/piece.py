"""A flat pattern: outline, bend lines, running marks, cut-outs, slits and cross-breaks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from takeoff.lengths import Unit, show_exactly
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Forming, Piece, Point, Role
from takeoff.pattern.marks import Axis
from takeoff.pattern.outline import outline

from . import theme
from .bench_marks import bench_marks
from .lettering import width
from .piece_labels import piece_labels
from .primitives import Align, Area, Drawing, Lines, Pen, Primitive, Spot, Text, spots
from .spread import spread

BELOW, LEFT = 38.0, 46.0
"""Points for the running marks below and to the left of the blank."""
LEVEL_STEP, UPRIGHT_STEP = 8.0, 8.0
"""Points from mark to mark where they crowd."""


def flat_pattern(
    piece: Piece, order: Sequence[BendStep], unit: Unit, room: Spot, title: str
) -> Drawing:
    """The piece as it is cut, as large as the room (points) takes it; drawing units are inches.

    Bends are numbered in their order. Bend lines are dashed: long dashes up, long
    and two dots down, dots where a machine forms.
    """
    shape = outline(piece)
    size = float(shape.width), float(shape.length)
    scale = min((room[0] - LEFT - 6) / size[0], (room[1] - BELOW - 6) / size[1])
    items = (
        *_metal(piece),
        *_lines(piece),
        *piece_labels(piece, order, scale),
        *_marks_below(piece, unit, scale),
        *_marks_beside(piece, unit, scale),
    )
    edge = 6 / scale
    low = -LEFT / scale, -BELOW / scale
    return Drawing(low, (size[0] + edge, size[1] + edge), scale, items, title)


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


def _tape(piece: Piece, axis: Axis, unit: Unit) -> list[tuple[float, str]]:
    """Where the tape is read and what it says, from 0 at the datum edge."""
    marks = {0.0: show_exactly(0, unit)}
    for mark in bench_marks(piece, axis):
        marks[round(float(mark.at), 6)] = show_exactly(mark.at, unit)
    return sorted(marks.items())


def _marks_below(piece: Piece, unit: Unit, scale: float) -> Iterator[Primitive]:
    """Running marks along the width, level where they have room, else upright and spread."""
    marks = _tape(piece, Axis.WIDTH, unit)
    wide = [width(text, theme.BODY) for _, text in marks]
    gaps = [(b[0] - a[0]) * scale for a, b in pairwise(marks)]
    level = all(
        gap > (one + other) / 2 + 4 for gap, one, other in zip(gaps, wide, wide[1:], strict=False)
    )
    ats = [at for at, _ in marks]
    places = ats if level else spread(ats, UPRIGHT_STEP / scale)
    near, far = -3 / scale, -10 / scale
    yield Lines(tuple(((at, 0.0), (at, near)) for at in ats), theme.DIMENSION)
    yield Lines(
        tuple(((at, near), (place, far)) for at, place in zip(ats, places, strict=True)),
        theme.DIMENSION,
    )
    for place, (_, text) in zip(places, marks, strict=True):
        if level:
            yield Text((place, -15 / scale), text, theme.BODY)
        else:
            yield Text((place, -12 / scale), text, theme.BODY, Align.END, upright=True)


def _marks_beside(piece: Piece, unit: Unit, scale: float) -> Iterator[Primitive]:
    """Running marks along the length, spread where they crowd."""
    marks = _tape(piece, Axis.LENGTH, unit)
    ats = [at for at, _ in marks]
    places = spread(ats, LEVEL_STEP / scale)
    near, far = -3 / scale, -10 / scale
    yield Lines(tuple(((0.0, at), (near, at)) for at in ats), theme.DIMENSION)
    yield Lines(
        tuple(((near, at), (far, place)) for at, place in zip(ats, places, strict=True)),
        theme.DIMENSION,
    )
    for place, (_, text) in zip(places, marks, strict=True):
        yield Text((-12 / scale, place), text, theme.BODY, Align.END)
