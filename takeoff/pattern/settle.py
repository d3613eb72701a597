"""Putting a flat piece to its datum, and telling whether two pieces are cut alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from takeoff.lengths import Length

from .facets import Hinge, Piece, Point
from .outline import outline
from .plane import minus

SAME_CUT = 6
"""Decimals of an inch to which two pieces must agree to be cut from one layout."""


def settle(piece: Piece) -> Piece:
    """The piece moved so that the lower left corner of its blank is at (0, 0), the datum."""
    corner = outline(piece).corner
    return moved(piece, lambda point: minus(point, corner))


def moved(piece: Piece, place: Callable[[Point], Point]) -> Piece:
    """The flat piece moved on the sheet, every point by the same rigid motion."""
    places: dict[int, Point] = {}  # facets share points; to hash them takes as long as to move them

    def once(point: Point) -> Point:
        if id(point) not in places:
            places[id(point)] = place(point)
        return places[id(point)]

    def all_moved(points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(once(point) for point in points)

    def lines(hinges: Iterable[Hinge]) -> tuple[Hinge, ...]:
        return tuple(replace(h, start=once(h.start), end=once(h.end)) for h in hinges)

    laid = replace(
        piece,
        facets=tuple(replace(f, corners=all_moved(f.corners)) for f in piece.facets),
        hinges=lines(piece.hinges),
        closing=lines(piece.closing),
        holes=tuple(
            replace(
                h,
                points=all_moved(h.points),
                centre=once(h.centre) if h.centre is not None else None,
            )
            for h in piece.holes
        ),
        notches=tuple(replace(n, points=all_moved(n.points)) for n in piece.notches),
    )
    laid.kept.append(outline(piece).moved(once))
    return laid


def cut_key(piece: Piece) -> tuple[object, ...]:
    """Equal for pieces that are cut and bent alike, whatever their faces are called."""
    lines = sorted(
        (_rounded((*sorted((h.start, h.end)),)), round(h.angle, SAME_CUT), h.forming.value)
        for h in piece.bends
    )
    holes = sorted(_rounded(sorted(h.points)) for h in piece.holes)
    crossed = sorted(_rounded(sorted(piece.facet(name).corners)) for name in piece.cross_break)
    return piece.name, _rounded(sorted(outline(piece).points)), *lines, *holes, *crossed


def _rounded(points: Iterable[tuple[Length, Length]]) -> tuple[tuple[float, float], ...]:
    return tuple((round(float(x), SAME_CUT), round(float(y), SAME_CUT)) for x, y in points)
