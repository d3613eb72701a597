"""Price lists: what is wrong is told, the rest holds."""

from pathlib import Path

import pytest

from takeoff.prices import prices, read_prices
from takeoff.profile import default

HEADING = "material,gauge,stock,width,length,cost\n"


def told(rows: str) -> tuple[list[float], list[str]]:
    found = prices(HEADING + rows, default(), "a.csv")
    return [item.cost for item in found.stock.items], [str(fault) for fault in found.faults]


def row(cost: str, stock: str = "4x8") -> str:
    return f'galv,26,{stock},48,96,"{cost}"\n'


@pytest.mark.parametrize(
    ("cell", "cost"),
    [("36.4", 36.4), ("$36.40", 36.4), ("36.40 €", 36.4), ("£ 1,136.40", 1136.4), ("0", 0)],
)
def test_prices_with_and_without_a_mark(cell: str, cost: float) -> None:
    assert told(row(cell)) == ([cost], [])


@pytest.mark.parametrize(
    ("cell", "problem"),
    [
        ("", 'row 3, column "cost": a blank is no price. Give what one sheet costs.'),
        ("-5", 'row 3, column "cost": -5 is less than 0. Give 0 or more.'),
        ("12 zl", "12 zl has the mark zl, which is not known here. Give a number alone, or "),
        ("€12", "€12 has €, and the first price no currency mark."),
        ("ask", "ask is not a number."),
        ("3,5", "3,5 is not a number."),
        ("nan", "nan is not a number."),
    ],
)
def test_a_bad_price_is_told_and_the_rest_holds(cell: str, problem: str) -> None:
    costs, (fault,) = told(row("36.40") + row(cell, "4x8b") + row("37", "4x8c"))
    assert costs == [36.4, 37]
    assert problem in fault


def test_a_list_that_cannot_be_read_has_no_stock(tmp_path: Path) -> None:
    missing = read_prices(tmp_path / "none.csv", default())
    assert (missing.stock.items, len(missing.faults)) == ((), 1)
    path = tmp_path / "no_costs.csv"
    path.write_text("material,gauge,stock,width,length\ngalv,26,a,48,96\n", encoding="utf-8")
    (fault,) = read_prices(path, default()).faults
    assert str(fault) == "row 1: cost is not among the columns. Add the column."
