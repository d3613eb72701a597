"""Job lists in CSV: bytes to text, text to rows."""

from __future__ import annotations

import csv
import io

from takeoff.lengths import INCH, Unit
from takeoff.settings import Code

from .columns import FIXED, key
from .heading import REMARK
from .job import Job
from .refusals import MOST_COLUMNS, MOST_ROWS, too_many_columns, too_many_rows, unreadable
from .rows import read_rows

SAVE_AS = 'Save it as "CSV UTF-8".'
SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
_BOMS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)


def read_csv(
    data: bytes, name: str = "Job", unit: Unit = INCH, source: str = "", code: Code | None = None
) -> Job:
    """The job in a CSV file; see `read_rows` for the arguments and errors.

    UTF-8, or any Unicode with a byte order mark; cells parted by commas, semicolons or tabs.
    """
    return read_rows(csv_cells(data, source), name, unit, source, code)


def csv_cells(data: bytes, source: str = "") -> list[list[str]]:
    """Every row of a CSV file, blank ones too. Raises JobFaults: it cannot be read."""
    words = decode(data, source)
    return _table(words, _separator(words, source), source)


def decode(data: bytes, source: str = "") -> str:
    """The text of a file. Raises JobFaults: the encoding is another."""
    encoding = next((name for mark, name in _BOMS if data.startswith(mark)), "utf-8")
    try:
        words = data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        byte = f"0x{data[error.start]:02X}"
        reason = f"line {line} has the byte {byte}, which is not {encoding.upper()[:6].rstrip('-')}"
        raise unreadable(source, reason, SAVE_AS) from error
    if "\0" in words:
        line = words.count("\n", 0, words.index("\0")) + 1
        raise unreadable(source, f"line {line} is no text, it has a zero byte", SAVE_AS)
    return words


def _separator(words: str, source: str) -> str:
    """What parts the cells, by the line of titles."""
    heading = _heading_line(words)
    present = [separator for separator in SEPARATORS if separator in heading]
    fitting = [each for each in present if len(_known(heading, each)) > 1]
    if len(fitting) == 1 or len(present) == 1:
        return (fitting or present)[0]
    if not present:
        return ","
    listed = " and ".join(SEPARATORS[each] for each in present)
    raise unreadable(source, f"{listed} part the titles of its columns", "Use commas only.")


def _heading_line(words: str) -> str:
    lines = (line for line in words.splitlines() if line.strip(" ,;\t"))
    return next((line for line in lines if not line.lstrip(' "').startswith(REMARK)), "")


def _known(heading: str, separator: str) -> set[str]:
    """The fixed columns among the titles, if that is what parts them."""
    (titles,) = csv.reader([heading], delimiter=separator, skipinitialspace=True)
    return {key(title) for title in titles} & set(FIXED)


def _table(words: str, separator: str, source: str) -> list[list[str]]:
    """Every row of the text, blank ones too, each cell as it is written."""
    # The mark behind the text is a row of its own, or else closes one that was left open.
    text = io.StringIO(words.removesuffix("\n") + '\n"', newline=None)
    reader = csv.reader(text, delimiter=separator, skipinitialspace=True)
    rows: list[list[str]] = []
    try:
        for row in reader:
            if len(rows) > MOST_ROWS:
                raise too_many_rows(source)
            if any(row[MOST_COLUMNS:]):
                raise too_many_columns(source, len(rows) + 1)
            rows.append(row[:MOST_COLUMNS])
    except csv.Error as error:
        reason = f"row {len(rows) + 1} has a cell that is longer than any text"
        advice = "Close its quotation mark, or take it out."
        raise unreadable(source, reason, advice) from error
    if rows.pop() != [""]:
        reason = f"a quotation mark that opens in row {len(rows) + 1} does not close"
        raise unreadable(source, reason, "Close it, or take it out.")
    return _even(rows)


def _even(rows: list[list[str]]) -> list[list[str]]:
    """Rows of one width: up to the last column with anything in it."""
    width = max((place for row in rows for place, cell in enumerate(row, 1) if cell), default=1)
    return [(row + [""] * width)[:width] for row in rows]
