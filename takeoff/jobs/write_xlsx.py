"""A job list as a workbook, as `read_xlsx` reads it."""

from __future__ import annotations

import io

from .read_xlsx import SHEET_NAMES
from .table import ABOVE, Table

WIDEST = 40
"""Letters that a column is made wide for."""


def xlsx_bytes(table: Table) -> bytes:
    """A table as a workbook of one sheet, every cell a text."""
    from openpyxl import Workbook  # noqa: PLC0415 - slow to load
    from openpyxl.styles import Font  # noqa: PLC0415
    from openpyxl.utils import get_column_letter  # noqa: PLC0415

    book = Workbook()
    sheet = book.create_sheet(SHEET_NAMES[0], 0)
    for other in book.worksheets[1:]:
        book.remove(other)
    for number, row in enumerate(table, 1):
        for place, word in enumerate(row, 1):
            if word:
                cell = sheet.cell(number, place)
                cell.value = word
                cell.data_type = "s"  # what begins with = is a text as well
                cell.number_format = "@"
                cell.font = Font(bold=number == ABOVE)
    for place, words in enumerate(zip(*table[ABOVE - 1 :], strict=True), 1):
        wide = min(WIDEST, max(map(len, words)) + 2)
        sheet.column_dimensions[get_column_letter(place)].width = wide
    sheet.freeze_panes = sheet.cell(ABOVE + 1, 1)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
