"""Flat patterns: the outline to scale, marks as a tape reads them, nothing over anything."""

from collections.abc import Iterator
from itertools import combinations

import pytest

from takeoff.blanks import JobBlank, make_line
from takeoff.drawing import theme
from takeoff.drawing.bench_marks import bench_marks
from takeoff.drawing.piece import bend_pen, flat_pattern
from takeoff.drawing.primitives import Area, Drawing, Lines, spots
from takeoff.fittings import families
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, MILLIMETRE, show_exactly
from takeoff.pattern.bending import BendStep, Place, bend_order
from takeoff.pattern.facets import Forming
from takeoff.pattern.marks import Axis, running_marks
from takeoff.pattern.outline import outline
from tests.takeoff.fittings.making import card, example_card, shop

from .overlaps import outside, overlapping, texts

ROOM = (385.0, 240.0)


def blanks_of(kind: str, **cells: object) -> tuple[JobBlank, ...]:
    bench = shop()
    return make_line(JobLine(2, "F1", card(kind, **cells), 1, bench.metal), bench).blanks


def example_blanks() -> Iterator[JobBlank]:
    for number, family in enumerate(families().values(), 1):
        bench = shop()
        line = JobLine(2, f"F{number}", example_card(family, family.examples[0]), 1, bench.metal)
        yield from make_line(line, bench).blanks


def natural_order(blank: JobBlank) -> tuple[BendStep, ...]:
    """Every brake bend by itself: the order does not matter to the drawing."""
    return tuple(
        BendStep((hinge,), "bend", hinge.angle, Place.ANYWHERE)
        for hinge in blank.piece.bends
        if hinge.forming is Forming.BRAKE
    )


def drawn(blank: JobBlank, order: tuple[BendStep, ...] = ()) -> Drawing:
    return flat_pattern(blank.piece, order, INCH, ROOM, blank.name)


EXAMPLES = list(example_blanks())
every_example = pytest.mark.parametrize("blank", EXAMPLES, ids=[each.name for each in EXAMPLES])


@every_example
def test_nothing_is_written_over_anything_else(blank: JobBlank) -> None:
    drawing = drawn(blank, natural_order(blank))
    assert list(overlapping(drawing)) == []
    assert outside(drawing) == []
    assert min(text.size for text in texts(drawing)) >= theme.SMALLEST_NUMBER


@every_example
def test_the_outline_is_the_piece_s(blank: JobBlank) -> None:
    drawing = drawn(blank)
    outlines = [i for i in drawing.items if isinstance(i, Area) and i.pen == theme.OUTLINE]
    assert [item.points for item in outlines] == [spots(outline(blank.piece).points)]
    holes = [i for i in drawing.items if isinstance(i, Area) and i.pen == theme.HOLE]
    assert len(holes) == len(blank.piece.holes)
    bends = [i for i in drawing.items if isinstance(i, Lines) and i.pen in BENDS]
    assert len(bends) == len(blank.piece.bends)


BENDS = (theme.BEND_UP, theme.BEND_DOWN, theme.FORMED)


def test_kinds_of_line_are_told_apart_without_colour() -> None:
    pens = [*BENDS, theme.CROSS_BREAK, theme.OUTLINE]
    assert all(one.dash != other.dash for one, other in combinations(pens, 2))
    assert max(pen.grey for pen in pens) < 0.5
    assert bend_pen(90, Forming.BRAKE) == theme.BEND_UP
    assert bend_pen(-90, Forming.BRAKE) == theme.BEND_DOWN
    assert bend_pen(0, Forming.LOCK_FORMER) == bend_pen(5, Forming.ROLL) == theme.FORMED


def test_the_marks_of_a_return_box_wrap() -> None:
    # common practice, no source: a box 17 1/2 wide, 21 deep, 18 high with a 2 in bearing flange
    # and a 1/2 in lip has its wrap's lines at 1/2, 2 1/2, 20 1/2, 38, 56, 58, 58 1/2 the far edge
    wrap, *_ = blanks_of("return box", width="17 1/2", depth="21", height="18")
    written = [text.text for text in texts(drawn(wrap))]
    for mark in ("0", "1/2", "2 1/2", "20 1/2", "38", "56", "58", "58 1/2"):
        assert mark in written
    metric = flat_pattern(wrap.piece, (), MILLIMETRE, ROOM, "wrap")
    assert "520.7" in [text.text for text in texts(metric)]  # 20 1/2 in


def test_bends_are_numbered_in_their_order() -> None:
    wrap, *_ = blanks_of("return box", width="17 1/2", depth="21", height="18")
    order = natural_order(wrap)
    numbers = [text.text for text in texts(drawn(wrap, order)) if text.bold]
    assert {str(number) for number in range(1, len(order) + 1)} <= set(numbers)


def test_both_edges_of_a_cheek_that_are_turned_by_hand_have_a_number() -> None:
    curved = 0
    for cells in families()["elbow"].examples:
        for blank in blanks_of("elbow", **cells):
            order = bend_order(blank.piece, shop().profile.brake)
            drawing = drawn(blank, order)
            numbers = [text.text for text in texts(drawing) if text.bold]
            wanted = [str(number) for number, step in enumerate(order, 1) if step.curved]
            assert set(wanted) <= set(numbers), blank.name
            assert list(overlapping(drawing)) == []
            curved += len(wanted)
    assert curved


def test_the_lines_of_a_roll_have_no_marks_of_their_own() -> None:
    pipe, *_ = blanks_of("round pipe", diameter="8", length="30")
    every = running_marks(pipe.piece, Axis.WIDTH), running_marks(pipe.piece, Axis.LENGTH)
    told = bench_marks(pipe.piece, Axis.WIDTH), bench_marks(pipe.piece, Axis.LENGTH)
    assert sum(map(len, told)) < sum(map(len, every))
    for axis in told:
        assert axis[-1].label == "far edge"
    far = show_exactly(outline(pipe.piece).width, INCH)
    assert far in [text.text for text in texts(drawn(pipe))]


def test_a_needle_keeps_its_marks_apart() -> None:
    needle, *_ = blanks_of("end cap", width="90", height="1/4", edge="raw")
    assert list(overlapping(drawn(needle))) == []
