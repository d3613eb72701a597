"""Drive cleats by hand."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.pattern.outline import outline
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
)
from tests.takeoff.fittings.making import card, made


@settings(max_examples=20, deadline=None)
@given(st.integers(16, 1400), st.integers(32, 64))
def test_it_folds_to_its_face_with_tails_beyond_the_side(side: int, width: int) -> None:
    result = made("drive cleat", duct_side=Fraction(side, 16), width=Fraction(width, 16))
    assert_folds_and_meets(result)
    # both folds of 1/2 lie on the face, the strip less 2 x 1/2; tails make it 2 x 1 longer
    assert extent_at(face_points(*result.pieces), 2, 0.0) == pytest.approx(
        [width / 16 - 1, side / 16 + 2]
    )


def test_the_strip_of_the_default_shop() -> None:
    (cleat,) = made("drive cleat", duct_side=8).pieces
    assert (outline(cleat).width, outline(cleat).length) == (2 + Fraction(1, 8), 10)
    assert [hinge.angle for hinge in cleat.hinges] == [180, 180]


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"width": 1}, "width"),
        ({"width": "1 1/4"}, "width"),
        ({"width": "1 3/8"}, None),
        ({"duct_side": 94}, None),
        ({"duct_side": "94 1/16"}, "duct_side"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("drive cleat", **{"duct_side": 8, **cells}), column)
