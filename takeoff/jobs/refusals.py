"""When a job list is refused as a whole: what is too large, and how that is told."""

from __future__ import annotations

from takeoff.errors import Fault, JobFaults

MOST_BYTES = 20_000_000
"""Of a file on disk."""

MOST_UNPACKED = 60_000_000
"""Bytes of a workbook's parts, unpacked: a small file can hold a huge sheet."""

MOST_PARTS = 500
"""Of a workbook: its sheets, and what belongs to them."""

MOST_ROWS = 20_000
MOST_COLUMNS = 200
MOST_LETTERS = 500
"""Of one cell; nothing longer fits on a paper."""

COLUMNS_TO_GIVE = "Give a CSV or XLSX file with the columns mark, fitting, qty, material, gauge, "
COLUMNS_TO_GIVE += "note and the dimensions of the fittings."


def unreadable(source: str, reason: str, advice: str = COLUMNS_TO_GIVE) -> JobFaults:
    """The one fault of a file in which no row can be read."""
    fault = Fault(None, None, "the job list", f"cannot be read: {reason}", advice)
    return JobFaults([fault], source)


def too_many_rows(source: str) -> JobFaults:
    """The fault of a list that is too long."""
    reason = f"it has more than {MOST_ROWS} rows"
    return unreadable(source, reason, "Split it into several lists.")


def too_many_columns(source: str, row: int) -> JobFaults:
    """The fault of a list that is too wide."""
    reason = f"row {row} has more than {MOST_COLUMNS} cells"
    return unreadable(source, reason, "Take out the columns that name no dimension.")
