"""What is cut: the outline of a piece, its slits, its rectangle and its areas."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
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


def outline(piece: Piece) -> Outline:
    """The boundary of the piece: one walk round the tree of facets.

    The walk follows each facet's edges and steps over every bend line into the child, so it is
    exact where the corners are exact and needs no polygon union. Strips that lie edge to edge are
    one metal, but for those on either side of a bend in the brake, or bent on two lines that meet
    at an angle: a slit parts them.
    """
    return _outline(piece.facets, piece.hinges, piece.closing)


@lru_cache(maxsize=4096)  # every paper asks for it, and exact arithmetic takes its time
def _outline(
    polygons: tuple[Facet, ...], hinges: tuple[Hinge, ...], closing: tuple[Hinge, ...]
) -> Outline:
    children: dict[str, list[Hinge]] = {}
    for hinge in hinges:
        children.setdefault(hinge.parent, []).append(hinge)
    facets = {facet.name: facet for facet in polygons}
    shape = _tidy(list(_walk(polygons[0], None, facets, children)))
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


def _walk(
    facet: Facet,
    entered: Hinge | None,
    facets: dict[str, Facet],
    children: dict[str, list[Hinge]],
) -> Iterator[Point]:
    """The facet's boundary with its children's, from the end of the entering line back to it."""
    corners = facet.corners
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    if entered is not None:
        home = _entering_edge(edges, entered)
        edges = [*edges[home + 1 :], *edges[:home]]
        yield entered.start
        yield edges[0][0]
    pending = children.get(facet.name, [])
    for start, end in edges:
        yield start
        direction = unit(start, end)
        here = [hinge for hinge in pending if _lies_on(hinge, start, end)]
        for hinge in sorted(here, key=lambda h: dot(minus(h.start, start), direction)):
            yield hinge.start
            yield from _walk(facets[hinge.child], hinge, facets, children)
            yield hinge.end
        yield end
    if entered is not None:
        yield entered.end


def _entering_edge(edges: list[tuple[Point, Point]], entered: Hinge) -> int:
    """The edge of the child on which the line it is entered by lies (it runs the other way)."""
    for index, (start, end) in enumerate(edges):
        if distance(start, end) == 0:
            continue
        backwards = dot(minus(end, start), minus(entered.end, entered.start)) < 0
        if (
            backwards
            and on_segment(entered.start, start, end)
            and on_segment(entered.end, start, end)
        ):
            return index
    raise ValueError(f"bend line to {entered.child!r} does not lie on one of its edges")


def _lies_on(hinge: Hinge, start: Point, end: Point) -> bool:
    forwards = dot(minus(hinge.end, hinge.start), minus(end, start)) > 0
    return forwards and on_segment(hinge.start, start, end) and on_segment(hinge.end, start, end)


def _tidy(walk: list[Point]) -> Outline:
    """Drop doubled and straight-through points, and turn spikes of no width into slits."""
    points: list[Point] = []
    for point in walk:
        if not points or not same(points[-1], point):
            points.append(point)
    slits: list[Slit] = []
    index, quiet = 0, 0
    while quiet < len(points) and len(points) > 3:
        before, here, after = (points[(index + k) % len(points)] for k in (-1, 0, 1))
        into, out = minus(near(here), near(before)), minus(near(after), near(here))
        if same(before, here) or size(cross(into, out)) < 1e-9 * (1 + size(dot(into, out))):
            if dot(into, out) < 0:
                mouth = after if distance(here, after) < distance(here, before) else before
                slits.append(Slit(mouth, here))
            del points[index % len(points)]
            index, quiet = max(index - 1, 0), 0
        else:
            index, quiet = (index + 1) % len(points), quiet + 1
    return Outline(tuple(points), tuple(slits))
