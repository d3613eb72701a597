"""Hanger straps by hand."""

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
@given(st.integers(16, 1600), st.integers(6, 64))
def test_a_foot_is_bent_square(length: int, foot: int) -> None:
    result = made("hanger strap", length=Fraction(length, 16), foot=Fraction(foot, 16))
    assert_folds_and_meets(result)
    (strap,) = result.pieces
    # 1 in wide, and the foot stands where the strap ends
    assert (outline(strap).width, outline(strap).length) == (Fraction(length + foot, 16), 1)
    assert extent_at(face_points(strap), 0, length / 16) == pytest.approx([1, foot / 16])


def test_a_plain_strap_is_a_strip() -> None:
    (strap,) = made("hanger strap", length=18, width="1 1/2").pieces
    assert (outline(strap).width, outline(strap).length) == (18, Fraction(3, 2))
    assert strap.hinges == ()


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"foot": "3/8"}, None),
        ({"foot": "5/16"}, "foot"),
        ({"length": 120}, None),
        ({"length": "120 1/16"}, "length"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("hanger strap", **{"length": 24, **cells}), column)
