"""The order and its sums, worked out by hand and added up again by pandas."""

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pandas as pd
import pytest

from takeoff.bill.cost import stock_cost
from takeoff.bill.order import order
from takeoff.bill.weight import weights
from takeoff.layouts import Layout, layouts
from takeoff.nest import JobPlan
from takeoff.papers import contents
from takeoff.papers.order_csv import order_csv
from tests.takeoff.papers.plans import ALL, short_plan

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


def one_layout() -> Layout:
    """A 48 x 96 of 26 gauge galvanized for 36.40 with four caps 32 x 32."""
    return layouts(short_plan())[0]


def test_a_bill_by_hand() -> None:
    # 26 gauge galvanized weighs 0.906 lb/ft2 (nominal, after ASTM A924/A653; data/gauges.csv).
    # 48 x 96 in is 32 ft2: 28.992 lb. Three sheets: 86.976 lb, 109.20.
    layout = replace(one_layout(), count=3)
    (line,) = order([layout])
    assert (line.qty, line.unit_cost, line.cost) == (3, Fraction("36.4"), Fraction("109.2"))
    assert line.weight == Fraction("86.976")
    # caps of 30 x 30 with 1 in flanges all round: 32 x 32 in = 1024 in2; one stands beside
    # another on 48 x 96 only along the length: 3 of them, 3072 of 4608 in2
    assert [part.size for part in layout.parts] == [(32, 32)] * 3
    total = weights([layout])
    assert total.stock == Fraction("86.976")
    assert total.blanks == 3 * 3 * 1024 * Fraction("0.906") / 144
    # all the rest is one strip 16 x 96, worth keeping
    assert total.offcuts == 3 * 16 * 96 * Fraction("0.906") / 144
    assert total.scrap == 0
    money = stock_cost([layout])
    assert money.stock == Fraction("109.2")
    assert money.offcuts == Fraction("109.2") / 3
    assert money.scrap == 0


def test_equal_sizes_of_a_metal_are_one_line() -> None:
    layout = one_layout()
    lines = order([layout, replace(layout, number=2, count=4)])
    assert [line.qty for line in lines] == [layout.count + 4]


@every_plan
def test_blanks_offcuts_and_scrap_are_the_stock_to_the_last_digit(
    plan: Callable[[], JobPlan],
) -> None:
    found = layouts(plan())
    total = weights(found)
    assert total.blanks + total.offcuts + total.scrap == total.stock
    assert total.stock == sum(line.weight for line in order(found))
    assert total.stock == sum(layout.item.weight * layout.count for layout in found)
    assert min(total.blanks, total.offcuts, total.scrap) >= 0


@every_plan
def test_pandas_totals_are_the_report_s(plan: Callable[[], JobPlan]) -> None:
    told = contents(plan())
    table = pd.read_csv(io.StringIO(order_csv(told)))
    assert table["qty"].sum() == told.sheets
    assert table["cost"].sum() == pytest.approx(float(told.cost.stock), abs=1e-6)
    assert table["weight_lb"].sum() == pytest.approx(float(told.weights.stock), abs=1e-5)
    assert (table["qty"] * table["unit_cost"]).sum() == pytest.approx(table["cost"].sum())
    assert float(told.cost.stock) == pytest.approx(sum(g.plan.cost for g in plan().groups))
