"""Polygons: shapely is the referee."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from takeoff.drawing.polygons import area, convex_parts, overlap

Spots = list[tuple[float, float]]


def star(reaches: list[float]) -> Spots:
    """A polygon seen whole from its middle: convex or not, it never crosses itself."""
    turn = 2 * math.pi / len(reaches)
    return [(r * math.cos(i * turn), r * math.sin(i * turn)) for i, r in enumerate(reaches)]


stars = st.lists(st.floats(1, 10), min_size=3, max_size=12).map(star)
triangles = st.lists(st.floats(1, 10), min_size=3, max_size=3).map(star)


@given(triangles, triangles, st.floats(-10, 10), st.floats(-10, 10))
def test_overlap_of_convex_polygons(a: Spots, b: Spots, x: float, y: float) -> None:
    moved = [(px + x, py + y) for px, py in b]
    # on a grid: with corners 1e-196 apart shapely found that nothing is shared
    shared = shapely.intersection(Polygon(a), Polygon(moved), grid_size=1e-9).area
    assert abs(area(overlap(a, moved))) == pytest.approx(shared, abs=1e-5)


@given(stars)
def test_convex_parts_make_up_the_polygon(points: Spots) -> None:
    parts = convex_parts(points)
    assert sum(area(part) for part in parts) == pytest.approx(area(points))
    for part in parts:
        assert Polygon(part).convex_hull.area == pytest.approx(abs(area(part)), abs=1e-6)
        assert Polygon(part).difference(Polygon(points).buffer(1e-6)).area < 1e-5


def test_a_convex_polygon_stays_whole() -> None:
    assert len(convex_parts([(0, 0), (2, 0), (2, 1), (0, 1)])) == 1
    assert len(convex_parts([(0, 0), (2, 0), (2, 2), (1, 2), (1, 1), (0, 1)])) > 1
