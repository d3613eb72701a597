"""blanks.csv, order.csv, cuts.csv: read back and added up against the plan."""

import csv
import io
from collections.abc import Callable
from fractions import Fraction

import pytest

from takeoff.jobs.cells import text
from takeoff.lengths import parse
from takeoff.nest import JobPlan
from takeoff.papers import contents
from takeoff.papers.blanks_csv import blanks_csv
from takeoff.papers.cuts_csv import cuts_csv
from takeoff.papers.order_csv import order_csv

from .plans import ALL, FORMULA, inch_plan, mm_plan

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


def rows(table: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table, newline="")))


@every_plan
def test_blanks_add_up(plan: Callable[[], JobPlan]) -> None:
    job = plan()
    read = rows(blanks_csv(contents(job)))
    blanks = [blank for group in job.groups for blank in group.blanks]
    assert [text(row["blank"]) for row in read] == [blank.name for blank in blanks]
    for row, blank in zip(read, blanks, strict=True):
        assert int(row["qty"]) == blank.qty
        assert (row["material"], int(row["gauge"])) == (blank.metal.material, blank.metal.gauge)
        width, length = float(row["width_in"]), float(row["length_in"])
        assert width == pytest.approx(float(blank.width), abs=1e-6)
        assert float(row["area_ft2"]) == pytest.approx(width * length / 144, abs=1e-5)
        pounds = width * length / 144 * float(blank.metal.weight)
        assert float(row["weight_lb"]) == pytest.approx(pounds, abs=1e-5)
        assert 0 < float(row["net_area_ft2"]) <= float(row["area_ft2"])
        assert 0 < float(row["net_weight_lb"]) <= float(row["weight_lb"])


def test_tape_columns_say_what_the_numbers_say() -> None:
    for job in (inch_plan(), mm_plan()):
        for row in rows(blanks_csv(contents(job))):
            for name in ("width", "length"):
                said = parse(row[name].removeprefix("~"))
                # a millimetre is shown to its tenth, an inch to 1/32 where it is not exact
                assert float(said) == pytest.approx(float(row[f"{name}_in"]), abs=1 / 64)


def test_a_mark_like_a_formula_is_guarded() -> None:
    table = blanks_csv(contents(inch_plan()))
    assert f"'{FORMULA} cap" in table
    assert f"\n{FORMULA}" not in table
    assert f",{FORMULA}" not in table


@every_plan
def test_order_adds_up_to_the_plan(plan: Callable[[], JobPlan]) -> None:
    told = contents(plan())
    read = rows(order_csv(told))
    assert sum(int(row["qty"]) for row in read) == told.sheets
    assert sum(Fraction(row["cost"]) for row in read) == told.cost.stock
    for row in read:
        assert Fraction(row["cost"]) == int(row["qty"]) * Fraction(row["unit_cost"])
        square_feet = Fraction(row["width_in"]) * Fraction(row["length_in"]) / 144
        (metal,) = {g.metal for g in plan().groups if g.metal.gauge == int(row["gauge"])}
        pounds = float(int(row["qty"]) * square_feet * metal.weight)
        assert float(row["weight_lb"]) == pytest.approx(pounds, abs=1e-5)


@every_plan
def test_cuts_are_those_of_the_layouts_in_order(plan: Callable[[], JobPlan]) -> None:
    told = contents(plan())
    read = rows(cuts_csv(told))
    wanted = [(layout.number, cut) for layout in told.layouts for cut in layout.cuts]
    assert [(int(r["layout"]), int(r["cut"])) for r in read] == [(n, c.number) for n, c in wanted]
    for row, (_, cut) in zip(read, wanted, strict=True):
        assert float(row["back_gauge_in"]) == pytest.approx(float(cut.back_gauge), abs=1e-6)
        assert text(row["falls_off"]) == cut.falls_off
        assert row["direction"] == ("across the width" if cut.across else "along the length")
