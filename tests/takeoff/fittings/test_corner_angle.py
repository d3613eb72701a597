"""Corner angles by hand."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from tests.takeoff.fittings.folded import assert_folds_and_meets, assert_limit
from tests.takeoff.fittings.making import card, made


@settings(max_examples=20, deadline=None)
@given(st.integers(6, 64), st.integers(6, 64), st.integers(1, 135))
def test_its_legs_stand_at_the_angle(first: int, second: int, angle: int) -> None:
    result = made(
        "corner angle",
        leg_1=Fraction(first, 16),
        leg_2=Fraction(second, 16),
        angle=angle,
        length=12,
    )
    assert_folds_and_meets(result)
    (piece,) = result.pieces
    assert outline(piece).width == Fraction(first + second, 16)
    folded = fold_in_place(piece)
    a, b = (folded[f"leg {i}"][1] - folded[f"leg {i}"][0] for i in (1, 2))
    cos = float(a @ b / np.linalg.norm(a) / np.linalg.norm(b))
    assert cos == pytest.approx(math.cos(math.radians(angle)), abs=1e-9)


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ({"leg_1": "3/8"}, None),
        ({"leg_1": "5/16"}, "leg_1"),
        ({"length": 96}, None),
        ({"length": "96 1/16"}, "length"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("corner angle", **{"length": 2, **cells}), column)


def test_more_than_135_degrees_is_refused() -> None:
    card("corner angle", length=2, angle=135)
    with pytest.raises(ValidationError) as caught:
        card("corner angle", length=2, angle=136)
    assert caught.value.errors()[0]["loc"] == ("angle",)
