"""The sheets there are to cut from: a shop's stock list, or the standard sheets.

A stock list is a CSV with the columns material, gauge, stock, width, length, cost and qty. A blank
cost is taken from the sheet's weight and the profile's price per pound; a blank qty means as many
as needed.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationError,
    ValidationInfo,
)

from takeoff.errors import Fault, StockFault, UnknownMaterial, nearest
from takeoff.faults import from_validation, refuse
from takeoff.lengths import INCH, parse
from takeoff.materials import (
    MATERIALS,
    SQUARE_INCHES_IN_A_SQUARE_FOOT,
    gauges,
    material,
    sheet,
)
from takeoff.settings import Profile
from takeoff.supply import RackPiece, Supply

LONGEST_SHEET = 600
"""Inches; a sheet with a side above 50 feet is a slip of the pen or of the unit."""


@dataclass(frozen=True)
class StockItem:
    """Sheets of one metal, gauge and size.

    Attributes:
        material: the metal's name as `takeoff.materials` writes it.
        gauge: its gauge number.
        name: what the shop calls the sheet.
        width: inches.
        length: inches; the grain runs along it.
        cost: of one sheet, in the shop's own money; of what the shop has, its worth.
        qty: how many there are; None: as many as needed.
        source: the file it was listed in, or where a standard size is from.
        supply: how the shop comes by it.
        key: what the stock room knows a sheet on hand by.
        pieces: of the rack, one for each of `qty`.
    """

    material: str
    gauge: int
    name: str
    width: Fraction
    length: Fraction
    cost: float
    qty: int | None
    source: str
    supply: Supply = Supply.BUY
    key: str = ""
    pieces: tuple[RackPiece, ...] = ()

    @property
    def area(self) -> Fraction:
        """Of one sheet, ft2."""
        return self.width * self.length / SQUARE_INCHES_IN_A_SQUARE_FOOT

    @property
    def weight(self) -> Fraction:
        """Of one sheet, lb."""
        return self.area * sheet(self.material, self.gauge).weight

    def named(self, name: str) -> StockItem:
        """The same under another name."""
        return replace(self, name=name)


@dataclass(frozen=True)
class StockList:
    """All there is to cut from."""

    items: tuple[StockItem, ...]

    def for_group(self, metal: str, gauge: int) -> tuple[StockItem, ...]:
        """The sheets of one metal and gauge that there are any of. Raises UnknownMaterial."""
        group = material(metal), gauge
        return tuple(
            item for item in self.items if (item.material, item.gauge) == group and item.qty != 0
        )


def price(metal: str, gauge: int, width: Fraction, length: Fraction, profile: Profile) -> float:
    """Cost of a sheet (sides in inches) by its weight and the price per pound, to the cent."""
    pounds = width * length / SQUARE_INCHES_IN_A_SQUARE_FOOT * sheet(metal, gauge).weight
    return round(float(pounds) * profile.prices.per_lb[material(metal)], 2)


def standard(profile: Profile) -> StockList:
    """Every standard sheet in every metal and gauge, without limit, priced by weight."""
    text = files("takeoff").joinpath("data", "sheets.csv").read_text(encoding="utf-8")
    sizes = list(csv.DictReader(text.splitlines()))
    return StockList(
        tuple(
            _standard_sheet(metal, gauge, size, profile)
            for metal in MATERIALS
            for gauge in gauges(metal)
            for size in sizes
        )
    )


def load(path: Path | None, profile: Profile) -> StockList:
    """A shop's stock list; without a path the standard sheets.

    Raises:
        StockFault: all that is wrong with the list, each with its row and column.
    """
    return standard(profile) if path is None else loads(read_text(path), profile, path.name)


def read_text(path: Path) -> str:
    """The text of a list in a file. Raises StockFault: it cannot be read."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise _unreadable(path.name, error.strerror or str(error)) from error
    except UnicodeDecodeError as error:
        raise _unreadable(path.name, "it is not UTF-8 text") from error


def loads(text: str, profile: Profile, source: str = "") -> StockList:
    """As `load`, from the text of a stock list; `source` is the file's name for the errors."""
    items, faults = read_sheets(text, StockRow, profile, source)
    if faults:
        raise StockFault(faults, source)
    return StockList(items)


def read_sheets(
    text: str, kind: type[StockRow], profile: Profile, source: str
) -> tuple[tuple[StockItem, ...], tuple[Fault, ...]]:
    """The sheets of all sound rows of a list, and the faults of the other rows.

    Args:
        text: of the list, CSV.
        kind: what a row must be.
        profile: for the unit of its lengths, and for prices it leaves out.
        source: the file's name, for the errors.

    Raises:
        StockFault: no row can be read.
    """
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as error:
        raise _unreadable(source, f"it is not CSV: {error}") from error
    filled = [(number, line) for number, line in enumerate(lines, 1) if any(map(str.strip, line))]
    if len(filled) < 2:
        raise _unreadable(source, "it has no rows below its headings")
    (heading_row, first), *rows = filled
    headings = [heading.strip().casefold() for heading in first]
    if faults := list(_heading_faults(heading_row, headings, kind)):
        raise StockFault(faults, source)
    return _listed(headings, rows, kind, profile, source)


