"""The records of plan.json for a stock room: what a plan takes of it, and what it gives back."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from takeoff.bill.order import OrderLine
from takeoff.layouts import Layout
from takeoff.supply import RackPiece
from takeoff.withdrawal import RoomUse

from . import plan_room_schema as form


def room_record(use: RoomUse | None) -> form.RoomRecord | None:
    """The stock room of a plan."""
    if use is None:
        return None
    return form.RoomRecord(use.identity, use.place, str(use.draw), use.again)


def piece_records(pieces: Iterable[RackPiece]) -> tuple[form.RackPieceRecord, ...]:
    """Offcuts on the rack."""
    return tuple(form.RackPieceRecord(piece.label, piece.place) for piece in pieces)


def from_stock_records(lines: Iterable[OrderLine]) -> tuple[form.FromStockRecord, ...]:
    """What is taken, by size."""
    return tuple(
        form.FromStockRecord(
            str(line.item.supply),
            line.metal.material,
            line.metal.gauge,
            line.item.name,
            line.item.key,
            float(line.width),
            float(line.length),
            _sides(line.width, line.length),
            line.qty,
            float(line.unit_cost),
            float(line.cost),
            float(line.weight),
            piece_records(line.pieces),
        )
        for line in lines
    )


def kept_records(layouts: Iterable[Layout]) -> tuple[form.KeptRecord, ...]:
    """The offcuts that are kept, by layout."""
    return tuple(
        form.KeptRecord(
            offcut.label,
            layout.number,
            layout.count,
            layout.metal.material,
            layout.metal.gauge,
            float(offcut.box.width),
            float(offcut.box.length),
            _sides(offcut.box.width, offcut.box.length),
        )
        for layout in layouts
        for offcut in layout.offcuts
    )


def _sides(width: Fraction, length: Fraction) -> form.Sides:
    return str(width), str(length)
