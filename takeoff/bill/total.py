"""The bill: stock, hardware and shop time, what is missing from it and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.blanks import MadeLine
from takeoff.layouts import Layout
from takeoff.lengths import Unit
from takeoff.plural import many
from takeoff.settings import Profile
from takeoff.supply import Supply

from .cost import StockCost, stock_cost
from .counted import HardwareLine, count
from .hardware import hardware
from .money import exactly, show
from .remarks import missing, notes
from .weight import scrap_by_metal
from .work import Bends, WorkLine, added, at_the_bench, at_the_shear, beside, work


@dataclass(frozen=True)
class BillLine:
    """A sum of the bill: what for, how much (below 0: taken off), where it comes from."""

    what: str
    amount: Fraction
    why: str


@dataclass(frozen=True)
class Bill:
    """What a job comes to.

    Attributes:
        hardware: everything beside the sheets.
        work: every kind of operation.
        lines: what is added up.
        missing: sentences on what is not in the sum.
        notes: sentences on what the sum rests on.
        currency: mark set before amounts; "" for none.
    """

    hardware: tuple[HardwareLine, ...]
    work: tuple[WorkLine, ...]
    lines: tuple[BillLine, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    currency: str

    @property
    def total(self) -> Fraction:
        """Of all the lines."""
        return sum((line.amount for line in self.lines), Fraction(0))

    @property
    def hours(self) -> Fraction:
        """Of the operations whose minutes are known."""
        return known_minutes(self.work) / 60

    def money(self, amount: Fraction) -> str:
        """An amount with the shop's currency mark: `$1,234.50`, `-EUR 3.00`."""
        sign = "-" if amount < 0 else ""
        gap = " " if len(self.currency) > 1 else ""
        return f"{sign}{self.currency}{gap}{show(abs(amount))}"


def bill(
    lines: Sequence[MadeLine], layouts: Sequence[Layout], profile: Profile, bends: Bends, unit: Unit
) -> Bill:
    """The bill of a nested job.

    Args:
        lines: the rows of the job, taken apart.
        layouts: the sheets that they are cut from.
        profile: the shop's settings.
        bends: the order of bends of every blank.
        unit: that sizes are told in.
    """
    parts = hardware(lines, profile, unit)
    quantities = added(
        [
            at_the_shear(layouts),
            *(at_the_bench(made, bends) for made in lines),
            beside(count(lines, profile, unit), parts),
        ]
    )
    done = work(quantities, profile)
    costs = stock_cost(layouts)
    sums = [*_stock(costs, layouts, profile), *_hardware(parts), *_work(done, profile)]
    sums += _overhead(sums, profile)
    return Bill(
        parts,
        done,
        tuple(sums),
        tuple(missing(parts, done, layouts, profile)),
        tuple(notes(parts, profile)),
        profile.bill.currency,
    )


def known_minutes(lines: Sequence[WorkLine]) -> Fraction:
    """Of the operations whose minutes the shop knows."""
    return sum((line.minutes for line in lines if line.minutes is not None), Fraction(0))


def _stock(costs: StockCost, layouts: Sequence[Layout], profile: Profile) -> Iterator[BillLine]:
    rule = profile.bill
    bought = sum(layout.count for layout in layouts if layout.item.supply is Supply.BUY)
    yield BillLine("stock", costs.bought, f"{bought} sheets, as ordered")
    if had := [layout for layout in layouts if layout.item.supply is not Supply.BUY]:
        yield BillLine("from the shop's own", costs.had, _worth(had, profile))
    if rule.waste:
        share = exactly(rule.waste) / 100
        yield BillLine("waste", costs.stock * share, f"{rule.waste:g} % of the stock")
    if rule.offcut_credit:
        share = exactly(rule.offcut_credit) / 100
        why = f"{rule.offcut_credit:g} % of the {show(costs.offcuts)} that lie in offcuts kept"
        yield BillLine("offcuts kept", -costs.offcuts * share, why)
    for metal, pounds in scrap_by_metal(layouts).items():
        price = profile.prices.scrap_per_lb.get(metal)
        if price is not None and pounds:
            why = f"{float(pounds):.1f} lb of {metal} at {price:g}"
            yield BillLine("scrap sold", -pounds * exactly(price), why)


def _worth(had: Sequence[Layout], profile: Profile) -> str:
    """What of the shop's own metal is used, and how its worth is reckoned."""
    parts = []
    if sheets := sum(layout.count for layout in had if layout.item.supply is Supply.ON_HAND):
        parts.append(f"{many(sheets, 'sheet')} on hand at their price")
    if offcuts := sum(len(layout.pieces) for layout in had):
        share = profile.room.offcut_value
        parts.append(f"{many(offcuts, 'offcut')} at {share:g} % of what new metal costs")
    return ", ".join(parts)


def _hardware(parts: Sequence[HardwareLine]) -> Iterator[BillLine]:
    priced = [line.cost for line in parts if line.cost is not None]
    if priced:
        why = f"{len(priced)} of {len(parts)} lines, those with a price"
        yield BillLine("hardware", sum(priced, Fraction(0)), why)


def _work(done: Sequence[WorkLine], profile: Profile) -> Iterator[BillLine]:
    rate = profile.rates.per_hour
    if rate is not None:
        hours = known_minutes(done) / 60
        why = f"{float(hours):.1f} hours at {show(rate)}"
        yield BillLine("shop time", hours * exactly(rate), why)


def _overhead(sums: Sequence[BillLine], profile: Profile) -> list[BillLine]:
    if not profile.bill.overhead:
        return []
    before = sum((line.amount for line in sums), Fraction(0))
    share = exactly(profile.bill.overhead) / 100
    return [BillLine("overhead", before * share, f"{profile.bill.overhead:g} % of the above")]
