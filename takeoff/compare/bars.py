"""The cost of every choice as a bar, drawn as narrow as a phone."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.bill.money import show as money
from takeoff.drawing.hatch import hatch
from takeoff.drawing.lettering import fitted, width
from takeoff.drawing.primitives import (
    Align,
    Area,
    Drawing,
    Lines,
    Pen,
    Primitive,
    Text,
    rectangle,
)

from .results import Comparison, Row

WIDE = 320.0
ROW = 40.0
BAR = 14.0
"""Points: the drawing, each choice, and its bar."""
LETTERS = 11.0
"""Points: read on a phone at arm's length."""
HATCH = 4.0

DARK, PLAIN = 0.35, 0.78
"""Greys of the cheapest choice that is allowed, and of the others."""
EDGE = Pen(0.8)
STROKE = Pen(0.5, (), 0.35)
WRITTEN = Pen(1.0, (4, 3))
LEAST = Pen(2.0)


def bars(comparison: Comparison) -> Drawing:
    """A bar for every choice that can be made, the reason for every other, in points.

    Dark is the cheapest that the code table does not find too light, hatched one that it does.
    The dashed line is the cost of the job as written; the short thick one is the proved least.
    """
    high = ROW * len(comparison.rows)
    costs = [float(row.figures.cost) for row in comparison.rows if row.figures]
    room = WIDE - width(" 99,999.99", LETTERS)
    scale = room / max([*costs, 0.01])
    items: list[Primitive] = []
    written = comparison.as_written
    if written is not None and written.figures is not None:
        at = float(written.figures.cost) * scale
        items.append(Lines((((at, 0.0), (at, high)),), WRITTEN))
    for place, row in enumerate(comparison.rows):
        items.extend(_row(row, high - place * ROW, scale, row is comparison.cheapest))
    return Drawing((-1.0, 0.0), (WIDE, high), 1.0, tuple(items), f"Cost of {comparison.job}")


def _row(row: Row, top: float, scale: float, best: bool) -> Iterator[Primitive]:
    name = fitted(row.choice.name, LETTERS, WIDE, bold=best)
    yield Text((0.0, top - LETTERS * 0.8), name, LETTERS, Align.START, bold=best)
    high = top - LETTERS * 1.6
    low = high - BAR
    middle = (low + high) / 2
    if row.figures is None:
        reason = fitted(row.note, LETTERS - 1.5, WIDE)
        yield Text((0.0, middle), reason, LETTERS - 1.5, Align.START)
        return
    end = float(row.figures.cost) * scale
    light = bool(row.outcome.too_light)
    yield Area(rectangle((0.0, low), (end, high)), 1.0 if light else DARK if best else PLAIN, EDGE)
    if light:
        yield Lines(tuple(hatch((0.0, low), (end, high), HATCH)), STROKE)
    least = float(row.figures.bound) * scale
    yield Lines((((least, low - 2.0), (least, high + 2.0)),), LEAST)
    cost = money(row.figures.cost)
    behind = rectangle((end + 2.0, low), (end + 6.0 + width(cost, LETTERS, bold=best), high))
    yield Area(behind, 1.0)
    yield Text((end + 4.0, middle), cost, LETTERS, Align.START, bold=best)
