"""Stock and rack as CSV lists, in and out, and single rows typed at a keyboard."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Generic, TypeVar

from pydantic import BeforeValidator, Field

from takeoff.errors import StockFault
from takeoff.jobs.cells import guarded, unguarded
from takeoff.lengths import MILLIMETRE, Unit, show_exactly
from takeoff.metal_lists import MetalRow, Side, blank_is_none, checked, read_rows
from takeoff.stock import StockRow
from takeoff.stockroom import Kind, KindKey, ListRefused, NewOffcut, Offcut, Step

R = TypeVar("R", bound=MetalRow)
T = TypeVar("T")

RACK_LIST = "the rack list"
STOCK_COLUMNS = ("material", "gauge", "stock", "width", "length", "cost", "qty")
RACK_COLUMNS = ("label", "material", "gauge", "width", "length", "place", "note")

MOST_ALIKE = 1000
"""Offcuts of one row."""


def _blank_is_one(value: object) -> object:
    return 1 if value == "" else value


Text = Annotated[str, BeforeValidator(unguarded)]


class RackRow(MetalRow):
    """A row of a rack list; a label that it brings stays with the offcut."""

    width: Side
    length: Side
    place: Text = ""
    note: Text = ""
    qty: Annotated[Annotated[int, Field(ge=1, le=MOST_ALIKE)], BeforeValidator(_blank_is_one)] = 1
    label: str = ""

    def offcuts(self) -> list[NewOffcut]:
        """The row as offcuts on their way to the rack."""
        piece = NewOffcut(self.material, self.gauge, self.width, self.length, self.place, self.note)
        return [piece] * self.qty


class SheetRow(MetalRow):
    """Sheets that are typed at a keyboard."""

    stock: Annotated[str, Field(min_length=1)]
    width: Side
    length: Side
    qty: Annotated[int, Field(ge=0)]
    cost: Annotated[
        Annotated[Decimal, Field(ge=0, allow_inf_nan=False)] | None, BeforeValidator(blank_is_none)
    ] = None

    @property
    def key(self) -> KindKey:
        """What the stock room knows the sheets by."""
        return KindKey(self.material, self.gauge, self.stock)


def typed(kind: type[R], unit: Unit, **cells: object) -> R:
    """One row that was typed. Raises StockFault: all that is wrong with it."""
    row = checked(cells, kind, {"unit": unit})
    if isinstance(row, kind):
        return row
    assert isinstance(row, tuple)
    raise StockFault(row)


@dataclass(frozen=True)
class Listed(Generic[T]):
    """What a list holds.

    Attributes:
        source: its file.
        pieces: what it lists, a row of several like pieces as several.
        rows: the number of each one's row.
    """

    source: str
    pieces: tuple[T, ...]
    rows: tuple[int, ...]

    def taken(self, take: Callable[[Sequence[T]], Step]) -> Step:
        """Give all of it to the stock room. Raises StockFault: what that will not take, by row."""
        try:
            return take(self.pieces)
        except ListRefused as error:
            faults = [replace(each.fault, row=self.rows[each.index]) for each in error.refused]
            raise StockFault(dict.fromkeys(faults), self.source) from error


def read_rack(text: str, unit: Unit, source: str) -> Listed[tuple[str, NewOffcut]]:
    """The offcuts of a rack list with the labels that they bring, "" for none.

    Raises:
        StockFault: all that is wrong with the list.
    """
    rows, faults = read_rows(text, RackRow, {"unit": unit}, source, RACK_LIST)
    if faults:
        raise StockFault(faults, source)
    found = [
        (number, row.label if place == 0 else "", piece)
        for number, row in rows
        for place, piece in enumerate(row.offcuts())
    ]
    pieces = tuple((label, piece) for _, label, piece in found)
    return Listed(source, pieces, tuple(number for number, _, _ in found))


def write_rack(offcuts: Iterable[Offcut], unit: Unit) -> str:
    """Offcuts as a rack list that `read_rack` reads again, to the last step."""
    return _table(
        RACK_COLUMNS,
        (
            {
                "label": offcut.label,
                "material": offcut.material,
                "gauge": offcut.gauge,
                "width": exact_text(offcut.width, unit),
                "length": exact_text(offcut.length, unit),
                "place": guarded(offcut.place),
                "note": guarded(offcut.note),
            }
            for offcut in offcuts
        ),
    )


def read_stock(text: str, unit: Unit, source: str, known: Sequence[Kind]) -> Listed[Kind]:
    """The kinds of a stock list, as they are to be kept.

    A blank qty leaves the count as it is, 0 for a new kind; a blank cost the price.

    Raises:
        StockFault: all that is wrong with the list.
    """
    rows, faults = read_rows(text, StockRow, {"unit": unit}, source)
    if faults:
        raise StockFault(faults, source)
    counts = {kind.key: kind.on_hand for kind in known}
    kinds = tuple(_kinds([row for _, row in rows], counts))
    return Listed(source, kinds, tuple(number for number, _ in rows))


def write_stock(kinds: Iterable[Kind], unit: Unit) -> str:
    """Kinds of sheet as a stock list, their number on hand as qty."""
    return _table(
        STOCK_COLUMNS,
        (
            {
                "material": kind.key.material,
                "gauge": kind.key.gauge,
                "stock": guarded(kind.key.name),
                "width": exact_text(kind.width, unit),
                "length": exact_text(kind.length, unit),
                "cost": "" if kind.price is None else kind.price,
                "qty": kind.on_hand,
            }
            for kind in kinds
        ),
    )


def exact_text(length: Fraction, unit: Unit) -> str:
    """A length that reads back as itself: as a tape has it, else in millimetres to the last one."""
    told = show_exactly(length, unit)
    if not told.startswith("~"):
        return f"{told} {unit.name}"
    size = length / MILLIMETRE.inches
    return f"{Decimal(size.numerator) / Decimal(size.denominator):f} mm"


def _kinds(rows: Iterable[StockRow], counts: Mapping[KindKey, int]) -> Iterator[Kind]:
    for row in rows:
        key = KindKey(row.material, row.gauge, unguarded(row.stock))
        price = None if row.cost is None else Decimal(repr(row.cost))
        qty = counts.get(key, 0) if row.qty is None else row.qty
        yield Kind(key, row.width, row.length, price, on_hand=qty)


def _table(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()
