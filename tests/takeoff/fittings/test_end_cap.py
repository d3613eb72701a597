"""End caps."""

from fractions import Fraction

import pytest

from takeoff.fittings import CannotMake
from takeoff.pattern.allowances import notch_size
from takeoff.pattern.fold import fold_in_place
from takeoff.pattern.outline import outline
from tests.takeoff.fittings.making import made, sizes


def test_a_cap_is_its_panel_with_four_turned_edges() -> None:
    # 1 + 20 + 1 by 1 + 8 + 1, a 1 x 1 notch in each corner: 220 - 4
    result = made("end cap", width=20, height=8)
    assert sizes(result.pieces) == {"cap": (22, 10)}
    (cap,) = result.pieces
    assert outline(cap).area == 216
    assert [notch_size(notch) for notch in cap.notches] == [(1, 1)] * 4


def test_the_edge_turns_as_far_as_asked() -> None:
    (cap,) = made("end cap", width=14, height=10, flange="3/4").pieces
    assert (outline(cap).width, outline(cap).length) == (15 + Fraction(1, 2), 11 + Fraction(1, 2))
    reach = {round(float(y), 6) for corners in fold_in_place(cap).values() for y in corners[:, 1]}
    assert max(reach) - min(reach) == pytest.approx(0.75)


def test_edges_that_meet_in_the_middle_are_refused() -> None:
    with pytest.raises(CannotMake):
        made("end cap", width=400, height=10)
