"""Operations counted by hand."""

import math
from collections.abc import Mapping
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from takeoff.bill.work import OPERATIONS, at_the_bench, at_the_shear, work
from takeoff.fittings import Fitting, families
from takeoff.layouts import layouts
from takeoff.pattern.bending import bend_order
from takeoff.profile import default
from takeoff.rates import Minutes
from tests.takeoff.bill.jobs import DUCT, row
from tests.takeoff.papers.plans import saw_plan


def counted(kind: str, cells: Mapping[str, str], qty: int = 1) -> dict[str, Fraction]:
    made = row(kind, cells, qty, 26)
    bends = {blank.name: bend_order(blank.piece, default().brake) for blank in made.blanks}
    return {rate: n for rate, n in at_the_bench(made, bends).items() if n}


def test_every_operation_has_a_rate() -> None:
    assert set(OPERATIONS) == set(Minutes.model_fields)


def test_a_joint_of_duct_by_hand() -> None:
    # one wrap 47 long: the two drives of an end are bent in one stroke, so 2; a single edge, 1;
    # three corners, 3: 6 strokes; the pocket 47 in through the lock former; the seam 47 in
    assert counted("straight duct", {**DUCT, "length": "47", "cross_break": "no"}) == {
        "blank": 1,
        "notch": 6,
        "bend": 6,
        "lock_ft": Fraction(47, 12),
        "seam_ft": Fraction(47, 12),
        "fitting": 1,
    }


def test_openings_and_holes_are_told_apart() -> None:
    boxed = {"width": "19", "depth": "24", "height": "16", "openings": "front 10 x 8; left round 6"}
    assert counted("return box", boxed)["opening"] == 2
    pan = {"width": "28", "depth": "34", "height": "2", "drain": "7/8"}
    assert counted("drain pan", pan)["hole"] == 1


def test_the_corners_of_a_folded_pan_are_bent_by_hand() -> None:
    # three bends in each of four corners: up with the side wall, back on itself, onto the end
    # wall; the four walls are strokes of the brake, as are the four hems, and nothing is curved
    pan = counted("drain pan", {"width": "24", "depth": "30", "height": "2", "rim": "hem"}, 3)
    assert (pan["hand_bend"], pan["bend"]) == (3 * 12, 3 * 8)
    assert "turned_ft" not in pan
    (line,) = (line for line in work(pan, default()) if line.rate == "hand_bend")
    assert line.minutes == 3 * 24  # the shop's 2 minutes each


def test_a_curved_edge_is_turned_by_the_foot() -> None:
    # each of the two cheeks has its single edge turned by hand round the throat, 6, and the heel,
    # 6 + 18; as curves they are a quarter circle each, less a little for the chords
    elbow = counted("elbow", {"width": "18", "height": "8", "throat": "6"})
    assert "hand_bend" not in elbow
    curves = 2 * (6 + 24) * math.pi / 2 / 12
    assert float(elbow["turned_ft"]) == pytest.approx(curves, rel=0.02)


def test_a_pipe_is_rolled_and_a_gore_is_cut_along_its_curve() -> None:
    pipe = counted("round pipe", {"diameter": "8", "length": "40"})
    assert pipe["roll"] == 1
    assert "contour_ft" not in pipe
    # 5 gores; the curves of the three whole ones alone are longer than twice 8 pi each
    elbow = counted("gored elbow", {"diameter": "8"})
    assert elbow["roll"] == 5
    assert elbow["contour_ft"] > 3 * 2 * 8 * math.pi / 12


def test_trimming_a_sheet_is_four_cuts_more() -> None:
    sheets = layouts(saw_plan())
    count = sum(layout.count for layout in sheets)
    listed = sum(layout.count * len(layout.cuts) for layout in sheets)
    assert at_the_shear(sheets) == {"sheet": count, "cut": listed + 4 * count}


@settings(max_examples=8, deadline=None)
@given(st.integers(1, 50))
def test_twice_the_fittings_take_twice_the_time(qty: int) -> None:
    cells = {**DUCT, "length": "60"}
    once, twice = counted("straight duct", cells, qty), counted("straight duct", cells, 2 * qty)
    assert twice == {rate: 2 * n for rate, n in once.items()}


@pytest.mark.parametrize("family", families().values(), ids=lambda family: family.kind)
def test_every_fitting_takes_time(family: type[Fitting]) -> None:
    found = counted(family.kind, family.examples[0])
    assert found.keys() <= set(OPERATIONS)
    assert found["blank"] >= 1
    assert all(line.minutes for line in work(found, default()))
