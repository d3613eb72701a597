"""What the stock costs, how good that is at best, and where its prices are from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.layouts import Layout
from takeoff.nest import GroupPlan, JobPlan
from takeoff.profile import default
from takeoff.settings import Profile
from takeoff.stock import StockItem, as_new, price
from takeoff.supply import Supply

from .money import exactly


@dataclass(frozen=True)
class StockCost:
    """What the sheets of a metal cost, and where the money lies.

    Attributes:
        stock: of the sheets used, bought or not.
        bought: the part of it that is for sheets to buy.
        scrap: the part of it that is paid for scrap, by area.
        offcuts: the part of it that lies in offcuts, by area.
    """

    stock: Fraction = Fraction(0)
    bought: Fraction = Fraction(0)
    scrap: Fraction = Fraction(0)
    offcuts: Fraction = Fraction(0)

    def __add__(self, other: StockCost) -> StockCost:
        return StockCost(
            self.stock + other.stock,
            self.bought + other.bought,
            self.scrap + other.scrap,
            self.offcuts + other.offcuts,
        )

    @property
    def had(self) -> Fraction:
        """The part of it that is the worth of what the shop has already."""
        return self.stock - self.bought


def stock_cost(layouts: Iterable[Layout]) -> StockCost:
    """Of all the sheets that are cut in these ways."""
    return sum((_cost(layout) for layout in layouts), StockCost())


def _cost(layout: Layout) -> StockCost:
    paid = layout.count * exactly(layout.cost)
    bought = paid if layout.item.supply is Supply.BUY else Fraction(0)
    return StockCost(
        paid,
        bought,
        paid * layout.scrap_area / layout.area,
        paid * layout.offcuts_area / layout.area,
    )


def new_metal(group: GroupPlan, layouts: Iterable[Layout], profile: Profile) -> Fraction:
    """What new metal would cost that the offcuts off the rack stand in for.

    That is their area, less what of them goes back to the rack, as a share of the sheet to buy that
    is cheapest for its area.

    Args:
        group: a metal and gauge, for the sheets there were to buy.
        layouts: its own.
        profile: the shop's settings.
    """
    taken = sum(
        (each.count * (each.area - each.offcuts_area) for each in layouts if each.pieces),
        Fraction(0),
    )
    sheets = [item for item in group.stock if item.supply is Supply.BUY]
    return exactly(as_new(group.metal, taken, sheets, profile))


def price_notes(plan: JobPlan) -> tuple[str, ...]:
    """Sentences that tell which prices did not come from a stock list; none if all did."""
    notes: list[str] = []
    for metal in dict.fromkeys(group.metal.material for group in plan.groups):
        groups = [group for group in plan.groups if group.metal.material == metal]
        if any(by_weight(item, plan.profile) for item in _used(groups)):
            notes.append(_price_note(metal, plan.profile))
    return tuple(notes)


def by_weight(item: StockItem, profile: Profile) -> bool:
    """Whether a sheet's cost is what its weight and the profile's price per pound make it."""
    weighed = price(item.material, item.gauge, item.width, item.length, profile)
    return item.cost == weighed


def _used(groups: Sequence[GroupPlan]) -> list[StockItem]:
    used = (group.item(sheet.stock.name) for group in groups for sheet in group.plan.sheets)
    return [item for item in used if item.supply is not Supply.RACK]


def _price_note(metal: str, profile: Profile) -> str:
    rate = profile.prices.per_lb[metal]
    if rate == default().prices.per_lb[metal]:
        return (
            f"The prices of {metal} are placeholders: {rate:.2f} a pound stands in until you give "
            "a stock list with costs or set your own price in the shop profile."
        )
    return f"{metal.capitalize()} without a cost in the stock list is priced at {rate:.2f} a pound."
