"""Job lists in CSV: bytes to text, text to rows."""

from __future__ import annotations

import csv
import io
import re

from takeoff.errors import JobFaults
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
    import pandas  # noqa: PLC0415 - slow to load

    # a heading as wide as any list, so that a row of a million cells is read no further
    heading = separator.join(map(str, range(MOST_COLUMNS)))
    try:
        frame = pandas.read_csv(
            io.StringIO(f"{heading}\n{words}"),
            sep=separator,
            header=0,
            names=range(MOST_COLUMNS),
            usecols=range(MOST_COLUMNS),
            index_col=False,
            dtype=str,
            na_filter=False,
            skip_blank_lines=False,
            skipinitialspace=True,
            nrows=MOST_ROWS + 1,
        )
    except pandas.errors.ParserError as error:
        raise _not_csv(str(error), source) from error
    if len(frame) > MOST_ROWS:
        raise too_many_rows(source)
    _check_width(words, separator, source)
    width = int((frame != "").any().to_numpy().nonzero()[0].max(initial=0)) + 1
    rows: list[list[str]] = frame.iloc[:, :width].to_numpy().tolist()
    return rows


def _check_width(words: str, separator: str, source: str) -> None:
    """JobFaults where a row goes on beyond the columns that are read."""
    rows = csv.reader(io.StringIO(words, newline=None), delimiter=separator, skipinitialspace=True)
    try:
        for number, row in enumerate(rows, start=1):
            if any(row[MOST_COLUMNS:]):
                raise too_many_columns(source, number)
    except csv.Error as error:
        reason = f"line {rows.line_num} has a cell that is longer than any text"
        raise unreadable(source, reason, "Take it out.") from error


def _not_csv(told: str, source: str) -> JobFaults:
    if found := re.search(r"EOF inside string starting at row (\d+)", told):
        reason = f"a quotation mark that opens in row {int(found[1])} does not close"
        return unreadable(source, reason, "Close it, or take it out.")
    if found := re.search(r"Expected \d+ fields in line (\d+)", told):
        return too_many_columns(source, int(found[1]) - 1)
    return unreadable(source, f"it is not CSV ({told.strip()})")
