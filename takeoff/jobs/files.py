"""A job list from a file, whichever of the formats it is in."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from takeoff.errors import JobFaults
from takeoff.lengths import INCH, Unit
from takeoff.settings import Code

from .job import Job
from .read_csv import csv_cells
from .read_xlsx import SAVE_AS, xlsx_cells
from .refusals import MOST_BYTES, unreadable
from .rows import read_rows

_ZIP = b"PK\x03\x04"
_OLD_OFFICE = b"\xd0\xcf\x11\xe0"


def read_job(path: Path, unit: Unit = INCH, code: Code | None = None) -> Job:
    """The job in a CSV or XLSX file; the bytes tell which it is, not the name.

    Args:
        path: of the file; its stem names the job where the list does not.
        unit: of bare numbers where the list does not say.
        code: table that gauges are held against; None: the default profile's.

    Raises:
        JobFaults: everything that is wrong with the list.
    """
    return read_rows(cells_of(_bytes(path), path.name), path.stem, unit, path.name, code)


def cells_of(data: bytes, source: str = "") -> Sequence[Sequence[object]]:
    """Every row of a job list as `read_rows` takes them, whichever of the formats it is in.

    Args:
        data: the file.
        source: its name, for the errors.

    Raises:
        JobFaults: it cannot be read.
    """
    if len(data) > MOST_BYTES:
        raise _too_large(source)
    if data.startswith(_OLD_OFFICE):
        raise unreadable(source, "it is an old .xls file, or has a password", SAVE_AS)
    return xlsx_cells(data, source) if data.startswith(_ZIP) else csv_cells(data, source)


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _too_large(path.name)
        return path.read_bytes()
    except OSError as error:
        raise unreadable(path.name, (error.strerror or str(error)).casefold()) from error


def _too_large(source: str) -> JobFaults:
    reason = f"it is larger than {MOST_BYTES // 1_000_000} MB"
    return unreadable(source, reason, "Split it into several lists.")
