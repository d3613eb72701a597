"""S slips by hand."""

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
@given(st.integers(16, 1500), st.integers(8, 32))
def test_its_three_legs_lie_on_each_other(side: int, leg: int) -> None:
    result = made("slip cleat", duct_side=Fraction(side, 16), leg=Fraction(leg, 16))
    assert_folds_and_meets(result)
    (cleat,) = result.pieces
    assert extent_at(face_points(cleat), 2, 0.0) == pytest.approx([leg / 16, side / 16])
    assert outline(cleat).width == 3 * Fraction(leg, 16)
    assert [hinge.angle for hinge in cleat.hinges] == [180, -180]


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"leg": "3/8"}, None),
        ({"leg": "5/16"}, "leg"),
        ({"duct_side": 96}, None),
        ({"duct_side": "96 1/16"}, "duct_side"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("slip cleat", **{"duct_side": 20, **cells}), column)
