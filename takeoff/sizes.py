"""Sizes of metal that the shop has, sheets and offcuts alike: never told larger than they are."""

from __future__ import annotations

from takeoff.lengths import Length, Unit, show_within


def side(length: Length, unit: Unit) -> str:
    """`17 1/2 in`."""
    return f"{show_within(length, unit)} {unit.name}"


def sides(width: Length, length: Length, unit: Unit) -> str:
    """`17 1/2 x 23`, where the unit stands beside it."""
    return f"{show_within(width, unit)} x {show_within(length, unit)}"


def size(width: Length, length: Length, unit: Unit) -> str:
    """`17 1/2 x 23 in`."""
    return f"{sides(width, length, unit)} {unit.name}"
