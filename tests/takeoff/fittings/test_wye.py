"""Rectangular wyes against closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from shapely.geometry import Polygon

from takeoff.pattern.fold import fold_in_place
from tests.takeoff.covered import face_area
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
)
from tests.takeoff.fittings.making import card, made


@st.composite
def wyes(draw: st.DrawFn) -> dict[str, float]:
    width = draw(st.integers(8, 30))
    left, right = draw(st.integers(20, 75)), draw(st.integers(25, 75))
    return {
        "width": width,
        "height": draw(st.integers(4, 20)),
        "width_2": width * draw(st.integers(4, 7)) / 8,
        "width_3": width * draw(st.integers(4, 7)) / 8,
        "angle_2": left,
        "angle_3": right,
        "neck": draw(st.integers(1, 6)),
        "leg": draw(st.integers(1, 12)),
    }


def crotch(c: dict[str, float]) -> tuple[float, float]:
    """Where the inner walls cross: x sin-cos form of two lines, by Cramer's rule.

    Left inner wall: points at distance B2 from the outer one, x cos a + (y - n) sin a = B2; right
    one: (W - x) cos b + (y - n) sin b = B3.
    """
    a, b = math.radians(c["angle_2"]), math.radians(c["angle_3"])
    matrix = np.array([[math.cos(a), math.sin(a)], [-math.cos(b), math.sin(b)]])
    x, y = np.linalg.solve(matrix, [c["width_2"], c["width_3"] - c["width"] * math.cos(b)])
    return float(x), float(y) + c["neck"]


@settings(max_examples=30, deadline=None)
@given(wyes())
def test_any_wye_folds_closes_and_has_its_three_openings(cells: dict[str, float]) -> None:
    result = made("wye", **cells)
    assert_folds_and_meets(result)
    points = face_points(*result.pieces)
    assert extent_at(points, 2, 0.0) == pytest.approx([cells["width"], cells["height"]])
    walls = {p.name: fold_in_place(p) for p in result.pieces if p.name != "cheek"}
    left, right, middle = walls["left side"], walls["right side"], walls["crotch"]
    # the ends of the branches: from the outer wall's tip to the crotch wall's
    for tip, other, wide in (
        (right["right side 2"][1], middle["crotch 1"][0], cells["width_3"]),
        (left["left side 1"][0], middle["crotch 2"][1], cells["width_2"]),
    ):
        assert math.dist(tip, other) == pytest.approx(wide)
    x, y = crotch(cells)
    assert middle["crotch 1"][1] == pytest.approx([x, 0, y])


@settings(max_examples=30, deadline=None)
@given(wyes())
def test_flat_area_is_the_area_of_the_finished_sides(cells: dict[str, float]) -> None:
    """Each branch's walls are parallel: the cheek is a polygon of nine known corners."""
    result = made("wye", **cells)
    x, y = crotch(cells)
    width, neck, leg = cells["width"], cells["neck"], cells["leg"]
    a, b = math.radians(cells["angle_2"]), math.radians(cells["angle_3"])
    # how far the crotch lies along each branch; the leg counts from the later of the two starts
    past_2 = -x * math.sin(a) + (y - neck) * math.cos(a)
    past_3 = (x - width) * math.sin(b) + (y - neck) * math.cos(b)
    long_2, long_3 = leg - min(0, past_2), leg - min(0, past_3)
    inner_2 = (x - long_2 * math.sin(a), y + long_2 * math.cos(a))
    inner_3 = (x + long_3 * math.sin(b), y + long_3 * math.cos(b))
    outer_2 = (
        inner_2[0] - cells["width_2"] * math.cos(a),
        inner_2[1] - cells["width_2"] * math.sin(a),
    )
    outer_3 = (
        inner_3[0] + cells["width_3"] * math.cos(b),
        inner_3[1] - cells["width_3"] * math.sin(b),
    )
    corners = [(0, 0), (width, 0), (width, neck), outer_3, inner_3, (x, y), inner_2, outer_2]
    section = Polygon([*corners, (0, neck)])
    assert section.is_valid
    cheeks = [piece for piece in result.pieces if piece.name == "cheek"]
    assert face_area(*cheeks) == pytest.approx(2 * section.area)
    walls = [piece for piece in result.pieces if piece.name != "cheek"]
    open_sides = width + cells["width_2"] + cells["width_3"]
    assert face_area(*walls) == pytest.approx((section.length - open_sides) * cells["height"])


def test_an_even_wye_is_even() -> None:
    """Equal branches: the crotch lies on the axis, half W cot a below where they would close.

    With B2 = B3 = W / 2 at 45 degrees: y = n + W / 2 x tan 22.5, see the triangle at the neck.
    """
    result = made("wye", width=20, height=8, angle_2=45, angle_3=45, neck=2, leg=6)
    (middle,) = (p for p in result.pieces if p.name == "crotch")
    tip = fold_in_place(middle)["crotch 1"][1]
    assert tip == pytest.approx([10, 0, 2 + 10 * math.tan(math.radians(22.5))])
    sides = [face_area(p) for p in result.pieces if "side" in p.name]
    assert sides[0] == pytest.approx(sides[1])


def test_a_branch_that_does_not_lean_goes_straight_on() -> None:
    result = made("wye", width=18, height=8, angle_2=0, width_2=12, width_3=10)
    assert_folds_and_meets(result)
    (left,) = (p for p in result.pieces if p.name == "left side")
    assert [h.angle for h in left.hinges if left.facet(h.child).role == "face"] == []


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"angle_2": 20, "angle_3": 25, "leg": 12}, None),
        ({"angle_2": 20, "angle_3": 24, "leg": 12}, "angle_3"),
        ({"width_2": 8, "width_3": "6 3/16"}, None),
        ({"width_2": 8, "width_3": 6}, "width_3"),
        ({"leg": "1/4"}, "leg"),
        ({"neck": "1/4"}, "neck"),
        ({"angle_2": 80, "angle_3": 80, "leg": 2}, None),
        ({"width": 130}, "width"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    # width_3 at 45 degrees beside a branch of 8: (20 - 8 x sqrt 2) / sqrt 2 = 6.14
    assert_limit(card("wye", **{"width": 20, "height": 8, **cells}), column)


def test_a_lean_of_more_than_80_degrees_is_refused() -> None:
    card("wye", width=20, height=8, angle_2=80)
    with pytest.raises(ValidationError) as caught:
        card("wye", width=20, height=8, angle_2=81)
    assert caught.value.errors()[0]["loc"] == ("angle_2",)
