"""job.xlsx: the tables of a plan as a workbook, with numbers that add up and pages that print."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from io import BytesIO
from typing import TYPE_CHECKING

from . import blanks_csv, cuts_csv, from_stock_csv, hardware_csv, order_csv, sums
from .cells import DECIMALS, Cell
from .contents import Contents

if TYPE_CHECKING:
    from openpyxl.cell import Cell as XlsxCell
    from openpyxl.worksheet.worksheet import Worksheet

NAME = "job.xlsx"

WIDEST, NARROWEST = 48, 7
"""Characters of a column."""
MONEY, DECIMAL, WHOLE = "#,##0.00", "0.###", "0"
"""Number formats."""
MONEY_ENDINGS = ("cost", "amount")


@dataclass(frozen=True)
class Table:
    """One sheet of the workbook."""

    name: str
    columns: Sequence[str]
    rows: Iterable[Mapping[str, Cell]]


def load() -> None:
    """Import what a workbook needs: for a process that has nothing to do yet."""
    import openpyxl  # noqa: F401, PLC0415


def job_xlsx(contents: Contents) -> bytes:
    """The workbook; what looks like a formula stays a text."""
    from openpyxl import Workbook  # noqa: PLC0415 - slow to import

    book = Workbook()
    book.remove(book.worksheets[0])
    for table in _tables(contents):
        _fill(book.create_sheet(table.name), table, contents.plan.job.name)
    file = BytesIO()
    book.save(file)
    return file.getvalue()


def _tables(contents: Contents) -> Iterator[Table]:
    yield Table("Blanks", blanks_csv.COLUMNS, blanks_csv.rows(contents))
    yield Table("Sheets", sums.SHEET_COLUMNS, sums.sheet_rows(contents))
    yield Table("Cuts", cuts_csv.COLUMNS, cuts_csv.rows(contents))
    yield Table("Order", order_csv.COLUMNS, order_csv.rows(contents))
    if contents.plan.room is not None:
        yield Table("From stock", from_stock_csv.COLUMNS, from_stock_csv.rows(contents))
    yield Table("Hardware", hardware_csv.COLUMNS, hardware_csv.rows(contents))
    yield Table("Shop time", sums.WORK_COLUMNS, sums.work_rows(contents))
    yield Table("Costs", sums.COST_COLUMNS, sums.cost_rows(contents))


def _fill(sheet: Worksheet, table: Table, job: str) -> None:
    from openpyxl.styles import Alignment, Font  # noqa: PLC0415
    from openpyxl.utils import get_column_letter  # noqa: PLC0415

    widths = [len(_heading(name)) for name in table.columns]
    for column, name in enumerate(table.columns, 1):
        cell = sheet.cell(1, column, _heading(name))
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    for number, row in enumerate(table.rows, 2):
        for column, name in enumerate(table.columns, 1):
            _set(sheet.cell(number, column), name, row[name])
            widths[column - 1] = max(widths[column - 1], _shown(row[name]))
    for column, width in enumerate(widths, 1):
        letter = get_column_letter(column)
        sheet.column_dimensions[letter].width = min(max(width + 2, NARROWEST), WIDEST)
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = sheet.dimensions
    _print_setup(sheet, job)


def _print_setup(sheet: Worksheet, job: str) -> None:
    """Landscape, as wide as the page, the heading on every page."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"
    sheet.oddHeader.left.text = _plain(job).replace("&", "&&")
    sheet.oddHeader.right.text = "&A"
    sheet.oddFooter.right.text = "&P / &N"


def _heading(name: str) -> str:
    """`width_in` as a person reads it: `width in`."""
    return name.replace("_", " ")


def _set(cell: XlsxCell, name: str, value: Cell) -> None:
    """A number as a number, a text as a text even where it begins like a formula."""
    if value is None:
        return
    if isinstance(value, bool):
        cell.value = "yes" if value else "no"
    elif isinstance(value, str):
        cell.value = _plain(value)
        cell.data_type = "s"
        cell.quotePrefix = value[:1] in "=+-@"
    elif isinstance(value, int):
        cell.value = value
        cell.number_format = WHOLE
    else:
        cell.value = _number(value)
        cell.number_format = MONEY if name.endswith(MONEY_ENDINGS) else DECIMAL


def _number(value: float | Fraction) -> float:
    return round(float(value), DECIMALS)


def _plain(text: str) -> str:
    """Without the control characters that a workbook cannot hold."""
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE  # noqa: PLC0415

    return str(ILLEGAL_CHARACTERS_RE.sub(" ", text))


def _shown(value: Cell) -> int:
    """About how many characters a cell shows."""
    if isinstance(value, str):
        return len(value)
    return len(f"{float(value):,.3f}") if isinstance(value, float | Fraction) else len(str(value))
