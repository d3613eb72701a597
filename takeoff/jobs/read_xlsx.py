"""Job lists in workbooks: the cells of one sheet to rows. Nothing in them is worked out."""

from __future__ import annotations

import io
import warnings
import zipfile
from typing import TYPE_CHECKING

from takeoff.errors import JobFaults
from takeoff.lengths import INCH, Unit
from takeoff.settings import Code

from .job import Job
from .refusals import (
    MOST_COLUMNS,
    MOST_PARTS,
    MOST_ROWS,
    MOST_UNPACKED,
    too_many_columns,
    too_many_rows,
    unreadable,
)
from .rows import read_rows

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

SHEET_NAMES = ("job", "job list")
SAVE_AS = "Save it as an .xlsx workbook without a password, or as CSV UTF-8."


def read_xlsx(
    data: bytes, name: str = "Job", unit: Unit = INCH, source: str = "", code: Code | None = None
) -> Job:
    """The job in a workbook; see `read_rows` for the arguments and errors."""
    return read_rows(xlsx_cells(data, source), name, unit, source, code)


def xlsx_cells(data: bytes, source: str = "") -> list[list[object]]:
    """Every row of a workbook, blank ones too.

    Read is the only sheet that has anything in it, or among several the one called `job`.

    Raises:
        JobFaults: it cannot be read.
    """
    _check_size(data, source)
    try:
        with warnings.catch_warnings():  # of charts and rules that a job list has no use for
            warnings.simplefilter("ignore")
            return _table(data, source)
    except JobFaults:
        raise
    except Exception as error:  # what a broken file raises inside openpyxl can be anything
        raise unreadable(source, "it is not a sound workbook", SAVE_AS) from error


def _check_size(data: bytes, source: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            listed = parts.infolist()
            unpacked = sum(part.file_size for part in listed)
    except (zipfile.BadZipFile, ValueError, OSError) as error:
        raise unreadable(source, "it is not a sound workbook", SAVE_AS) from error
    if len(listed) > MOST_PARTS:
        reason = f"it is made of more than {MOST_PARTS} parts"
        raise unreadable(source, reason, "Keep the job list only.")
    if unpacked > MOST_UNPACKED:
        reason = f"unpacked it is larger than {MOST_UNPACKED // 1_000_000} MB"
        raise unreadable(source, reason, "Keep the job list only.")


def _table(data: bytes, source: str) -> list[list[object]]:
    """Every row of the sheet; numbers stay numbers, formulas are the text that is stored."""
    import openpyxl  # noqa: PLC0415 - slow to load
    import pandas  # noqa: PLC0415 - slow to load

    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
    try:
        sheet = _job_sheet(book, source)
        file = pandas.ExcelFile(book, engine="openpyxl")
        frame = file.parse(sheet, header=None, dtype=object, na_filter=False)
    finally:
        book.close()
    rows: list[list[object]] = frame.to_numpy().tolist()
    return rows


def _job_sheet(book: Workbook, source: str) -> str:
    """The name of the sheet with the job list."""
    filled = [str(sheet.title) for sheet in book.worksheets if _has_cells(sheet, source)]
    named = [title for title in filled if title.casefold().strip() in SHEET_NAMES]
    if len(filled) == 1 or len(named) == 1:
        return (named or filled)[0]
    if not filled:
        raise unreadable(source, "it is empty")
    reason = f"several of its sheets have something in them: {', '.join(filled)}"
    raise unreadable(source, reason, f'Call the one with the job list "{SHEET_NAMES[0]}".')


def _has_cells(sheet: Worksheet, source: str) -> bool:
    """Whether a sheet has anything in it; JobFaults where it is too large to be a job list."""
    sheet.reset_dimensions()  # what the file says of its size need not be so
    last = 0
    for number, row in enumerate(sheet.iter_rows(values_only=True), start=1):
        if number > MOST_ROWS:
            raise too_many_rows(source)
        if len(row) > MOST_COLUMNS and any(cell is not None for cell in row[MOST_COLUMNS:]):
            raise too_many_columns(source, number)
        if any(cell is not None for cell in row):
            last = number
    return last > 0
