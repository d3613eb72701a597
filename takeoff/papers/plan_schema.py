"""The form of plan.json. A field added, changed or taken away raises `VERSION`.

Lengths are inches, areas square feet, weights pounds, costs in the shop's own money. On a sheet x
runs along its width and y along its length, from the lower left corner; on a piece from the lower
left corner of its blank.
"""

from __future__ import annotations

from dataclasses import dataclass

from .plan_room_schema import FromStockRecord, KeptRecord, RackPieceRecord, RoomRecord

SCHEMA = "blankwright plan"
VERSION = 4

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class PartRecord:
    """A blank on a sheet, its size as it lies there."""

    blank: str
    x_in: float
    y_in: float
    width_in: float
    length_in: float
    turned: bool


@dataclass(frozen=True)
class LeftoverRecord:
    """An offcut with its label, or scrap with none."""

    label: str | None
    x_in: float
    y_in: float
    width_in: float
    length_in: float


@dataclass(frozen=True)
class CutRecord:
    """A stroke of the shear; `direction` is that of the blade on the sheet."""

    number: int
    on_the_table: str
    direction: str
    back_gauge_in: float
    length_in: float
    falls_off: str
    stays: str


@dataclass(frozen=True)
class SheetRecord:
    """Sheets that are all cut alike; `supply` is buy, on hand or rack, `pieces` off the rack."""

    layout: int
    file: str
    stock: str
    width_in: float
    length_in: float
    count: int
    supply: str
    pieces: tuple[RackPieceRecord, ...]
    unit_cost: float
    used: float
    parts: tuple[PartRecord, ...]
    offcuts: tuple[LeftoverRecord, ...]
    scrap: tuple[LeftoverRecord, ...]
    cuts: tuple[CutRecord, ...]


@dataclass(frozen=True)
class WeightRecord:
    """Stock is the sum of the other three."""

    stock_lb: float
    blanks_lb: float
    offcuts_lb: float
    scrap_lb: float


@dataclass(frozen=True)
class BaselineRecord:
    """What another packer makes of the same blanks and stock."""

    name: str
    cost: float
    sheets: int
    used: float


@dataclass(frozen=True)
class UnplacedRecord:
    """Copies that no sheet could take."""

    blank: str
    qty: int
    reason: str


@dataclass(frozen=True)
class GroupRecord:
    """A metal and gauge. `bound` is a proved lower bound on `cost`, `gap` (cost - bound) / cost."""

    material: str
    gauge: int
    thickness_in: float
    weight_lb_per_ft2: float
    cost: float
    bound: float
    gap: float
    used: float
    weights: WeightRecord
    baseline: BaselineRecord | None
    sheets: tuple[SheetRecord, ...]
    unplaced: tuple[UnplacedRecord, ...]


@dataclass(frozen=True)
class BendRecord:
    """A bend line; the angle is from flat, above 0 towards the inside of the fitting."""

    label: str
    start: tuple[float, float]
    end: tuple[float, float]
    angle: float
    forming: str


@dataclass(frozen=True)
class MarkRecord:
    """A running mark: inches from the datum edge, and as the tape reads it."""

    at_in: float
    tape: str
    line: str
    angle: float | None


@dataclass(frozen=True)
class HoleRecord:
    """A cut-out: its boundary, and centre and diameter where it is round."""

    label: str
    points: Points
    centre: tuple[float, float] | None
    diameter_in: float | None


@dataclass(frozen=True)
class NotchRecord:
    """Metal cut away before bending."""

    kind: str
    points: Points


@dataclass(frozen=True)
class BendStepRecord:
    """A bend: its line, degrees (above 0 up), where on the brake it is made or that it is by hand.

    Lines that are bent by hand in one step follow each other.
    """

    line: str
    start: tuple[float, float]
    end: tuple[float, float]
    angle: float
    where: str


@dataclass(frozen=True)
class PieceRecord:
    """A piece of metal, flat; `marks_width` run from the left edge, `marks_length` from below."""

    blank: str
    name: str
    qty: int
    width_in: float
    length_in: float
    outline: Points
    slits: tuple[Points, ...]
    bends: tuple[BendRecord, ...]
    bend_order: tuple[BendStepRecord, ...]
    marks_width: tuple[MarkRecord, ...]
    marks_length: tuple[MarkRecord, ...]
    holes: tuple[HoleRecord, ...]
    notches: tuple[NotchRecord, ...]
    cross_break: tuple[str, ...]


@dataclass(frozen=True)
class HardwareRecord:
    """What one copy of a fitting needs beside sheet metal."""

    what: str
    qty: int
    note: str


@dataclass(frozen=True)
class CutoutRecord:
    """The hole that a branch needs in the fitting it goes into, centred on the branch's axis."""

    name: str
    points: Points
    diameter_in: float | None
    note: str


@dataclass(frozen=True)
class FittingRecord:
    """A row of the job list, taken apart. Quantities of pieces are for the whole row."""

    mark: str
    fitting: str
    qty: int
    material: str
    gauge: int
    note: str
    given: dict[str, str]
    notes: tuple[str, ...]
    hardware: tuple[HardwareRecord, ...]
    cutouts: tuple[CutoutRecord, ...]
    pieces: tuple[PieceRecord, ...]


@dataclass(frozen=True)
class OrderRecord:
    """Sheets of one metal, gauge and size; cost and weight of all of them."""

    material: str
    gauge: int
    stock: str
    width_in: float
    length_in: float
    qty: int
    unit_cost: float
    cost: float
    weight_lb: float


@dataclass(frozen=True)
class HardwareLineRecord:
    """What the whole job needs of one thing, in `unit`; the costs are null without a price."""

    what: str
    detail: str
    qty: float
    unit: str
    why: str
    unit_cost: float | None
    cost: float | None


@dataclass(frozen=True)
class WorkRecord:
    """One kind of operation in the whole job; `rate` is its name in the shop profile."""

    rate: str
    what: str
    qty: float
    unit: str
    minutes_each: float | None
    minutes: float | None


@dataclass(frozen=True)
class BillLineRecord:
    """A sum of the bill; below 0 it is taken off."""

    what: str
    amount: float
    why: str


@dataclass(frozen=True)
class BillRecord:
    """What is added up, what is missing from the sum and what it rests on."""

    currency: str
    total: float
    hours: float
    lines: tuple[BillLineRecord, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class PlanRecord:
    """A whole plan; `files` are those written beside it.

    `cost` is all the stock, `bought` the part of it to buy; `order` is what to buy, `from_stock`
    what the shop has. `room` is null where the plan draws on no stock room. `identity` is this
    plan's alone: the same job planned again, with the same outcome, has another.
    """

    schema: str
    version: int
    identity: str
    job: str
    units: str
    sheets: int
    cost: float
    bought: float
    bound: float
    used: float
    weights: WeightRecord
    nesting_seconds: float
    groups: tuple[GroupRecord, ...]
    order: tuple[OrderRecord, ...]
    room: RoomRecord | None
    from_stock: tuple[FromStockRecord, ...]
    kept: tuple[KeptRecord, ...]
    hardware: tuple[HardwareLineRecord, ...]
    shop_time: tuple[WorkRecord, ...]
    bill: BillRecord
    fittings: tuple[FittingRecord, ...]
    assumed: tuple[str, ...]
    prices: tuple[str, ...]
    warnings: tuple[str, ...]
    files: tuple[str, ...]
