"""What the papers of a plan tell, worked out once for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType

from takeoff.bill.cost import StockCost, new_metal, price_notes, stock_cost
from takeoff.bill.money import exactly
from takeoff.bill.money import show as money
from takeoff.bill.order import OrderLine, from_stock, order
from takeoff.bill.total import Bill, bill
from takeoff.bill.weight import Weights, weights
from takeoff.bill.work import Bends
from takeoff.blanks import MadeLine
from takeoff.layouts import Layout, layouts
from takeoff.materials import SheetMetal
from takeoff.nest import GroupPlan, JobPlan
from takeoff.pattern.bending import bend_order
from takeoff.plural import many
from takeoff.settings import Brake, Profile
from takeoff.uncut import uncut

from .assumed import assumed, room_sizes


@dataclass(frozen=True)
class Baseline:
    """What another packer makes of the same blanks and stock, for comparison.

    Attributes:
        name: of the packer.
        cost: of the sheets it uses.
        sheets: how many.
        used: share of their metal that ends in blanks, 0 to 1.
    """

    name: str
    cost: float
    sheets: int
    used: float


NO_BASELINES: Mapping[SheetMetal, Baseline] = MappingProxyType({})


@dataclass(frozen=True)
class GroupContents:
    """One metal and gauge of the job.

    Attributes:
        group: its nest.
        layouts: its different sheets.
        weights: where its metal goes.
        cost: where its money goes.
        spared: what the metal would cost that offcuts off the rack stand in for.
        baseline: what another packer makes of it, if that was tried.
    """

    group: GroupPlan
    layouts: tuple[Layout, ...]
    weights: Weights
    cost: StockCost
    spared: Fraction
    baseline: Baseline | None

    @property
    def sheets(self) -> int:
        """How many are cut."""
        return len(self.group.plan.sheets)

    @property
    def name(self) -> str:
        """Metal and gauge: `galvanized 24 ga`."""
        return self.group.metal.name

    @property
    def compared(self) -> str | None:
        """A sentence on what another packer makes of it, if that was tried."""
        other, plan = self.baseline, self.group.plan
        if other is None:
            return None
        return (
            f"{self.name}: {other.name}'s best takes {many(other.sheets, 'sheet')} for "
            f"{money(other.cost)} ({other.used:.1%} used); this plan takes "
            f"{many(self.sheets, 'sheet')} for {money(plan.cost)} ({plan.used:.1%} used)."
        )


@dataclass(frozen=True)
class Contents:
    """A whole job, ready for the papers.

    Attributes:
        plan: the solved job.
        groups: its metals and gauges.
        order: the sheets to buy.
        from_stock: what it takes of the shop's own.
        price_notes: which prices are not the shop's own.
        assumed: sentences that tell what was taken for granted.
        bends: the order of bends of every blank, by its name.
    """

    plan: JobPlan
    groups: tuple[GroupContents, ...]
    order: tuple[OrderLine, ...]
    from_stock: tuple[OrderLine, ...]
    price_notes: tuple[str, ...]
    assumed: tuple[str, ...]
    bends: Bends

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """Every different sheet of the job."""
        return tuple(layout for group in self.groups for layout in group.layouts)

    @property
    def weights(self) -> Weights:
        """Where the metal of the job goes."""
        return sum((group.weights for group in self.groups), Weights())

    @property
    def cost(self) -> StockCost:
        """Where the money for stock goes."""
        return sum((group.cost for group in self.groups), StockCost())

    @property
    def counted(self) -> Fraction:
        """What the bound is a bound on: as `cost`, but for sheets on hand, which count little."""
        return sum((exactly(group.group.plan.cost) for group in self.groups), Fraction(0))

    @property
    def count_note(self) -> str:
        """A sentence on what sheets on hand count in cost and bound; "" where there are none."""
        if all(line.pieces for line in self.from_stock):
            return ""
        share = self.plan.profile.room.sheet_value
        return (
            f"A sheet on hand counts {share:g} % of its price in Cost and in the bound, so that it "
            "is used before one is bought."
        )

    @property
    def spared(self) -> Fraction:
        """What the new metal would cost that offcuts off the rack stand in for."""
        return sum((group.spared for group in self.groups), Fraction(0))

    @property
    def rack_note(self) -> str:
        """A sentence on what offcuts are used in place of; "" where that is nothing."""
        if not self.spared:
            return ""
        return (
            f"Offcuts are used in place of {money(self.spared)} of new metal: their area, less "
            "what goes back to the rack, at the least price by area of the sheets to buy, or by "
            "weight where none are. As sheets are bought whole, a plan without the rack may cost "
            "more or less than that."
        )

    @property
    def size_note(self) -> str:
        """A sentence on what limits the sizes that are bought; "" where nothing does."""
        return room_sizes(self.plan)

    @property
    def bound(self) -> Fraction:
        """Proved least of `counted`."""
        return sum((exactly(group.group.plan.bound) for group in self.groups), Fraction(0))

    @property
    def sheets(self) -> int:
        """How many are cut."""
        return sum(group.sheets for group in self.groups)

    @property
    def used(self) -> float:
        """Share of the stock's weight that ends in blanks, 0 to 1."""
        total = self.weights
        return float(total.blanks / total.stock) if total.stock else 0.0

    @cached_property
    def bill(self) -> Bill:
        """Stock, hardware and shop time."""
        plan = self.plan
        return bill(plan.lines, self.layouts, plan.profile, self.bends, plan.job.unit)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the plan does not do and a person must know first."""
        return tuple(
            f"{entry.qty} x {entry.blank.name} ({group.name}) is NOT cut: "
            f"{uncut(group.group, entry, self.plan.profile, self.plan.job.unit)}."
            for group in self.groups
            for entry in group.group.plan.unplaced
        )


def contents(
    plan: JobPlan,
    baselines: Mapping[SheetMetal, Baseline] = NO_BASELINES,
    bends: Bends | None = None,
) -> Contents:
    """Everything the papers need of a plan.

    Args:
        plan: the solved job.
        baselines: by metal, where they were worked out.
        bends: what `bend_orders` gives, where that is worked out already.
    """
    everything = layouts(plan)
    groups = tuple(
        _group(group, everything, baselines.get(group.metal), plan.profile) for group in plan.groups
    )
    return Contents(
        plan,
        groups,
        order(everything),
        from_stock(everything),
        price_notes(plan),
        assumed(plan),
        bend_orders(plan.lines, plan.profile.brake) if bends is None else bends,
    )


def bend_orders(lines: Iterable[MadeLine], brake: Brake) -> Bends:
    """The order of bends of every blank, by its name."""
    blanks = [blank for line in lines for blank in line.blanks]
    pieces = {id(blank.piece): blank.piece for blank in blanks}  # equal fittings share theirs
    orders = {each: bend_order(piece, brake) for each, piece in pieces.items()}
    return {blank.name: orders[id(blank.piece)] for blank in blanks}


def taken(contents: Contents) -> str:
    """What the job takes, in a line: `6 sheets, 247.95`, told apart where the shop has some."""
    cost = contents.cost
    if not contents.from_stock:
        return f"{many(contents.sheets, 'sheet')}, {money(cost.stock)}"
    bought = sum(line.qty for line in contents.order)
    had = " and ".join(_had(contents))
    return f"{many(bought, 'sheet')} to buy for {money(cost.bought)}, {had}"


def _had(contents: Contents) -> Iterator[str]:
    """What of the shop's own: offcuts by the new metal they save, sheets by their price."""
    lines = contents.from_stock
    if offcuts := sum(len(line.pieces) for line in lines):
        spared = money(contents.spared)
        yield f"{many(offcuts, 'offcut')} off the rack in place of {spared} of new metal"
    sheets = [line for line in lines if not line.pieces]
    if on_hand := sum(line.qty for line in sheets):
        yield f"{many(on_hand, 'sheet')} on hand worth {money(sum(line.cost for line in sheets))}"


def _group(
    group: GroupPlan,
    everything: tuple[Layout, ...],
    baseline: Baseline | None,
    profile: Profile,
) -> GroupContents:
    mine = tuple(layout for layout in everything if layout.metal == group.metal)
    spared = new_metal(group, mine, profile)
    return GroupContents(group, mine, weights(mine), stock_cost(mine), spared, baseline)
