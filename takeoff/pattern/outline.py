"""What is cut: the outline of a piece, its slits, its rectangle and its areas."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import combinations

import numpy as np
import numpy.typing as npt

from takeoff.lengths import Length

from .facets import Facet, Forming, Hinge, Hole, Piece, Point, Role
from .plane import area, cross, distance, dot, extent, minus, near, on_segment, same, size, unit

SHARP = 30.0
"""Degrees; strips beside a gentler bend go round with it."""


@dataclass(frozen=True)
class Slit:
    """A cut of no width from the edge of the blank to a bend line (a straight notch)."""

    start: Point
    end: Point


@dataclass(frozen=True)
class Outline:
    """The boundary of a flat piece, counter-clockwise, with the slits that run into it."""

    points: tuple[Point, ...]
    slits: tuple[Slit, ...]

    @cached_property
    def _extent(self) -> tuple[Point, Point]:
        return extent(self.points)

    @property
    def corner(self) -> Point:
        """The lower left corner of the blank's rectangle: the datum of all running marks."""
        return self._extent[0]

    @property
    def width(self) -> Length:
        """Size of the blank along x (in)."""
        low, high = self._extent
        return high[0] - low[0]

    @property
    def length(self) -> Length:
        """Size of the blank along y (in)."""
        low, high = self._extent
        return high[1] - low[1]

    @property
    def area(self) -> Length:
        """Area inside the outline (in2), cut-outs not taken off."""
        return area(self.points)

    def moved(self, place: Callable[[Point], Point]) -> Outline:
        """It moved on the sheet, every point by the same rigid motion."""
        return Outline(
            tuple(place(point) for point in self.points),
            tuple(Slit(place(slit.start), place(slit.end)) for slit in self.slits),
        )


def outline(piece: Piece) -> Outline:
    """The boundary of the piece: one walk round the tree of facets.

    The walk follows each facet's edges and steps over every bend line into the child, so it is
    exact where the corners are exact and needs no polygon union. Strips that lie edge to edge are
    one metal, but for those on either side of a bend in the brake, or bent on two lines that meet
    at an angle: a slit parts them.
    """
    if not piece.kept:
        piece.kept.append(_outline(piece.facets, piece.hinges, piece.closing))
    return piece.kept[0]


@lru_cache(maxsize=256)  # pieces are made anew with another name, or with the fitting
def _outline(
    polygons: tuple[Facet, ...], hinges: tuple[Hinge, ...], closing: tuple[Hinge, ...]
) -> Outline:
    children: dict[str, list[Hinge]] = {}
    for hinge in hinges:
        children.setdefault(hinge.parent, []).append(hinge)
    facets = {facet.name: facet for facet in polygons}
    shape = _tidy(_Walk(facets, children).go_round(polygons[0]))
    creases = [hinge for hinge in hinges if _is_sharp(hinge)]
    slits = (
        slit
        for slit in shape.slits
        if _parts(slit, creases, facets) and not any(_closes(h, slit) for h in closing)
    )
    return Outline(shape.points, tuple(slits))


def _is_sharp(hinge: Hinge) -> bool:
    return hinge.forming is Forming.BRAKE and abs(hinge.angle) > SHARP


def _parts(slit: Slit, creases: list[Hinge], facets: dict[str, Facet]) -> bool:
    """Whether what lies on either side of a slit is bent away from each other."""
    here = [h for h in creases if same(slit.end, h.start) or same(slit.end, h.end)]
    if any(facets[hinge.child].role is Role.FACE for hinge in here):
        return True
    ways = [unit(hinge.start, hinge.end) for hinge in here]
    turn = math.sin(math.radians(SHARP))
    return any(size(cross(a, b)) > turn for a, b in combinations(ways, 2))


def _closes(hinge: Hinge, slit: Slit) -> bool:
    """Whether a slit only runs along a bend line."""
    ends = (hinge.start, hinge.end), (hinge.end, hinge.start)
    return any(same(slit.start, a) and same(slit.end, b) for a, b in ends)


