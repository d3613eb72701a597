"""Cleats counted by hand from small jobs."""

from collections.abc import Mapping

import pytest

from takeoff.blanks import MadeLine, make_line
from takeoff.fittings import Shop, find
from takeoff.jobs.job import JobLine
from takeoff.joints import cleats, joints
from takeoff.lengths import INCH
from takeoff.materials import sheet
from takeoff.profile import default
from tests.takeoff.fittings.making import STANDARD_SHEETS

DUCT = {"width": "20", "height": "8", "length": "47"}


def made(*rows: tuple[str, int, int, str, Mapping[str, str]]) -> list[MadeLine]:
    """Lines from mark, quantity, gauge, kind and cells, taken apart."""
    result = []
    for row, (mark, qty, gauge, kind, cells) in enumerate(rows, 2):
        card = find(kind).model_validate(dict(cells), context={"unit": INCH})
        line = JobLine(row, mark, card, qty, sheet("galvanized", gauge))
        result.append(make_line(line, Shop(default(), line.metal, STANDARD_SHEETS)))
    return result


def counted(job: list[MadeLine]) -> dict[tuple[str, float, int], int]:
    """How many, by kind, side and gauge."""
    return {
        (c.card.kind, float(getattr(c.card, "duct_side", 0)), c.metal.gauge): c.qty
        for c in cleats(job, default())
    }


def test_a_run_of_three_joints() -> None:
    # 118 is cut in 47, 47, 24: two joints inside, and two loose ends that make one: 3 joints,
    # each with two drives on the sides of 8 and two slips on the sides of 20
    job = made(("D1", 1, 24, "straight duct", {**DUCT, "length": "118"}))
    assert counted(job) == {("drive cleat", 8, 24): 6, ("slip cleat", 20, 24): 6}


def test_every_copy_has_its_joints() -> None:
    # three ducts: six loose ends, three joints
    job = made(("D1", 3, 24, "straight duct", DUCT))
    assert counted(job) == {("drive cleat", 8, 24): 6, ("slip cleat", 20, 24): 6}


def test_slips_are_not_lighter_than_24_gauge_nor_than_their_duct() -> None:
    """Machinery's Handbook, 31st ed., pp. 1445-1446, on the plain S slip."""
    assert counted(made(("D1", 1, 28, "straight duct", DUCT))) == {
        ("drive cleat", 8, 28): 2,
        ("slip cleat", 20, 24): 2,
    }
    assert ("slip cleat", 20.0, 22) in counted(made(("D1", 1, 22, "straight duct", DUCT)))


def test_a_connection_is_one_joint_in_the_heavier_metal() -> None:
    job = made(
        ("D1", 1, 26, "straight duct", {**DUCT, "connects_to": "D2"}),
        ("D2", 1, 22, "straight duct", DUCT),
    )
    # connected: one joint of 22 ga; loose: one end of 26 and one of 22, a joint each
    assert sorted((j.metal.gauge, n) for j, n in joints(job).items()) == [(22, 2), (26, 1)]
    assert counted(job) == {
        ("drive cleat", 8, 22): 4,
        ("drive cleat", 8, 26): 2,
        ("slip cleat", 20, 22): 4,
        ("slip cleat", 20, 24): 2,
    }


def test_square_openings_and_other_ends() -> None:
    slip = {"width": "12", "height": "12", "length": "40", "end_1": "slip", "end_2": "slip"}
    assert counted(made(("D1", 1, 24, "straight duct", slip))) == {("slip cleat", 12, 24): 4}
    drive = {**slip, "height": "10", "end_1": "drive", "end_2": "drive"}
    assert counted(made(("D1", 1, 24, "straight duct", drive))) == {
        ("drive cleat", 12, 24): 2,
        ("drive cleat", 10, 24): 2,
    }
    flange = {**slip, "end_1": "flange out", "end_2": "flange out"}
    assert counted(made(("D1", 1, 24, "straight duct", flange))) == {("corner angle", 0, 24): 4}


@pytest.mark.parametrize("end", ["hem", "raw", "bearing flange"])
def test_ends_that_take_no_cleat(end: str) -> None:
    cells = {**DUCT, "end_1": end, "end_2": end}
    assert cleats(made(("D1", 2, 24, "straight duct", cells)), default()) == ()


def test_every_cleat_can_be_made() -> None:
    job = made(("D1", 1, 26, "straight duct", {**DUCT, "length": "118"}))
    for count in cleats(job, default()):
        pieces = count.card.make(Shop(default(), count.metal, STANDARD_SHEETS)).pieces
        assert len(pieces) == 1
