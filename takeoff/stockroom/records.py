"""What goes into the stock room and comes out of it: plain data, sizes in exact inches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from takeoff.errors import Fault


class OffcutState(StrEnum):
    """Where an offcut is in its life."""

    ON_RACK = "on rack"
    RESERVED = "reserved"
    USED = "used"
    SCRAPPED = "scrapped"
    TAKEN_BACK = "taken back"
    """The step that put it on the rack was undone."""


class PlanState(StrEnum):
    """What a plan has done to the stock room."""

    PLANNED = "planned"
    COMMITTED = "committed"
    CUT = "cut"
    RELEASED = "released"

    @property
    def told(self) -> str:
        """For a person: what a plan commits is reserved for it."""
        return "reserved" if self is PlanState.COMMITTED else str(self)


class Progress(StrEnum):
    """How far the making of a plan has come."""

    QUEUED = "queued"
    RUNNING = "running"
    STOPPED = "stopped"
    FAILED = "failed"
    DONE = "done"


class Action(StrEnum):
    """What a step did."""

    ADD_SHEETS = "add sheets"
    COUNT_SHEETS = "count sheets"
    CHANGE_SHEETS = "change sheets"
    IMPORT_SHEETS = "import sheets"
    ADD_OFFCUTS = "add offcuts"
    IMPORT_OFFCUTS = "import offcuts"
    SCRAP_OFFCUTS = "scrap offcuts"
    CHANGE_OFFCUT = "change offcut"
    COMMIT = "commit"
    RELEASE = "release"
    CUT = "cut"
    UNDO = "undo"

    @property
    def told(self) -> str:
        """For a person: what a plan commits is reserved for it."""
        return "reserve" if self is Action.COMMIT else str(self)


@dataclass(frozen=True, order=True)
class KindKey:
    """What the stock room knows a kind of sheet by: metal, gauge and the shop's name for it."""

    material: str
    gauge: int
    name: str

    def __str__(self) -> str:
        return f'{self.material} {self.gauge} ga "{self.name}"'


@dataclass(frozen=True)
class Kind:
    """A kind of sheet and how many there are.

    Attributes:
        key: metal, gauge and name.
        width: inches.
        length: inches; the grain runs along it.
        price: of one sheet; None: by its weight and the price per pound.
        bought: whether the shop still buys it.
        on_hand: how many there are, promised ones included.
        reserved: of these, how many are promised to plans.
    """

    key: KindKey
    width: Fraction
    length: Fraction
    price: Decimal | None = None
    bought: bool = True
    on_hand: int = 0
    reserved: int = 0

    @property
    def free(self) -> int:
        """How many are promised to nobody."""
        return self.on_hand - self.reserved


@dataclass(frozen=True)
class NewOffcut:
    """An offcut on its way to the rack.

    Attributes:
        material: its metal.
        gauge: its gauge number.
        width: inches; a size between two steps of the stock room is kept as the smaller.
        length: inches; the grain runs along it.
        place: where on the rack it stands.
        note: what the shop wrote on it.
        sheet: of its plan, the sheet it is left over from.
    """

    material: str
    gauge: int
    width: Fraction
    length: Fraction
    place: str = ""
    note: str = ""
    sheet: str = ""


@dataclass(frozen=True)
class Offcut:
    """An offcut that the stock room knows, on the rack or gone.

    Attributes:
        label: its own for good: `R-000123`.
        material: its metal.
        gauge: its gauge number.
        width: inches.
        length: inches; the grain runs along it.
        place: where on the rack it stands.
        note: what the shop wrote on it.
        state: where it is in its life.
        plan: name of the plan whose cutting left it, "" for none.
        sheet: of that plan, the sheet it is left over from.
        holder: name of the plan it is promised to, "" for none.
    """

    label: str
    material: str
    gauge: int
    width: Fraction
    length: Fraction
    place: str
    note: str
    state: OffcutState
    plan: str = ""
    sheet: str = ""
    holder: str = ""


@dataclass(frozen=True)
class Refused:
    """What is wrong with one entry of a list: its place in the list, from 0, and the fault."""

    index: int
    fault: Fault


@dataclass(frozen=True)
class SheetNeed:
    """Sheets of one kind that a plan uses."""

    key: KindKey
    qty: int


@dataclass(frozen=True)
class Needs:
    """All that a plan takes out of the stock room.

    Attributes:
        sheets: by kind; a kind named twice needs the sum.
        offcuts: labels.
    """

    sheets: tuple[SheetNeed, ...] = ()
    offcuts: tuple[str, ...] = ()


@dataclass(frozen=True)
class SheetsGone:
    """Fewer sheets are free than a plan needs."""

    key: KindKey
    asked: int
    free: int

    def __str__(self) -> str:
        return f"{self.key}: {self.asked} needed, {self.free} free"


@dataclass(frozen=True)
class OffcutGone:
    """An offcut that is not free; `state` None: it was never here; `holder`: a plan's name."""

    label: str
    state: OffcutState | None
    holder: str = ""

    def __str__(self) -> str:
        if self.state is None:
            return f"{self.label}: there is no such offcut"
        held = f' for plan "{self.holder}"' if self.holder else ""
        return f"{self.label}: {self.state}{held}"


Gone = SheetsGone | OffcutGone
"""A piece that a plan needs and cannot have."""


@dataclass(frozen=True)
class PlanRecord:
    """A plan as the stock room knows it.

    Attributes:
        key: its own for good: a fingerprint of its file, or what the page gave it.
        name: for people.
        state: what it has done to the stock room.
        progress: how far its making has come; None where nobody follows that.
        folder: where its papers are.
        job: number of the kept job it was made of, if any.
        made: when it was noted first.
        changed: when its state or progress changed last.
        told: what is to be said of its progress: why it failed, what it saves.
    """

    key: str
    name: str
    state: PlanState
    progress: Progress | None
    folder: str
    job: int | None
    made: datetime
    changed: datetime
    told: str = ""


@dataclass(frozen=True)
class Step:
    """What was done in one go.

    Attributes:
        number: rising.
        action: what was done.
        at: when, UTC.
        who: by whom.
        plan: name of the plan it was done for, "" for none.
        note: what was written beside it.
        undoes: number of the step that it undid, if it is an undo.
        undone: whether a later step has undone it.
        labels: of the offcuts that it put on the rack, where it did.
        pieces: what it changed, in words: `R-000001 to R-000012`; "" for nothing.
    """

    number: int
    action: Action
    at: datetime
    who: str
    plan: str
    note: str
    undoes: int | None = None
    undone: bool = False
    labels: tuple[str, ...] = ()
    pieces: str = ""


@dataclass(frozen=True)
class Movement:
    """What a step did to one kind of sheet or one offcut.

    Attributes:
        step: what it belongs to.
        piece: a kind of sheet, or an offcut's label.
        count: in (+) or out (-) of the stock room.
        promised: promised (+) to the step's plan or given back (-).
        before: what was written of it and was changed: state, place, price ...
        after: the same, as it was from then on.
    """

    step: Step
    piece: KindKey | str
    count: int
    promised: int
    before: Mapping[str, object] = field(default_factory=dict)
    after: Mapping[str, object] = field(default_factory=dict)
