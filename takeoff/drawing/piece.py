"""A flat pattern: outline, bend lines, running marks, cut-outs, slits and cross-breaks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from takeoff.lengths import Length, Unit, show_exactly
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Forming, Hole, Piece, Point, Role
from takeoff.pattern.marks import Axis
from takeoff.pattern.outline import outline

from . import theme
from .bench_marks import bench_marks
from .boxes import box_of
from .curves import sharp_corners
from .extent import extent
from .piece_labels import piece_labels
from .primitives import Area, Drawing, Lines, Pen, Primitive, Spot, spots
from .tape import Reading, above, below, beside, letters_room, on_the_right

EDGE = 4.0
"""Points kept free round the drawing."""
MOST_TRIES = 3
"""Times that a drawing is made smaller to get it into its room."""
EXACT = 1e-6
"""Points for an inch that a scale may be too large by."""
MOST_CORNERS = 6
"""Marks of corners on one edge; a piece with more has a curve or strips, told otherwise."""
SAME = 1e-3
"""Inches within which two marks are one."""
MOST_HOLE_MARKS = 16
"""Marks of cut-outs on one edge; where there are more, only the list tells them."""


def flat_pattern(
    piece: Piece, order: Sequence[BendStep], unit: Unit, room: Spot, title: str
) -> Drawing:
    """The piece as it is cut, as large as the room (points) takes it; drawing units are inches.

    Bends are numbered in their order. Bend lines are dashed: long dashes up, long
    and two dots down, dots where a machine forms. Marks below and on the left read bend lines,
    those above and on the right cut-outs, all from the same datum edges.
    """
    shape = outline(piece)
    across, along = _readings(piece, Axis.WIDTH, unit), _readings(piece, Axis.LENGTH, unit)
    holes_across, holes_along = _hole_readings(piece, 0, unit), _hole_readings(piece, 1, unit)
    beside_it = letters_room(along) + letters_room(holes_along) + 2 * EDGE
    below_it = letters_room(across) + letters_room(holes_across) + 2 * EDGE
    wide, long = float(shape.width), float(shape.length)
    scale = min((room[0] - beside_it) / wide, (room[1] - below_it) / long)
    metal = (
        *_metal(piece),
        *_lines(piece),
        *_hole_lines(piece, bool(holes_across), bool(holes_along)),
    )

    def readings(scale: float) -> Iterator[Primitive]:
        yield from below(across, scale)
        yield from beside(along, scale)
        yield from above(holes_across, long, scale)
        yield from on_the_right(holes_along, wide, scale)

    def bare(scale: float) -> tuple[Primitive, ...]:
        return *metal, *readings(scale)

    def written(scale: float) -> tuple[Primitive, ...]:
        return *metal, *piece_labels(piece, order, unit, scale), *readings(scale)

    # What is written inside takes long to place, and hardly ever reaches out.
    for marks in (bare, written):
        drawing = _fitted(marks, scale, (wide, long), room, title)
        scale = drawing.scale
    return drawing


def _fitted(
    marks: Callable[[float], tuple[Primitive, ...]],
    scale: float,
    metal: Spot,
    room: Spot,
    title: str,
) -> Drawing:
    """Marks at a scale, or smaller: the letters at the far corners may reach over the room."""

    def drawn(scale: float) -> Drawing:
        items = marks(scale)
        return Drawing(*extent(items, scale, EDGE), scale, items, title)

    drawing = drawn(scale)
    for _ in range(MOST_TRIES):
        over = max((drawing.size[way] - room[way]) / metal[way] for way in (0, 1))
        if over <= EXACT:
            break
        drawing = drawn(drawing.scale - over)  # the letters keep their size, the metal shrinks
    return drawing


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
    more = {round(at, 6): show_exactly(at, unit) for at in _corner_places(piece, axis)}
    more = {at: text for at, text in more.items() if all(abs(at - one) > SAME for one in marks)}
    if len(more) <= MOST_CORNERS:
        marks |= more
    return [Reading(at, text) for at, text in sorted(marks.items())]


def _corner_places(piece: Piece, axis: Axis) -> Iterator[float]:
    """Where faces have corners on the outline: cuts that no bend line tells."""
    way = 0 if axis is Axis.WIDTH else 1
    shape = outline(piece)
    faces = {
        (round(x, 6), round(y, 6))
        for facet in piece.facets
        if facet.role is Role.FACE
        for x, y in spots(facet.corners)
    }
    for x, y in sharp_corners(spots(shape.points)):
        if (round(x, 6), round(y, 6)) in faces:
            yield (x, y)[way] - float(shape.corner[way])


def _hole_readings(piece: Piece, way: int, unit: Unit) -> list[Reading]:
    """What the tape says at the cut-outs: at both edges, of round ones at the centre."""
    marks = {
        round(at, 6): Reading(at, show_exactly(exact, unit))
        for hole in piece.holes
        for exact, at in _hole_places(piece, hole, way)
    }
    return sorted(marks.values(), key=lambda each: each.at) if len(marks) <= MOST_HOLE_MARKS else []


def _hole_places(piece: Piece, hole: Hole, way: int) -> list[tuple[Length, float]]:
    corner = outline(piece).corner[way]
    if hole.centre is not None:
        return [(hole.centre[way] - corner, float(hole.centre[way] - corner))]
    ats = [point[way] - corner for point in hole.points]
    return [(at, float(at)) for at in (min(ats), max(ats))]


def _hole_lines(piece: Piece, across: bool, along: bool) -> Iterator[Primitive]:
    """Fine lines from the cut-outs to their marks, and through the centre of round ones."""
    shape = outline(piece)
    ends = float(shape.width), float(shape.length)
    segments: list[tuple[Spot, Spot]] = []
    for hole in piece.holes:
        (left, low), (right, high) = box_of(spots(hole.points))
        centre = spots([hole.centre])[0] if hole.centre is not None else None
        if across:
            xs = (left, right) if centre is None else (centre[0],)
            segments += [((x, high if centre is None else centre[1]), (x, ends[1])) for x in xs]
        if along:
            ys = (low, high) if centre is None else (centre[1],)
            segments += [((right if centre is None else centre[0], y), (ends[0], y)) for y in ys]
    if segments:
        yield Lines(tuple(segments), theme.TO_MARK)
