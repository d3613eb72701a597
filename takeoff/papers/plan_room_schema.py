"""The part of plan.json that a stock room reads: what is taken, what is kept."""

from __future__ import annotations

from dataclasses import dataclass

Sides = tuple[str, str]
"""Width and length in inches, exactly, as fractions: `35/2`."""


@dataclass(frozen=True)
class RackPieceRecord:
    """An offcut on the rack: its label, and where it stood when the plan was made."""

    label: str
    place: str


@dataclass(frozen=True)
class FromStockRecord:
    """Metal of the shop's own: `key` is what the stock room knows a sheet on hand by."""

    supply: str
    material: str
    gauge: int
    stock: str
    key: str
    width_in: float
    length_in: float
    sides: Sides
    qty: int
    unit_cost: float
    cost: float
    weight_lb: float
    pieces: tuple[RackPieceRecord, ...]


@dataclass(frozen=True)
class KeptRecord:
    """An offcut to keep of every one of the sheets of a layout; `label` as on its drawing."""

    label: str
    layout: int
    qty: int
    material: str
    gauge: int
    width_in: float
    length_in: float
    sides: Sides


@dataclass(frozen=True)
class RoomRecord:
    """The stock room that the plan draws on, and what it may take: offcuts, or all.

    `again` are the arguments of the command that makes the plan anew, room and folder left out.
    """

    identity: str
    place: str
    draw: str
    again: tuple[str, ...]
