"""Shapely as the referee of flat pieces: what their facets cover."""

from collections.abc import Iterable
from typing import SupportsFloat

from shapely.geometry import Polygon
from shapely.ops import unary_union

from takeoff.pattern.facets import Piece, Role
from takeoff.pattern.outline import hole_area, outline


def polygon(points: Iterable[tuple[SupportsFloat, SupportsFloat]]) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in points])


def assert_outline_is_its_facets(piece: Piece) -> None:
    """A simple outline, no facet on another, and the outline is their union."""
    shape = polygon(outline(piece).points)
    facets = [polygon(facet.corners) for facet in piece.facets]
    whole = unary_union([facet.buffer(1e-7) for facet in facets])
    assert shape.is_valid, piece.name
    covered = sum(facet.area for facet in facets)
    assert abs(covered - whole.area) < 1e-3 * (1 + whole.area / 100), piece.name
    assert shape.symmetric_difference(whole).area < 1e-3 * (1 + shape.length / 100), piece.name


def face_area(*pieces: Piece) -> float:
    """Flat area of the faces, without seam and end strips, cut-outs taken off (in2)."""
    faces = sum(
        polygon(facet.corners).area
        for piece in pieces
        for facet in piece.facets
        if facet.role is Role.FACE
    )
    return float(faces) - sum(float(hole_area(hole)) for piece in pieces for hole in piece.holes)
