"""Names of the strips along a flat pattern's edges, beside those too narrow to be written in."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from takeoff.lengths import Unit, show_exactly
from takeoff.pattern.facets import Forming, Hinge, Piece, Point, Role
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import distance, same

from . import theme
from .boxes import Box, box_of, inside, label_box, meet
from .labels import Label, backing, written
from .primitives import Primitive, Spot, spots

ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where along an edge its name may stand, the best place first."""
INWARD = (7.0, 15.0, 23.0)
"""Points from the edge of the face to the middle of the name."""
SQUARE = 1e-6
"""Inches by which an edge may lean and still run level or upright."""


@dataclass(frozen=True)
class _Edge:
    """One edge of a face and what stands on it.

    Attributes:
        start: where it begins, counter-clockwise round the face.
        end: where it ends.
        text: the strips on it with their widths, from the face outward.
    """

    start: Point
    end: Point
    text: str

    @property
    def upright(self) -> bool:
        return -SQUARE < self.end[0] - self.start[0] < SQUARE

    @property
    def straight(self) -> bool:
        return self.upright or -SQUARE < self.end[1] - self.start[1] < SQUARE


def edge_names(
    piece: Piece, told: Collection[str], unit: Unit, taken: list[Box], scale: float
) -> Iterator[Primitive]:
    """Names of strips just inside the faces they stand on, where there is room.

    A run of short edges round a curve gets one name.

    Args:
        piece: the flat piece.
        told: facets that carry their name themselves.
        unit: of the widths.
        taken: boxes that are written in; those of the names are added.
        scale: points for an inch.
    """
    sheet = box_of(spots(outline(piece).points))
    for run in _runs(list(_edges(piece, told, unit))):
        longest = max(run, key=lambda edge: float(distance(edge.start, edge.end)))
        half = run[len(run) // 2]
        edge = longest if len(run) == 1 or longest.straight else half
        label = Label((edge.text,), theme.SMALLEST_NUMBER, edge.straight and edge.upright)
        for spot in _places(edge, label, scale):
            box = label_box(label, spot, scale)
            if inside(box, sheet) and not any(meet(box, other) for other in taken):
                taken.append(box)
                yield backing(label, spot, scale)
                yield from written(label, spot, scale, bold_first=False)
                break


def _edges(piece: Piece, told: Collection[str], unit: Unit) -> Iterator[_Edge]:
    for hinge in piece.hinges:
        if piece.facet(hinge.parent).role is Role.FACE and piece.facet(hinge.child).label:
            strips = list(_strips(piece, hinge))
            text = " + ".join(
                f"{piece.facet(strip.child).label} {show_exactly(_width(piece, strip), unit)}"
                for strip in strips
                if strip.child not in told
            )
            if text and hinge.forming is not Forming.ROLL:
                yield _Edge(hinge.start, hinge.end, text)


def _strips(piece: Piece, hinge: Hinge) -> Iterator[Hinge]:
    """The strip on an edge and those that stand on it in turn."""
    yield hinge
    for other in piece.hinges:
        if other.parent == hinge.child:
            yield from _strips(piece, other)


def _width(piece: Piece, hinge: Hinge) -> float:
    """How far a strip reaches out from its line, as it is developed (in)."""
    (ax, ay), (bx, by) = spots((hinge.start, hinge.end))
    long = hypot(bx - ax, by - ay)
    return max(
        abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long
        for x, y in spots(piece.facet(hinge.child).corners)
    )


def _runs(edges: Sequence[_Edge]) -> list[list[_Edge]]:
    """Edges that follow each other round a face and carry the same strips."""
    if not edges:
        return []
    runs = [[edges[0]]]
    for before, edge in pairwise(edges):
        if edge.text == before.text and _follow(before, edge):
            runs[-1].append(edge)
        else:
            runs.append([edge])
    return runs


def _follow(a: _Edge, b: _Edge) -> bool:
    """Whether one edge goes on where the other ends, and neither is level or upright."""
    touch = same(a.end, b.start) or same(a.start, b.end)
    return touch and not (a.straight and b.straight and a.upright != b.upright)


def _places(edge: _Edge, label: Label, scale: float) -> Iterator[Spot]:
    """Where the name may stand: along the edge, inside the face that lies to its left."""
    (ax, ay), (bx, by) = spots((edge.start, edge.end))
    long = hypot(bx - ax, by - ay)
    inward = -(by - ay) / long, (bx - ax) / long
    wide, high = label.extent
    # Beside a slanting edge the level name needs room for its own corner.
    room = abs(inward[0]) * wide / 2 + abs(inward[1]) * high / 2 - high / 2
    more = 0.0 if edge.straight else room
    if edge.straight and (high if edge.upright else wide) > long * scale:
        return
    for reach in INWARD:
        back = (reach + more) / scale
        for part in ALONG:
            yield (
                ax + (bx - ax) * part + inward[0] * back,
                ay + (by - ay) * part + inward[1] * back,
            )
