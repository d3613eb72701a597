"""job.xlsx: opened by openpyxl and by pandas, and added up again."""

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest
from openpyxl import load_workbook

from takeoff.nest import JobPlan
from takeoff.papers.xlsx import job_xlsx

from .plans import ALL, FORMULA, inch_plan, told

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)
SHEETS = ["Blanks", "Sheets", "Cuts", "Order", "Hardware", "Shop time", "Costs"]


def book(plan: Callable[[], JobPlan], folder: Path) -> Path:
    file = folder / "job.xlsx"
    file.write_bytes(job_xlsx(told(plan)))
    return file


@every_plan
def test_pandas_adds_up_what_the_plan_says(plan: Callable[[], JobPlan], tmp_path: Path) -> None:
    contents = told(plan)
    tables = pd.read_excel(book(plan, tmp_path), sheet_name=None)
    assert list(tables) == SHEETS
    order, sheets, costs = tables["Order"], tables["Sheets"], tables["Costs"]
    assert order["qty"].sum() == contents.sheets == sheets["times"].sum()
    stock = float(contents.cost.stock)
    assert (order["qty"] * order["unit cost"]).sum() == pytest.approx(stock, abs=1e-6)
    assert order["cost"].sum() == pytest.approx(stock, abs=1e-6)
    assert sheets["cost"].sum() == pytest.approx(stock, abs=1e-6)
    pounds = float(contents.weights.stock)
    assert order["weight lb"].sum() == pytest.approx(pounds, abs=1e-4)
    assert sheets["weight lb"].sum() == pytest.approx(pounds, abs=1e-4)
    blanks = tables["Blanks"]
    wanted = sum(blank.qty for group in contents.plan.groups for blank in group.blanks)
    assert blanks["qty"].sum() == wanted
    placed = (sheets["times"] * sheets["blanks"]).sum()
    left = sum(e.qty for group in contents.plan.groups for e in group.plan.unplaced)
    assert placed + left == wanted
    total = costs.loc[costs["what"] == "total", "amount"].item()
    before = costs.loc[: costs.index[costs["what"] == "total"][0] - 1, "amount"]
    assert before.sum() == pytest.approx(total, abs=1e-5)
    assert total == pytest.approx(float(contents.bill.total), abs=1e-5)
    hardware = tables["Hardware"]
    assert len(hardware) == len(contents.bill.hardware)
    assert hardware["qty"].sum() == pytest.approx(
        float(sum(line.qty for line in contents.bill.hardware)), abs=1e-4
    )
    minutes = float(contents.bill.hours * 60)
    assert tables["Shop time"]["minutes"].sum() == pytest.approx(minutes, abs=1e-4)


@every_plan
def test_numbers_are_numbers_and_no_text_is_a_formula(
    plan: Callable[[], JobPlan], tmp_path: Path
) -> None:
    workbook = load_workbook(book(plan, tmp_path))
    for sheet in workbook:
        names = [cell.value for cell in sheet[1]]
        for row in sheet.iter_rows(min_row=2):
            for name, cell in zip(names, row, strict=True):
                assert cell.data_type != "f", (sheet.title, cell.coordinate)
                numeric = name in {"qty", "cost", "amount", "gauge"} or name.endswith(
                    (" in", " lb")
                )
                if numeric and cell.value is not None:
                    assert isinstance(cell.value, int | float), (sheet.title, cell.coordinate)


def test_a_mark_like_a_formula_is_kept_as_it_is(tmp_path: Path) -> None:
    workbook = load_workbook(book(inch_plan, tmp_path))
    marks = [row[1].value for row in workbook["Blanks"].iter_rows(min_row=2)]
    assert FORMULA in marks
    cells = [row[1] for row in workbook["Blanks"].iter_rows(min_row=2) if row[1].value == FORMULA]
    assert all((cell.data_type, cell.quotePrefix) == ("s", True) for cell in cells)


def test_it_is_ready_to_print(tmp_path: Path) -> None:
    for sheet in load_workbook(book(inch_plan, tmp_path)):
        assert sheet.freeze_panes == "A2"
        assert sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.print_title_rows == "$1:$1"
        assert "Trial && error" in sheet.oddHeader.left.text
        for column, cell in zip(sheet.iter_cols(), sheet[1], strict=True):
            width = sheet.column_dimensions[cell.column_letter].width
            longest = max(len(each.value) for each in column if isinstance(each.value, str))
            assert width >= min(longest, 40)
