"""Room for letters: matplotlib's own measure is the referee."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from takeoff.drawing.lettering import CAPITALS, ELLIPSIS, LINE, fitted, largest, width, wrapped

SAMPLES = (
    "RB1 wrap",
    "58 1/2 x 23, turned",
    "offcut 12A",
    "MMMWWW@@%%",
    "~25 15/16",
    "galvanized 26 ga, 4 x 10",
    "Übergang ÄÖ é",
    "illicit ,.'",
)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", SAMPLES)
def test_a_text_never_takes_more_room_than_was_reckoned(text: str, bold: bool) -> None:
    font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    measured = TextPath((0, 0), text, size=100, prop=font, usetex=False).get_extents().width
    assert measured <= width(text, 100, bold) <= measured * 1.5


def test_capitals_are_as_high_as_reckoned() -> None:
    font = FontProperties(family="DejaVu Sans")
    high = TextPath((0, 0), "H", size=100, prop=font).get_extents().height
    assert high == pytest.approx(CAPITALS * 100, abs=1)


@given(st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=60), st.floats(10, 400))
def test_wrapped_and_fitted_keep_to_their_room(text: str, room: float) -> None:
    assert width(fitted(text, 7, room), 7) <= max(room, width(ELLIPSIS, 7))
    lines = wrapped(text, 7, room)
    assert 1 <= len(lines) <= 3
    assert all(width(line, 7) <= max(room, width(ELLIPSIS, 7)) for line in lines)


def test_wrapping_loses_nothing_where_there_is_room() -> None:
    text = "strip 10, across at 55 1/4: T1 wrap, 24 joint is left"
    lines = wrapped(text, 7, 120)
    assert len(lines) > 1
    assert " ".join(lines) == text


def test_largest_just_fits() -> None:
    lines = ["RB1 wrap", "56 x 26"]
    size = largest(lines, (60, 30))
    wide, high = width(lines[0], size), (LINE + CAPITALS) * size
    assert max(wide / 60, high / 30) == pytest.approx(1)