def _standard_sheet(metal: str, gauge: int, size: Mapping[str, str], profile: Profile) -> StockItem:
    """One row of the standard sizes in one metal and gauge."""
    width, length = Fraction(size["width_in"]), Fraction(size["length_in"])
    cost = price(metal, gauge, width, length, profile)
    return StockItem(metal, gauge, size["stock"], width, length, cost, None, size["source"])


def _blank_is_none(value: object) -> object:
    return None if value == "" else value


def _metal(value: str) -> str:
    try:
        return material(value)
    except UnknownMaterial as error:
        raise refuse("is not a metal known here", nearest(value, MATERIALS)) from error


def _side(value: str, info: ValidationInfo) -> Fraction:
    """A side of a sheet, in the unit of the profile."""
    side = parse(value, (info.context or {}).get("unit", INCH))
    if not 0 < side <= LONGEST_SHEET:
        problem = "is not more than 0" if side <= 0 else f"is more than {LONGEST_SHEET} in"
        raise refuse(problem, f"Give more than 0, up to {LONGEST_SHEET} in.")
    return side


Side = Annotated[Fraction, PlainValidator(_side)]


class StockRow(BaseModel):
    """A row of the stock list, each cell by itself."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    material: Annotated[str, AfterValidator(_metal)]
    gauge: int
    stock: Annotated[str, Field(min_length=1)]
    width: Side
    length: Side
    cost: Annotated[
        Annotated[float, Field(ge=0, allow_inf_nan=False)] | None, BeforeValidator(_blank_is_none)
    ] = None
    qty: Annotated[Annotated[int, Field(ge=0)] | None, BeforeValidator(_blank_is_none)] = None

    def item(self, profile: Profile, source: str) -> StockItem:
        """The row as stock, priced by weight where it gives no cost."""
        cost = self.cost
        if cost is None:
            cost = price(self.material, self.gauge, self.width, self.length, profile)
        return StockItem(
            self.material, self.gauge, self.stock, self.width, self.length, cost, self.qty, source
        )


def _heading_faults(row: int, headings: Sequence[str], kind: type[StockRow]) -> Iterator[Fault]:
    """Headings that are unknown, there twice, or not there."""
    for name in dict.fromkeys(headings):
        if name not in kind.model_fields:
            yield Fault(row, None, name, "is not a column here", nearest(name, kind.model_fields))
        elif headings.count(name) > 1:
            yield Fault(row, None, name, "is there twice", "Keep one column of the name.")
    for name, field in kind.model_fields.items():
        if field.is_required() and name not in headings:
            yield Fault(row, None, name, "is not among the columns", "Add the column.")


def _listed(
    headings: Sequence[str],
    rows: Sequence[tuple[int, list[str]]],
    kind: type[StockRow],
    profile: Profile,
    source: str,
) -> tuple[tuple[StockItem, ...], tuple[Fault, ...]]:
    """The sound rows as stock, and the faults of the others."""
    context: dict[str, object] = {"unit": profile.unit}
    faults: list[Fault] = []
    listed: dict[tuple[str, int, str], tuple[int, StockItem]] = {}
    for number, line in rows:
        found = _checked(number, headings, line, kind, context)
        if not isinstance(found, StockRow):
            faults += found
            continue
        item = found.item(profile, source)
        earlier, _ = listed.setdefault((item.material, item.gauge, item.name), (number, item))
        if earlier != number:
            problem = f"is listed in row {earlier} too, in the same metal and gauge"
            faults.append(Fault(number, "stock", item.name, problem, "Give each its own name."))
    return tuple(item for _, item in listed.values()), tuple(faults)


def _checked(
    number: int,
    headings: Sequence[str],
    line: Sequence[str],
    kind: type[StockRow],
    context: dict[str, object],
) -> StockRow | tuple[Fault, ...]:
    """One row, or what is wrong with it; validators share the context of the whole list."""
    if beyond := [cell for cell in line[len(headings) :] if cell.strip()]:
        return (Fault(number, None, beyond[0], "is beyond the last column", "Take it out."),)
    cells = dict.fromkeys(headings, "") | dict(zip(headings, map(str.strip, line), strict=False))
    try:
        row = kind.model_validate(cells, context=context)
    except ValidationError as error:
        return from_validation(error, kind, number)
    known = gauges(row.material)
    if row.gauge not in known:
        listed = ", ".join(map(str, known))
        problem = f"is not a gauge of {row.material}"
        return (Fault(number, "gauge", str(row.gauge), problem, f"Give one of {listed}."),)
    return row


def _unreadable(source: str, reason: str) -> StockFault:
    columns = ", ".join(StockRow.model_fields)
    fault = Fault(None, None, "the stock list", f"cannot be read: {reason}", f"Columns: {columns}.")
    return StockFault([fault], source)
