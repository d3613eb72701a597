"""From fittings to counted blanks."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.blanks import by_metal, grid_size, make_job, make_line
from takeoff.errors import JobFaults
from takeoff.fittings import CannotMake
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.materials import sheet
from takeoff.nest import CannotNest, nest_job, usable_sizes
from takeoff.pattern.outline import lies_simple, outline
from takeoff.pattern.plane import area
from takeoff.profile import default, loads
from takeoff.stock import standard
from tests.takeoff.fittings.making import STANDARD_SHEETS, card, shop

METAL = sheet("galvanized", 26)


def line(row: int, mark: str, kind: str, qty: int = 1, gauge: int = 26, **cells: object) -> JobLine:
    return JobLine(row, mark, card(kind, **cells), qty, sheet("galvanized", gauge))


def sizes(_: object) -> tuple[tuple[int, int], ...]:
    return STANDARD_SHEETS


def test_equal_pieces_are_one_blank_with_a_count() -> None:
    # a return box has two equal ends: 3 boxes, 6 ends
    made = make_line(line(2, "RB1", "return box", 3, width=18, depth=21, height=16), shop())
    assert [(blank.name, blank.qty) for blank in made.blanks] == [("RB1 wrap", 3), ("RB1 end", 6)]


def test_pieces_cut_differently_are_numbered() -> None:
    cells = {"width": 18, "depth": 21, "height": 16, "openings": "front 8 x 6"}
    made = make_line(line(2, "RB1", "return box", **cells), shop())
    assert [blank.name for blank in made.blanks] == ["RB1 wrap", "RB1 end 1", "RB1 end 2"]


def test_equal_fittings_are_taken_apart_once() -> None:
    # what a fitting joins changes nothing of it; its mark, its copies and its metal do
    duct = {"width": 10, "height": 6, "length": 40}
    lines = (
        line(2, "A", "straight duct", 3, 26, **duct),
        line(3, "B", "straight duct", 1, 26, **duct, connects_to="A"),
        line(4, "C", "straight duct", 1, 24, **duct),
        line(5, "D", "straight duct", 1, 26, **(duct | {"length": 41})),
    )
    made = make_job(Job("job", INCH, lines), default(), sizes)
    assert made[0].made is made[1].made
    assert len({id(each.made) for each in made}) == 3
    for each in made:
        alone = make_line(each.line, shop(gauge=each.line.metal.gauge))
        assert each.blanks == alone.blanks


def test_weights_are_area_times_the_gauge_table() -> None:
    # 22 x 10 in: 220 / 144 ft2 at 0.906 lb/ft2; the four 1 in corners gone: 216 / 144 ft2
    (cap,) = make_line(line(2, "C1", "end cap", width=20, height=8), shop()).blanks
    assert cap.weight == pytest.approx(220 / 144 * 0.906)
    assert cap.net_weight == pytest.approx(216 / 144 * 0.906)


def test_rows_that_cannot_be_made_are_all_told() -> None:
    lines = (
        line(2, "A", "end cap", width=300, height=300),
        line(3, "B", "end cap", width=10, height=8),
        line(4, "C", "return box", width=3, depth=21, height=16),
    )
    with pytest.raises(JobFaults) as refusal:
        make_job(Job("job", INCH, lines), default(), sizes)
    assert [fault.row for fault in refusal.value.faults] == [2, 4]


def test_a_metal_that_is_not_in_stock_is_told() -> None:
    job = Job("job", INCH, (line(2, "A", "end cap", width=10, height=8),))
    with pytest.raises(JobFaults, match="has no galvanized sheet in the stock list"):
        make_job(job, default(), lambda _: ())


def test_marks_that_run_on_into_piece_names_are_told() -> None:
    # "A" with a return box has the blank "A wrap"; so has "A wrap" with ... its own "A wrap wrap"
    box = {"width": 18, "depth": 21, "height": 16}
    made = make_job(
        Job(
            "job", INCH, (line(2, "A", "return box", **box), line(3, "A wrap", "return box", **box))
        ),
        default(),
        sizes,
    )
    assert len({blank.name for each in made for blank in each.blanks}) == 4
    duct = {"width": 10, "height": 6, "length": 100}
    lines = (
        line(2, "D", "straight duct", **duct),
        line(3, "D", "straight duct", **duct),
    )
    with pytest.raises(JobFaults, match="and so does row 2"):
        make_job(Job("job", INCH, lines), default(), sizes)


def test_groups_keep_the_order_of_the_job() -> None:
    lines = (
        line(2, "A", "end cap", gauge=24, width=10, height=8),
        line(3, "B", "end cap", gauge=26, width=10, height=8),
        line(4, "C", "end cap", gauge=24, width=12, height=8),
    )
    made = make_job(Job("job", INCH, lines), default(), sizes)
    groups = by_metal(blank for each in made for blank in each.blanks)
    assert [(metal.gauge, [b.mark for b in blanks]) for metal, blanks in groups.items()] == [
        (24, ["A", "C"]),
        (26, ["B"]),
    ]


@settings(max_examples=30, deadline=None)
@given(st.fractions(2, 40), st.fractions(2, 30), st.sampled_from([INCH, MILLIMETRE]))
def test_blanks_are_rounded_up_to_the_grid_by_less_than_a_step(
    width: Fraction, height: Fraction, unit: object
) -> None:
    job = Job("job", unit, (line(2, "A", "end cap", width=width, height=height),))  # type: ignore[arg-type]
    (made,) = make_job(job, default(), sizes)
    (cap,) = made.blanks
    steps = grid_size(cap, default(), job)
    grid = default().grid.of(job.unit)
    for size, count in zip((cap.width, cap.length), steps, strict=True):
        assert 0 <= count / grid.per_inch - size < 1 / grid.per_inch


@pytest.mark.parametrize(
    ("kind", "cells"),
    [
        ("box", {"width": 1, "depth": 12, "height": 10, "edges": "hem"}),
        ("box", {"width": Fraction(3, 64), "depth": 20, "height": 24, "edges": "hem"}),
    ],
)
def test_strips_that_meet_are_told_in_shop_words(kind: str, cells: dict[str, object]) -> None:
    with pytest.raises(CannotMake, match="too small for its seams and ends"):
        make_line(line(2, "A", kind, **cells), shop())


def test_the_walls_of_a_one_piece_tray_leave_each_other_room() -> None:
    """Pocket and single edge meet at the foot of each corner: both are cut at 45 degrees there."""
    cells = {"width": 16, "depth": 12, "height": 10, "arrangement": "one piece"}
    ((blank,),) = (make_line(line(2, "A", "box", **cells), shop()).blanks,)
    assert lies_simple(blank.piece)
    facets = sum(float(area(facet.corners)) for facet in blank.piece.facets)
    assert float(outline(blank.piece).area) == pytest.approx(facets)


def test_what_the_engine_cannot_count_with_is_a_fault_of_what_was_given() -> None:
    coarse = loads("[grid]\ninch = 100")
    job = Job("job", INCH, (line(2, "A", "end cap", width=10, height=8),))
    stock = standard(coarse)
    made = make_job(job, coarse, usable_sizes(stock, coarse))
    with pytest.raises(CannotNest, match="galvanized 26 ga cannot be nested"):
        nest_job(job, made, stock, coarse, 0.1)
