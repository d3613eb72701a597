"""The door to the nest engine."""

import pytest

from nesting import Keep, PlanFaultError, Problem, ShearLimits
from takeoff.blanks import make_job
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH
from takeoff.materials import sheet
from takeoff.nest import nest_job, pose, usable_sizes
from takeoff.profile import default, loads
from takeoff.settings import Profile
from takeoff.stock import StockList, standard
from tests.takeoff.fittings.making import card

METAL = sheet("galvanized", 26)


def job(*cells: dict[str, object]) -> Job:
    lines = (
        JobLine(row, f"C{row}", card("end cap", **each), 2, METAL)
        for row, each in enumerate(cells, 2)
    )
    return Job("job", INCH, tuple(lines))


def posed(profile: Profile, *cells: dict[str, object]) -> Problem:
    stock = standard(profile)
    wanted = job(*cells)
    made = make_job(wanted, profile, usable_sizes(stock, profile))
    blanks = [blank for line in made for blank in line.blanks]
    return pose(wanted, blanks, stock.for_group("galvanized", 26), profile)


def test_blanks_and_sheets_are_posed_in_sixty_fourths() -> None:
    # 22 x 10 in and 48 x 96 in at 64 steps an inch
    problem = posed(default(), {"width": 20, "height": 8})
    (blank,) = problem.blanks
    assert (blank.width, blank.length, blank.qty) == (22 * 64, 10 * 64, 2)
    assert (48 * 64, 96 * 64) in {(stock.width, stock.length) for stock in problem.stock}


def test_a_shear_shorter_than_the_sheets_limits_the_cuts() -> None:
    cells = {"width": 20, "height": 8}
    assert posed(default(), cells).shear == ShearLimits()
    short = loads("[shear]\nlength = 52")
    assert posed(short, cells).shear == ShearLimits(max_cut=52 * 64)


def test_a_plan_that_fails_the_checker_makes_no_papers(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PlanFaultError("two blanks overlap")

    monkeypatch.setattr("takeoff.nest.verify", refuse)
    profile = default()
    stock: StockList = standard(profile)
    wanted = job({"width": 20, "height": 8})
    made = make_job(wanted, profile, usable_sizes(stock, profile))
    with pytest.raises(PlanFaultError):
        nest_job(wanted, made, stock, profile, 0.2)


def test_what_is_kept_of_a_sheet_goes_by_its_gauge() -> None:
    # 4 in and half a square foot from 18 gauge on, 6 in and a square foot of what is lighter
    assert posed(default(), {"width": 20, "height": 8}).keep == Keep(6 * 64, 144 * 64**2)
    stock, wanted = standard(default()), job({"width": 20, "height": 8})
    made = make_job(wanted, default(), usable_sizes(stock, default()))
    blanks = [blank for line in made for blank in line.blanks]
    keep = pose(wanted, blanks, stock.for_group("galvanized", 18), default()).keep
    assert keep == Keep(4 * 64, 72 * 64**2)
