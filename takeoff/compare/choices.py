"""The choices that a job is compared over, and the job and the stock that each one means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product

from takeoff.advice import advise
from takeoff.errors import InvalidLength, TakeoffError, UnknownGauge, UnknownMaterial
from takeoff.jobs.job import Job
from takeoff.lengths import Unit, parse, show_exactly, show_with_unit
from takeoff.materials import SheetMetal, material, sheet
from takeoff.metal_lists import LONGEST_SHEET
from takeoff.prices import PriceList
from takeoff.settings import Profile
from takeoff.stock import StockItem, StockList, price


class NotAChoice(TakeoffError, ValueError):
    """An option that names no gauge, material or sheet size."""


class CannotChoose(TakeoffError, ValueError):
    """A choice that this job cannot be made by; the text is the reason."""


@dataclass(frozen=True)
class SheetSize:
    """Width and length of a sheet (in), and how a person calls it."""

    width: Fraction
    length: Fraction
    name: str


@dataclass(frozen=True)
class Choice:
    """One way to make the job; what is None stays as it is written.

    Attributes:
        material: of every row.
        gauge: of every row.
        sheet: the only size of sheet.
        prices: name of the price list that the sheets are bought from.
    """

    material: str | None = None
    gauge: int | None = None
    sheet: SheetSize | None = None
    prices: str | None = None

    @property
    def name(self) -> str:
        """`aluminium, 24 ga, 48x96, a.csv`; "as written" for no change at all."""
        parts = (
            self.material,
            f"{self.gauge} ga" if self.gauge is not None else None,
            self.sheet.name if self.sheet else None,
            self.prices,
        )
        return ", ".join(part for part in parts if part) or "as written"


AS_WRITTEN = Choice()


@dataclass(frozen=True)
class Supply:
    """Where sheets can come from.

    Attributes:
        stock: the stock list, or the standard sheets.
        listed: its file's name; None where it is the standard sheets, which have any size.
        prices: the price lists by name.
    """

    stock: StockList
    listed: str | None
    prices: Mapping[str, PriceList]


def choices(
    materials: Sequence[str], gauges: Sequence[int], sheets: Sequence[SheetSize], prices: Supply
) -> tuple[Choice, ...]:
    """The job as written, then every combination of what is given; equal ones once."""
    combined = product(
        materials or (None,), gauges or (None,), sheets or (None,), tuple(prices.prices) or (None,)
    )
    return tuple(dict.fromkeys((AS_WRITTEN, *(Choice(*each) for each in combined))))


def read_gauges(text: str) -> tuple[int, ...]:
    """`24,26,28`. Raises NotAChoice."""
    for word in (words := _words(text)):
        if not (word.isascii() and word.isdigit() and len(word) <= 3):
            raise NotAChoice(f'"{word}" is not a gauge. Give numbers, such as 24,26,28.')
    return tuple(map(int, words))


def read_materials(text: str) -> tuple[str, ...]:
    """`galvanized,aluminium`, by the names the package writes. Raises NotAChoice."""
    try:
        return tuple(material(word) for word in _words(text))
    except UnknownMaterial as error:
        raise NotAChoice(str(error)) from error


def read_sheets(text: str, unit: Unit) -> tuple[SheetSize, ...]:
    """`48x96,48x120`, bare numbers in the unit. Raises NotAChoice."""
    return tuple(_size(word, unit) for word in _words(text))


def sizes_in_stock(job: Job, stock: StockList) -> tuple[SheetSize, ...]:
    """Every size of sheet that there is for a metal of the job, small ones first."""
    metals = dict.fromkeys(line.metal for line in job.lines)
    found = {
        (min(item.width, item.length), max(item.width, item.length))
        for metal in metals
        for item in stock.for_group(metal.material, metal.gauge)
    }
    return tuple(_named(width, length, job.unit) for width, length in sorted(found))


def apply(choice: Choice, job: Job, supply: Supply, profile: Profile) -> tuple[Job, StockList]:
    """The job and the stock that a choice means.

    Raises:
        CannotChoose: a metal lacks the gauge, or there is no such sheet to buy.
    """
    try:
        lines = tuple(
            replace(
                line,
                metal=sheet(
                    choice.material or line.metal.material,
                    line.metal.gauge if choice.gauge is None else choice.gauge,
                ),
            )
            for line in job.lines
        )
    except UnknownGauge as error:
        raise CannotChoose(str(error)) from error
    changed = replace(job, lines=lines, advice=advise(lines, profile.code, job.unit))
    metals = dict.fromkeys(line.metal for line in lines)
    items = (item for metal in metals for item in _items(choice, metal, supply, profile))
    return changed, StockList(tuple(items))


def _items(
    choice: Choice, metal: SheetMetal, supply: Supply, profile: Profile
) -> tuple[StockItem, ...]:
    """The sheets of a metal that a choice allows; CannotChoose when there are none."""
    bought = supply.prices[choice.prices] if choice.prices else None
    stock = bought.stock if bought else supply.stock
    items = stock.for_group(metal.material, metal.gauge)
    if choice.sheet is not None:
        items = tuple(item for item in items if _is_of(item, choice.sheet))
    if not items and choice.sheet and bought is None and supply.listed is None:
        items = (_by_weight(metal, choice.sheet, profile),)
    if not items:
        size = f" {choice.sheet.name}" if choice.sheet else ""
        where = choice.prices or supply.listed or "the standard sizes"
        raise CannotChoose(f"{where} has no{size} sheet of {metal.name}")
    return items


def _is_of(item: StockItem, size: SheetSize) -> bool:
    return sorted((item.width, item.length)) == sorted((size.width, size.length))


def _by_weight(metal: SheetMetal, size: SheetSize, profile: Profile) -> StockItem:
    """A sheet of a size that is no standard one, priced as those are."""
    cost = price(metal.material, metal.gauge, size.width, size.length, profile)
    return StockItem(
        metal.material, metal.gauge, size.name, size.width, size.length, cost, None, "as asked for"
    )


def _size(word: str, unit: Unit) -> SheetSize:
    sides = word.casefold().replace("×", "x").split("x")
    try:
        width, length = (parse(side, unit) for side in sides)
    except (InvalidLength, ValueError) as error:
        raise NotAChoice(
            f'"{word}" is not a sheet size. Give sizes such as 48x96,48x120.'
        ) from error
    if not (0 < width <= LONGEST_SHEET and 0 < length <= LONGEST_SHEET):
        longest = show_with_unit(LONGEST_SHEET, unit)
        raise NotAChoice(f'"{word}" is not a sheet size: a side is more than 0, up to {longest}.')
    return _named(width, length, unit)


def _named(width: Fraction, length: Fraction, unit: Unit) -> SheetSize:
    return SheetSize(width, length, f"{show_exactly(width, unit)}x{show_exactly(length, unit)}")


def _words(text: str) -> list[str]:
    return list(_stripped(text))


def _stripped(text: str) -> Iterator[str]:
    for word in text.split(","):
        if stripped := word.strip():
            yield stripped
