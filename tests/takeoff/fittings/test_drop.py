"""Return air drops: straight duct with a filter rack in one of its joints."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.pattern.outline import outline
from tests.takeoff.fittings.folded import (
    assert_folds_and_meets,
    assert_limit,
    extent_at,
    face_points,
    hole_places,
)
from tests.takeoff.fittings.making import card, made


@settings(max_examples=20, deadline=None)
@given(
    st.integers(8, 25),
    st.integers(8, 25),
    st.integers(12, 46),
    st.floats(0, 1),
    st.sampled_from(["left", "right", "top", "bottom"]),
)
def test_any_drop_folds_and_has_its_filter_where_it_was_asked(
    width: int, height: int, length: int, part: float, slot: str
) -> None:
    at = round(1.5 + part * (length - 3), 2)
    result = made("drop", width=width, height=height, length=length, filter_at=str(at), slot=slot)
    assert_folds_and_meets(result)
    points = face_points(*(p for p in result.pieces if "rail" not in p.name and p.name != "cover"))
    for end in (0, length):
        assert extent_at(points, 1, end) == pytest.approx([width, height])
    slots = np.vstack([hole_places(p, "slot") for p in result.pieces])
    (place,) = slots
    assert place[1] == pytest.approx(at)
    across = {"left": (0, 0), "right": (0, width), "bottom": (2, 0), "top": (2, height)}
    axis, value = across[slot]
    assert place[axis] == pytest.approx(value, abs=1e-9)


def test_without_its_rack_it_is_straight_duct() -> None:
    cells = {"width": 20, "height": 14, "length": 58}
    drop = made("drop", filter_at=52, **cells)
    duct = made("straight duct", **cells)
    wraps = [p for p in drop.pieces if p.name.startswith("wrap")]
    assert [outline(p).points for p in wraps] == [outline(p).points for p in duct.pieces]
    assert [p.name for p in wraps] == [p.name for p in duct.pieces]
    # the rack is in the second joint, 47 to 58
    assert [any(h.label.startswith("slot") for h in p.holes) for p in wraps] == [False, True]
    assert len(drop.joints) == len(duct.joints) == 1


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        # joints of 47: a rack of 1 takes up 1 1/2 on either side of its middle
        ({"filter_at": "45 1/2"}, None),
        ({"filter_at": "45 9/16"}, "filter_at"),
        ({"filter_at": "48 7/16"}, "filter_at"),
        ({"filter_at": "48 1/2"}, None),
        ({"filter_at": "1 1/2"}, None),
        ({"filter_at": "1 7/16"}, "filter_at"),
        ({"filter_at": "58 1/2"}, None),
        ({"filter_at": "58 9/16"}, "filter_at"),
    ],
)
def test_limits_name_their_column(cells: dict[str, object], column: str | None) -> None:
    assert_limit(card("drop", **{"width": 20, "height": 14, "length": 60, **cells}), column)
