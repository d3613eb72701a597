"""Curved edges found in outlines: arcs by centre and radius, and what is no arc."""

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.drawing.curves import curves, sharp_corners, slants
from takeoff.drawing.primitives import spots
from takeoff.lengths import INCH
from takeoff.papers.piece_words import curve_lines
from takeoff.pattern.outline import outline

from .test_piece import blanks_of

sizes = st.floats(1, 40)


def quarter(radius: float, centre: tuple[float, float], steps: int) -> list[tuple[float, float]]:
    turns = [pi / 2 * step / steps for step in range(steps + 1)]
    return [(centre[0] + radius * cos(t), centre[1] + radius * sin(t)) for t in turns]


@given(sizes, sizes, st.integers(6, 60), st.floats(-9, 9), st.floats(-9, 9))
def test_the_two_arcs_of_a_quarter_ring(
    inner: float, wide: float, steps: int, x: float, y: float
) -> None:
    outer = quarter(inner + wide, (x, y), steps)
    found = list(curves([*quarter(inner, (x, y), steps)[::-1], *outer]))
    assert sorted(each.radius or 0 for each in found) == pytest.approx([inner, inner + wide])
    for each in found:
        assert each.centre == pytest.approx((x, y), abs=1e-6)
        assert len(each.points) == steps + 1


@given(sizes, sizes)
def test_a_rectangle_with_points_along_its_edges_has_none(wide: float, high: float) -> None:
    low = [(wide * n / 8, 0.0) for n in range(8)]
    top = [(wide - wide * n / 8, high) for n in range(8)]
    points = [*low, (wide, 0.0), *top, (0.0, high)]
    assert list(curves(points)) == []
    assert len(list(sharp_corners(points))) == 4


def test_a_disc_is_one_arc() -> None:
    (found,) = curves([(5 * cos(n / 24 * pi), 5 * sin(n / 24 * pi)) for n in range(48)])
    assert (found.radius, found.centre) == (pytest.approx(5), pytest.approx((0, 0), abs=1e-9))


def test_a_wave_is_a_curve_and_no_arc() -> None:
    wave = [(float(n), 2 + sin(n / 5)) for n in range(32)]
    (found,) = curves([(0.0, 0.0), (31.0, 0.0), *wave[::-1]])
    assert found.radius is None
    assert set(found.points) == set(wave)


def test_the_cheek_of_an_elbow_is_told_by_its_radii() -> None:
    # throat 6, width 20: the cheek is cut at 6 - 3/16 and 6 + 20 + 3/16 for its single edges
    cheek = blanks_of("elbow", width="20", height="10", throat="6")[0].piece
    radii = sorted(each.radius or 0 for each in curves(spots(outline(cheek).points)))
    assert radii == pytest.approx([6 - 3 / 16, 26 + 3 / 16], abs=0.01)
    told = sorted(curve_lines(cheek, INCH))
    assert "radius 26 3/16: its centre is 26 3/16 from the left edge and 26 3/16" in told[0]
    assert "radius 5 13/16" in told[1]


def test_the_slanting_edges_of_a_house() -> None:
    house = [(0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (4.0, 8.0), (0.0, 5.0)]
    assert list(slants(house)) == [((8.0, 5.0), (4.0, 8.0)), ((4.0, 8.0), (0.0, 5.0))]


def test_a_slant_ends_where_its_edge_is_kinked() -> None:
    band = [(0.0, 0.0), (1.0, 0.0), (19.0, 1.0), (20.0, 1.0), (20.0, 9.0), (0.0, 9.0)]
    assert list(slants(band)) == [((1.0, 0.0), (19.0, 1.0))]


def test_a_curve_is_no_slant() -> None:
    ring = [*quarter(6.0, (0.0, 0.0), 20)[::-1], *quarter(20.0, (0.0, 0.0), 20)]
    assert list(slants(ring)) == []
