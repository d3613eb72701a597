"""The sheets there are to cut from: a shop's stock list, or the standard sheets.

A stock list is a CSV with the columns material, gauge, stock, width, length, cost and qty. A blank
cost is taken from the sheet's weight and the profile's price per pound; a blank qty means as many
as needed.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, Field

from takeoff.errors import Fault, StockFault
from takeoff.materials import (
    MATERIALS,
    SQUARE_INCHES_IN_A_SQUARE_FOOT,
    SheetMetal,
    gauges,
    material,
    sheet,
)
from takeoff.metal_lists import LONGEST_SHEET as LONGEST_SHEET  # noqa: PLC0414 - others ask here
from takeoff.metal_lists import MetalRow, Side, blank_is_none, read_rows, read_text
from takeoff.settings import Profile
from takeoff.supply import RackPiece, Supply


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


def as_new(
    metal: SheetMetal, area: Fraction, sheets: Sequence[StockItem], profile: Profile
) -> float:
    """What an area (in2) of a metal costs as a share of the sheet that is cheapest for its area.

    Args:
        metal: material and gauge.
        area: in2.
        sheets: of that metal and gauge, to buy; none: by weight.
        profile: for the price per pound.
    """
    new = [item.cost / float(item.width * item.length) * float(area) for item in sheets]
    return min(new) if new else price(metal.material, metal.gauge, area, Fraction(1), profile)


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
    rows, faults = read_rows(text, kind, {"unit": profile.unit}, source)
    listed: dict[tuple[str, int, str], tuple[int, StockItem]] = {}
    for number, row in rows:
        item = row.item(profile, source)
        earlier, _ = listed.setdefault((item.material, item.gauge, item.name), (number, item))
        if earlier != number:
            problem = f"is listed in row {earlier} too, in the same metal and gauge"
            faults.append(Fault(number, "stock", item.name, problem, "Give each its own name."))
    return tuple(item for _, item in listed.values()), tuple(faults)


def _standard_sheet(metal: str, gauge: int, size: Mapping[str, str], profile: Profile) -> StockItem:
    """One row of the standard sizes in one metal and gauge."""
    width, length = Fraction(size["width_in"]), Fraction(size["length_in"])
    cost = price(metal, gauge, width, length, profile)
    return StockItem(metal, gauge, size["stock"], width, length, cost, None, size["source"])


class StockRow(MetalRow):
    """A row of the stock list, each cell by itself."""

    stock: Annotated[str, Field(min_length=1)]
    width: Side
    length: Side
    cost: Annotated[
        Annotated[float, Field(ge=0, allow_inf_nan=False)] | None, BeforeValidator(blank_is_none)
    ] = None
    qty: Annotated[Annotated[int, Field(ge=0)] | None, BeforeValidator(blank_is_none)] = None

    def item(self, profile: Profile, source: str) -> StockItem:
        """The row as stock, priced by weight where it gives no cost."""
        cost = self.cost
        if cost is None:
            cost = price(self.material, self.gauge, self.width, self.length, profile)
        return StockItem(
            self.material, self.gauge, self.stock, self.width, self.length, cost, self.qty, source
        )
