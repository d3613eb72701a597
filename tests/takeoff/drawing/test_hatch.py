"""Hatching."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.drawing.hatch import hatch

sides = st.floats(0.5, 100)


@given(st.floats(-50, 50), st.floats(-50, 50), sides, sides, st.floats(0.5, 20))
def test_lines_slant_at_45_degrees_inside_the_rectangle(
    x: float, y: float, wide: float, high: float, step: float
) -> None:
    for (x0, y0), (x1, y1) in hatch((x, y), (x + wide, y + high), step):
        assert x1 - x0 == pytest.approx(y1 - y0, abs=1e-6)
        assert x - 1e-9 <= x0 < x1 <= x + wide + 1e-9
        assert y - 1e-6 <= y0 < y1 <= y + high + 1e-6


def test_a_rectangle_is_covered_evenly() -> None:
    lines = list(hatch((0, 0), (10, 10), 1))
    # the diagonal is 10 sqrt 2 = 14.1 long, a line every 1: 14 or 15 of them
    assert len(lines) in (14, 15)
