"""Plans in shop units: nothing lost on the way from the engine, and cuts a person can follow."""

import re
from collections import Counter
from collections.abc import Callable
from fractions import Fraction

import pytest
from shapely.geometry import box
from shapely.ops import unary_union

from takeoff.layouts import SCRAP, SLIVER, WHOLE, Layout, layouts
from takeoff.nest import JobPlan
from tests.takeoff.papers.plans import ALL, inch_plan, saw_plan

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


@every_plan
def test_every_blank_is_on_a_sheet_or_told_as_missing(plan: Callable[[], JobPlan]) -> None:
    job = plan()
    wanted = {blank.name: blank.qty for group in job.groups for blank in group.blanks}
    found: Counter[str] = Counter()
    for layout in layouts(job):
        for part in layout.parts:
            found[part.blank.name] += layout.count
    for group in job.groups:
        for entry in group.plan.unplaced:
            found[entry.blank.name] += entry.qty
    assert found == wanted


@every_plan
def test_sizes_are_those_of_the_blanks_up_to_the_grid(plan: Callable[[], JobPlan]) -> None:
    job = plan()
    step = 1 / job.grid.per_inch
    for layout in layouts(job):
        for part in layout.parts:
            width, length = part.size
            assert 0 <= width - Fraction(part.blank.width) < step
            assert 0 <= length - Fraction(part.blank.length) < step


@every_plan
def test_parts_offcuts_and_scrap_do_not_overlap_and_fill_the_sheet(
    plan: Callable[[], JobPlan],
) -> None:
    for layout in layouts(plan()):
        boxes = [*(part.box for part in layout.parts), *(o.box for o in layout.offcuts)]
        boxes += layout.scrap
        shapes = [
            box(*map(float, (b.x, b.y, b.x + b.width, b.y + b.length))) for b in boxes
        ]  # shapely is the referee
        union = unary_union(shapes).area
        assert union == pytest.approx(sum(shape.area for shape in shapes))
        assert union + float(layout.lost) == pytest.approx(float(layout.area))
        areas = layout.parts_area + layout.offcuts_area + layout.scrap_area
        assert areas == layout.area  # exactly


@every_plan
def test_the_cuts_can_be_followed_from_the_sheet_to_the_blanks(
    plan: Callable[[], JobPlan],
) -> None:
    for layout in layouts(plan()):
        table, got = {WHOLE}, Counter[str]()
        cuts = layout.cuts
        for cut in cuts:
            assert cut.part in table
            freed = [cut.falls_off, *(cut.stays.split(" and ") if cut.stays else [])]
            for name in freed:
                if name.startswith("strip "):
                    table.add(name)
                elif name not in (SCRAP, SLIVER):
                    got[name] += 1
            if all(later.part != cut.part for later in cuts[cut.number :]):
                table.remove(cut.part)
        assert table == (set() if cuts else {WHOLE})
        parts = Counter(part.blank.name for part in layout.parts)
        offcuts = Counter(f"offcut {offcut.label}" for offcut in layout.offcuts)
        assert got == (parts + offcuts if cuts else Counter())


def test_labels_are_unique_in_the_job() -> None:
    labels = [o.label for layout in layouts(inch_plan()) for o in layout.offcuts]
    assert len(set(labels)) == len(labels)
    assert all(re.fullmatch(r"\d+[A-Z]+", label) for label in labels)


def test_kerf_and_trim_count_as_lost() -> None:
    found: list[Layout] = list(layouts(saw_plan()))
    assert all(layout.trim == Fraction(1, 4) for layout in found)
    # the trim alone: a frame 1/4 wide round a sheet of width W and length L
    for layout in found:
        frame = layout.area - (layout.width - Fraction(1, 2)) * (layout.length - Fraction(1, 2))
        assert layout.lost > frame
