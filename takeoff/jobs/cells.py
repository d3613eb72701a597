"""One cell of a table, as the text that a person sees in it.

A text that a spreadsheet would take for a formula goes into a CSV with an apostrophe in front, as
one types it there; reading takes the apostrophe off again.
"""

from __future__ import annotations

import math
import re
from datetime import date, time, timedelta
from decimal import Decimal

from takeoff.errors import one_line, printable
from takeoff.lengths import FLOAT_DIGITS

_FORMULA = re.compile(r"'*(?:[=+@＝＋＠－]|-(?![\d ./]*$))")
_GUARDED = re.compile(rf"'{_FORMULA.pattern}")


def text(cell: object) -> str:
    """The cell on one line without the spaces around it; "" for an empty one.

    A number gets the digits a spreadsheet shows, so that `parse` reads the same length from the
    text as from the number. Characters that do not print are left out.
    """
    if cell is None:
        return ""
    if isinstance(cell, str):
        return unguarded(_printable(cell))
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return _decimal(cell)
    if type(cell).__name__.endswith("Formula"):  # openpyxl keeps some formulas as objects
        return _printable(str(getattr(cell, "text", None) or "=..."))
    return _printable(str(cell))


def spoiled(cell: object) -> str | None:
    """What a spreadsheet has made of a cell that was meant otherwise; None where it is sound."""
    if isinstance(cell, date | time | timedelta):
        return "is a date to the spreadsheet"
    if isinstance(cell, float) and not math.isfinite(cell):
        return "is an error of the spreadsheet"
    return None


def is_formula(words: str) -> bool:
    """Whether the text is a spreadsheet's formula."""
    return words.startswith("=")


def guarded(words: str) -> str:
    """The text for a CSV file, with an apostrophe where a spreadsheet would work it out."""
    return f"'{words}" if _FORMULA.match(words) else words


def unguarded(words: str) -> str:
    """The text without the apostrophe that `guarded` puts in front."""
    return words[1:] if _GUARDED.match(words) else words


def _printable(words: str) -> str:
    return one_line(printable(one_line(words)))


def _decimal(number: float) -> str:
    if not math.isfinite(number):
        return "#ERROR"
    shown = f"{Decimal(f'{number:.{FLOAT_DIGITS}g}'):f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown
