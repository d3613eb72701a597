"""A supplier's price list: a stock list in which every row gives its cost.

What is wrong with a row is told and the row left out; the others hold. A cost may have one of the
currency marks $, € and £ before or behind it, the same in the whole list; nothing is converted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo

from takeoff.errors import Fault, StockFault
from takeoff.faults import refuse
from takeoff.metal_lists import read_text
from takeoff.settings import Profile
from takeoff.stock import StockList, StockRow, read_sheets

MARKS = "$€£"
_AMOUNT = re.compile(r"(?P<before>[^\d.+-]*)(?P<number>[-+]?[\d.,]+)(?P<behind>\D*)")
_THOUSANDS = re.compile(r"[-+]?\d{1,3}(,\d{3})+(\.\d+)?")


@dataclass(frozen=True)
class PriceList:
    """What a supplier asks.

    Attributes:
        name: the file's.
        stock: the sheets of its sound rows.
        faults: what is wrong with the other rows, or with the list as a whole.
    """

    name: str
    stock: StockList
    faults: tuple[Fault, ...]


def read_prices(path: Path, profile: Profile) -> PriceList:
    """The list in a file; one that cannot be read at all has no stock and says why."""
    try:
        return prices(read_text(path), profile, path.name)
    except StockFault as error:
        return PriceList(path.name, StockList(()), error.faults)


def prices(text: str, profile: Profile, source: str) -> PriceList:
    """The list in a text.

    Raises:
        StockFault: no row can be read.
    """
    items, faults = read_sheets(text, _PriceRow, profile, source)
    return PriceList(source, StockList(items), faults)


def _amount(cell: str, info: ValidationInfo) -> str:
    """The number of a cost without its currency mark; the first of a list is noted for the rest."""
    if not cell:
        raise refuse("is no price", "Give what one sheet costs.")
    found = _AMOUNT.fullmatch(cell)
    mark = f"{found['before']}{found['behind']}".strip() if found else ""
    if mark and mark not in MARKS:
        raise refuse(
            f"has the mark {mark}, which is not known here",
            f"Give a number alone, or with one of {', '.join(MARKS)}.",
        )
    first = info.context.setdefault("mark", mark) if info.context else mark
    if mark != first:
        told = [each or "no currency mark" for each in (mark, first)]
        raise refuse(
            f"has {told[0]}, and the first price {told[1]}", "Give all prices in the same money."
        )
    number = found["number"] if found else cell
    return number.replace(",", "") if _THOUSANDS.fullmatch(number) else number


class _PriceRow(StockRow):
    """A row whose cost must be there, in the money of the rows before it."""

    cost: Annotated[float, Field(ge=0, allow_inf_nan=False), BeforeValidator(_amount)]
