"""Equipment stands: every bolt goes through a rail and a leg, the ledge is a mitred frame."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.pattern.outline import outline
from tests.takeoff.covered import face_area, polygon
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
    hole_places,
)
from tests.takeoff.fittings.making import card, made

sizes = st.integers(10, 40).map(Fraction)


@st.composite
def stands(draw: st.DrawFn) -> dict[str, Fraction]:
    eighths = st.integers(16, 32).map(lambda n: Fraction(n, 8))
    return {
        "width": draw(sizes),
        "depth": draw(sizes),
        "height": draw(sizes),
        "rail": draw(eighths),
        "bearing": draw(eighths),
        "leg": draw(eighths),
    }


@settings(max_examples=30, deadline=None)
@given(stands())
def test_any_stand_folds_stands_level_and_is_drilled_to_meet(cells: dict[str, Fraction]) -> None:
    result = made("equipment stand", **cells)
    assert_folds_and_meets(result)
    points = face_points(*result.pieces)
    width, depth, height = (float(cells[name]) for name in ("width", "depth", "height"))
    assert extent_at(points, 2, height) == pytest.approx([width, depth])
    assert extent_at(points, 2, 0.0) == pytest.approx([width, depth])
    rails = np.vstack([hole_places(p, "bolt") for p in result.pieces if "rail" in p.name])
    legs = np.vstack([hole_places(p, "bolt") for p in result.pieces if p.name == "leg"])
    assert len(rails) == len(legs) == 16
    gaps = np.linalg.norm(rails[:, None, :] - legs[None, :, :], axis=2)
    assert gaps.min(axis=1).max() < 1e-6
    assert gaps.min(axis=0).max() < 1e-6
    assert result.hardware[0].qty == 16


@settings(max_examples=20, deadline=None)
@given(stands())
def test_area_of_the_angles(cells: dict[str, Fraction]) -> None:
    """Ledge: a frame w d - (w - 2 b)(d - 2 b), its mitres meet; sides and legs are rectangles."""
    result = made("equipment stand", **cells)
    w, d, h, r, b, g = (
        float(cells[name]) for name in ("width", "depth", "height", "rail", "bearing", "leg")
    )
    holes = 32 * np.pi * (5 / 16) ** 2 / 4
    ledges = sum(polygon(p.facet("ledge").corners).area for p in result.pieces if "rail" in p.name)
    assert ledges == pytest.approx(w * d - (w - 2 * b) * (d - 2 * b))
    assert face_area(*result.pieces) == pytest.approx(ledges + 2 * (w + d) * r + 8 * g * h - holes)


def test_blanks_by_hand() -> None:
    # rails 2 + 2 by 22 and by 28; legs 2 + 2 by 18 and a foot of 1
    result = made("equipment stand", width=22, depth=28, height=18)
    sizes_of = {p.name: sorted((outline(p).width, outline(p).length)) for p in result.pieces}
    assert sizes_of["front rail"] == pytest.approx([4, 22])
    assert sizes_of["side rail"] == pytest.approx([4, 28])
    assert sizes_of["leg"] == pytest.approx([4, 19])
    assert "licensed" in result.notes[0]


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"bearing": "10 15/16"}, None),
        ({"bearing": 11}, "bearing"),
        ({"bearing": "5/16"}, "bearing"),
        ({"rail": 18}, None),
        ({"rail": "18 1/16"}, "rail"),
        # two bolts of 5/16 in a rail: 6 x 5/16 = 1 7/8
        ({"rail": "1 7/8"}, None),
        ({"rail": "1 13/16"}, "rail"),
        ({"leg": "15/16"}, None),
        ({"leg": "7/8"}, "leg"),
        ({"foot": "lace"}, "foot"),
        ({"depth": 97}, "depth"),
        ({"width": 97}, "width"),
        ({"height": 97}, "height"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(
        card("equipment stand", **{"width": 22, "depth": 28, "height": 18, **cells}), column
    )
