"""Sheets, offcuts and needs of our own for the tests of the stock room."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from takeoff.stockroom import KindKey, Needs, NewOffcut, Room, SheetNeed

G26 = KindKey("galvanized", 26, "4 x 8")
G24 = KindKey("galvanized", 24, "4 x 10")
STRIP = NewOffcut("galvanized", 26, Fraction(35, 2), Fraction(61), "bay 1")
PLATE = NewOffcut("galvanized", 24, Fraction(2000, 127), Fraction(30), "bay 2", "one corner bent")


def stocked(room: Room, sheets: int = 10, strips: int = 4) -> tuple[str, ...]:
    """Put sheets and offcuts in; the labels of the offcuts."""
    room.sheets.add(G26, Fraction(48), Fraction(96), sheets, Decimal("36.40"))
    room.sheets.add(G24, Fraction(48), Fraction(120), sheets)
    return room.rack.add([STRIP] * strips).labels


def needs(sheets: int = 0, *labels: str) -> Needs:
    """Sheets of one kind, and offcuts."""
    return Needs((SheetNeed(G26, sheets),) if sheets else (), labels)
