"""A job list from a file, whichever of the formats it is in."""

from __future__ import annotations

from pathlib import Path

from takeoff.lengths import INCH, Unit
from takeoff.settings import Code

from .job import Job
from .read_csv import read_csv
from .read_xlsx import SAVE_AS, read_xlsx
from .refusals import MOST_BYTES, unreadable

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
    data = _bytes(path)
    if data.startswith(_OLD_OFFICE):
        raise unreadable(path.name, "it is an old .xls file, or has a password", SAVE_AS)
    read = read_xlsx if data.startswith(_ZIP) else read_csv
    return read(data, path.stem, unit, path.name, code)


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            reason = f"it is larger than {MOST_BYTES // 1_000_000} MB"
            raise unreadable(path.name, reason, "Split it into several lists.")
        return path.read_bytes()
    except OSError as error:
        raise unreadable(path.name, (error.strerror or str(error)).casefold()) from error
