"""Sheet layouts: to scale, every blank named, nothing written over anything else."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from takeoff.drawing import theme
from takeoff.drawing.page import SIZE
from takeoff.drawing.primitives import Area, Drawing, Lines, Text
from takeoff.drawing.sheet import numbered, sheet_drawing
from takeoff.drawing.sheet_page import sheet_pages
from takeoff.layouts import Box, Layout, Part, layouts
from takeoff.lengths import INCH, show_exactly
from takeoff.nest import JobPlan
from tests.takeoff.papers.plans import ALL, inch_plan, short_plan, small_plan

from .overlaps import outside, overlapping, texts

ROOM = (400.0, 560.0)
every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


def wide() -> Layout:
    """A sheet wider than it is long, as a piece drawn off a coil may be."""
    layout = layouts(short_plan())[0]
    part = layout.parts[0]
    box = Box(Fraction(0), Fraction(0), Fraction(32), Fraction(32))
    item = replace(layout.item, width=Fraction(120), length=Fraction(34))
    parts = (Part(part.blank, box, False),)
    return replace(
        layout, item=item, width=item.width, length=item.length, parts=parts, offcuts=(), cuts=()
    )


def drawings(job: JobPlan) -> Iterator[tuple[Layout, Drawing]]:
    for layout in layouts(job):
        yield layout, sheet_drawing(layout, job.job.unit, ROOM)


@every_plan
def test_nothing_is_written_over_anything_else(plan: Callable[[], JobPlan]) -> None:
    job = plan()
    for layout, drawing in drawings(job):
        assert list(overlapping(drawing)) == []
        assert outside(drawing) == []
        for page in sheet_pages(layout, job.job.unit, job.job.name):
            assert list(overlapping(page)) == []
            assert outside(page) == []


@every_plan
def test_letters_can_be_read_at_a_bench(plan: Callable[[], JobPlan]) -> None:
    for _, drawing in drawings(plan()):
        assert min(text.size for text in texts(drawing)) >= theme.SMALLEST_NUMBER


@every_plan
def test_blanks_are_to_scale_where_they_lie(plan: Callable[[], JobPlan]) -> None:
    for layout, drawing in drawings(plan()):
        drawn = {item.points for item in drawing.items if isinstance(item, Area) and item.pen}
        for part in layout.parts:
            x, y = float(part.box.x), float(part.box.y)
            far = x + float(part.box.width), y + float(part.box.length)
            assert ((x, y), (far[0], y), far, (x, far[1])) in drawn
        wide, high = drawing.size
        assert wide <= ROOM[0] + 1e-6
        assert high <= ROOM[1] + 1e-6


def test_a_blank_carries_name_size_and_whether_it_is_turned() -> None:
    for layout, drawing in drawings(inch_plan()):
        written = [text.text for text in texts(drawing)]
        numbers = numbered(layout)
        for part in layout.parts:
            name = part.blank.name
            short = len(name) < 12  # a longer one gives way to its number where it has no room
            assert name in written or (not short and str(numbers[name]) in written)
            size = " x ".join(show_exactly(side, INCH) for side in part.size)
            assert any(size in text for text in written)
        turned = sum(part.turned for part in layout.parts)
        assert sum("turned" in text for text in written) == turned


def test_what_is_too_small_to_be_written_in_has_a_number_or_a_tag() -> None:
    for layout, drawing in drawings(small_plan()):
        numbers = numbered(layout)
        told = dict.fromkeys(numbers, 0)
        for item in texts(drawing):
            for name, number in numbers.items():
                if item.text.split(",")[0] == name or item.text in (name, str(number)):
                    told[name] += 1
                elif item.text.startswith(f"{number} (") and item.text.endswith("×)"):
                    told[name] += int(item.text[len(f"{number} (") : -2])
        wanted = dict.fromkeys(numbers, 0)
        for part in layout.parts:
            wanted[part.blank.name] += 1
        assert told == wanted


def test_offcuts_are_hatched_and_have_their_size() -> None:
    for layout, drawing in drawings(inch_plan()):
        hatched = [i for i in drawing.items if isinstance(i, Lines) and i.pen == theme.HATCH]
        assert len(hatched) == len(layout.offcuts)
        written = " ".join(text.text for text in texts(drawing))
        for offcut in layout.offcuts:
            size = " x ".join(show_exactly(s, INCH) for s in (offcut.box.width, offcut.box.length))
            assert size in written


def test_a_wide_sheet_has_its_lists_below() -> None:
    (page,) = sheet_pages(wide(), INCH, "Trial")
    (heading,) = [item for item in texts(page) if item.text == "Blanks on this sheet"]
    sheet = next(i for i in page.items if isinstance(i, Area) and i.fill == theme.SCRAP)
    assert heading.at[1] < min(y for _, y in sheet.points)
    assert list(overlapping(page)) == []
    assert outside(page) == []


def test_the_page_tells_how_often_to_cut_and_warns() -> None:
    layout = replace(layouts(inch_plan())[0], count=7)
    page = sheet_pages(layout, INCH, "Trial")[0]
    assert page.high == SIZE
    said = [item.text for item in page.items if isinstance(item, Text)]
    assert said[0].startswith("Layout 1: cut 7 sheets like this")
    assert any("Check every size before you cut" in text for text in said)


def test_lists_too_long_for_the_page_go_on_on_the_next() -> None:
    layout = layouts(inch_plan())[-1]
    strip = layout.cuts[0]
    cuts = tuple(replace(strip, number=n, falls_off=f"blank {n}", stays="") for n in range(1, 300))
    pages = sheet_pages(replace(layout, cuts=cuts), INCH, "Trial")
    assert len(pages) > 1
    assert texts(pages[1])[0].text.endswith("(continued)")
    said = [item.text for page in pages for item in texts(page)]
    numbers = [int(text) for text in said if text.isdigit() and int(text) > len(layout.parts)]
    assert set(range(len(layout.parts) + 1, 300)) <= set(numbers)  # not one cut is left out
    for page in pages:
        assert outside(page) == []
        assert list(overlapping(page)) == []


def test_a_job_name_of_any_length_keeps_to_the_page() -> None:
    page = sheet_pages(layouts(inch_plan())[0], INCH, "A job with a very long name " * 20)[0]
    assert outside(page) == []
