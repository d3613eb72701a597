"""Lists: nothing is lost, nothing leaves its column, headings stay with what they head."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.drawing.extent import text_box
from takeoff.drawing.listing import SPACE, Column, Row, Style, entry, filled, heading
from takeoff.drawing.page import GAP, WIDE
from takeoff.drawing.running_pages import full_columns

STYLE = Style(9.0, 30.0)
COLUMN = Column(50.0, 300.0, 160.0, 100.0)
words = st.text("abcdef 1/2W", min_size=1, max_size=120).filter(str.strip)


@given(st.lists(words, min_size=1, max_size=30))
def test_every_word_is_placed_inside_the_columns(texts: list[str]) -> None:
    rows = [row for n, text in enumerate(texts, 1) for row in entry(str(n), text, 160.0, STYLE)]
    said: list[str] = []
    left = rows
    while left:
        found, left = filled(left, [COLUMN], STYLE)
        assert found
        for item in found:
            (x0, y0), (x1, y1) = text_box(item, 1.0)
            assert x1 <= COLUMN.left + COLUMN.width + 1e-6
            assert COLUMN.top - COLUMN.height - 1e-6 <= y0
            assert y1 <= COLUMN.top + 1e-6
            assert x0 >= COLUMN.left - 1e-6
        said += [item.text for item in found]
    assert sum(row.text != "" for row in rows) + len(texts) == len(said)


def test_a_heading_goes_on_with_its_first_line() -> None:
    room = COLUMN.rows(STYLE)
    rows = [Row("line")] * (room - 1) + [*heading("Title", 160.0, STYLE), Row("first")]
    texts, left = filled(rows, [COLUMN], STYLE)
    assert len(texts) == room - 1
    assert [row.text for row in left] == ["Title", "first"]


def test_empty_lines_are_dropped_at_the_head_of_a_column() -> None:
    texts, left = filled([SPACE, SPACE, Row("first")], [COLUMN], STYLE)
    assert ([item.text for item in texts], left) == (["first"], [])
    assert texts[0].at[1] == pytest.approx(COLUMN.top - STYLE.step / 2)


def test_a_number_that_is_too_wide_has_a_line_of_its_own() -> None:
    rows = list(entry("1234-1237", "strip 1", 160.0, STYLE))
    assert [row.text for row in rows] == ["1234-1237", "strip 1"]


def test_a_line_is_never_broken_inside_a_number() -> None:
    lines = [row.text for row in entry("", "41 1/4 x 11 1/2 " * 9, 80.0, Style(9.0, 0.0))]
    assert len(lines) > 3
    assert not [line for line in lines if line.startswith(("1/4", "1/2"))]


def test_columns_fill_the_page() -> None:
    third = (WIDE - 2 * GAP) / 3
    columns = list(full_columns(third))
    assert len(columns) == 3
    assert len(list(full_columns(third + 1))) == 2
    assert columns[0].left < columns[1].left < columns[2].left