def lies_simple(piece: Piece) -> bool:
    """Whether no part of the flat piece lies over another: its outline nowhere crosses itself."""
    points = np.array([near(point) for point in outline(piece).points])
    starts, ends = points, np.roll(points, -1, axis=0)
    steps = ends - starts
    gaps = starts[None, :, :] - starts[:, None, :]
    turn = _turn(steps[:, None, :], steps[None, :, :])
    with np.errstate(divide="ignore", invalid="ignore"):
        mine = _turn(gaps, steps[None, :, :]) / turn
        other = _turn(gaps, steps[:, None, :]) / turn
    edge = 1e-9
    crossing = (mine > edge) & (mine < 1 - edge) & (other > edge) & (other < 1 - edge)
    return not bool(crossing.any())


def _turn(a: npt.NDArray[np.float64], b: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def net_area(piece: Piece) -> Length:
    """Area of the metal of the piece (in2): the outline less its cut-outs."""
    total = outline(piece).area
    for hole in piece.holes:
        total = total - hole_area(hole)
    return total


def hole_area(hole: Hole) -> Length:
    """Area of a cut-out (in2), of the true circle where it is round."""
    if hole.diameter is not None:
        return 3.141592653589793 * float(hole.diameter) ** 2 / 4
    return size(area(hole.points))


@dataclass(frozen=True)
class _Walk:
    """The boundary of the facets with their children's, point by point as it is walked."""

    facets: dict[str, Facet]
    children: dict[str, list[Hinge]]
    points: list[Point] = field(default_factory=list)

    def go_round(self, facet: Facet, entered: Hinge | None = None) -> list[Point]:
        """Add a facet's boundary, from the end of the entering line back to it."""
        corners = facet.corners
        edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
        if entered is not None:
            home = _entering_edge(edges, entered)
            edges = [*edges[home + 1 :], *edges[:home]]
            self.points.extend((entered.start, edges[0][0]))
        pending = [
            (hinge, near(hinge.start), near(hinge.end))
            for hinge in self.children.get(facet.name, [])
        ]
        for start, end in edges:
            self.points.append(start)
            for hinge in _hanging(pending, near(start), near(end)):
                self.points.append(hinge.start)
                self.go_round(self.facets[hinge.child], hinge)
                self.points.append(hinge.end)
            self.points.append(end)
        if entered is not None:
            self.points.append(entered.end)
        return self.points


def _entering_edge(edges: list[tuple[Point, Point]], entered: Hinge) -> int:
    """The edge of the child on which the line it is entered by lies (it runs the other way)."""
    begin, last = near(entered.end), near(entered.start)
    for index, (start, end) in enumerate(edges):
        if _runs_along(begin, last, near(start), near(end)):
            return index
    raise ValueError(f"bend line to {entered.child!r} does not lie on one of its edges")


def _hanging(hinges: Sequence[tuple[Hinge, Point, Point]], start: Point, end: Point) -> list[Hinge]:
    """The bend lines that lie on an edge, each with its two ends, in the order they are met."""
    direction = unit(start, end)
    here = [each for each in hinges if _runs_along(*each[1:], start, end)]
    here.sort(key=lambda each: dot(minus(each[1], start), direction))
    return [hinge for hinge, *_ in here]


def _runs_along(first: Point, last: Point, start: Point, end: Point) -> bool:
    """Whether a line lies on an edge and runs the same way; never on an edge of no length."""
    forwards = dot(minus(last, first), minus(end, start)) > 0
    return forwards and on_segment(first, start, end) and on_segment(last, start, end)


def _tidy(walk: list[Point]) -> Outline:
    """Drop doubled and straight-through points, and turn spikes of no width into slits."""
    points: list[Point] = []
    for point in walk:
        if not points or not same(points[-1], point):
            points.append(point)
    slits: list[Slit] = []
    floats = [near(point) for point in points]
    index, quiet = 0, 0
    while quiet < (count := len(points)) and count > 3:
        last, this, then = (index - 1) % count, index % count, (index + 1) % count
        into, out = minus(floats[this], floats[last]), minus(floats[then], floats[this])
        straight = size(cross(into, out)) < 1e-9 * (1 + size(dot(into, out)))
        if straight or same(floats[last], floats[this]):
            before, here, after = points[last], points[this], points[then]
            if dot(into, out) < 0:
                mouth = after if distance(here, after) < distance(here, before) else before
                slits.append(Slit(mouth, here))
            del points[this], floats[this]
            index, quiet = max(index - 1, 0), 0
        else:
            index, quiet = (index + 1) % len(points), quiet + 1
    return Outline(tuple(points), tuple(slits))
