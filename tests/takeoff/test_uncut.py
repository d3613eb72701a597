"""Why a blank is not cut, told in shop words."""

import pytest

from takeoff.blanks import make_job
from takeoff.nest import nest_job, usable_sizes
from takeoff.profile import loads
from takeoff.stock import standard
from takeoff.uncut import beyond_shear, uncut
from tests.takeoff.test_nest import job

WIDE = {"width": 70, "height": 8}


def told(profile, *cells):
    stock = standard(profile)
    wanted = job(*cells)
    lines = make_job(wanted, profile, usable_sizes(stock, profile))
    plan = nest_job(wanted, lines, stock, profile, seconds=0.2, threads=1)
    (group,) = plan.groups
    found = [uncut(group, entry, profile, wanted.unit) for entry in group.plan.unplaced]
    return found, list(beyond_shear(wanted, lines, stock, profile))


@pytest.mark.parametrize("shear", ["", "[shear]\nlength = 96", "[shear]\nmin_strip = 4"])
def test_nothing_to_tell_where_the_shear_takes_all(shear):
    assert told(loads(shear), WIDE, {"width": 20, "height": 8}) == ([], [])


def test_a_side_longer_than_the_shear():
    found, before = told(loads("[shear]\nlength = 52"), WIDE, {"width": 20, "height": 8})
    (why,) = found
    assert "the blank is 72 x 10 in, and the shear cuts no more than 52 in in one go" in why
    assert "its side of 72 in" in why
    assert "cut it by hand" in why
    assert before == [f"C2 cap cannot be sheared: {why}."]


def test_a_strip_too_narrow_for_the_hold_down():
    found, before = told(loads("[shear]\nmin_strip = 110"), {"width": 20, "height": 8})
    (why,) = found
    assert "22 x 10 in" in why
    assert "110 in or more under the hold-down" in why
    assert len(before) == 1


def test_the_hold_down_reaches_the_engine():
    found, before = told(loads("[shear]\nmin_strip = 6"), WIDE, {"width": 3, "height": 3})
    assert (found, before) == ([], [])
