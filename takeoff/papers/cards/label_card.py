"""Labels for the offcuts that are kept, to cut out and tape on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.drawing import theme
from takeoff.drawing.lettering import fitted
from takeoff.drawing.page import LEFT, TOP, WIDE, Head, page
from takeoff.drawing.primitives import Align, Area, Drawing, Primitive, Text, rectangle
from takeoff.drawing.sheet_page import offcut_size
from takeoff.layouts import Layout
from takeoff.lengths import Unit

from ..cautions import BENCH

ACROSS, DOWN = 3, 9
HEIGHT = 72.0
"""Points of one label."""
INSET = 8.0


@dataclass(frozen=True)
class _Label:
    name: str
    metal: str
    size: str


def label_card(layouts: Sequence[Layout], unit: Unit, job: str) -> Iterator[Drawing]:
    """Pages with one label for every offcut of every sheet."""
    labels = [
        _Label(offcut.label, layout.metal.name, f"{offcut_size(offcut.box, unit)} {unit.name}")
        for layout in layouts
        for offcut in layout.offcuts
        for _ in range(layout.count)
    ]
    head = Head("Labels for the offcuts to keep", "Cut out, tape one on each, rack by metal", job)
    many = ACROSS * DOWN
    for start in range(0, len(labels), many):
        items: list[Primitive] = []
        for place, label in enumerate(labels[start : start + many]):
            items.extend(_drawn(label, place, job))
        yield page(head, items, BENCH, head.title)


def _drawn(label: _Label, place: int, job: str) -> Iterator[Primitive]:
    row, column = divmod(place, ACROSS)
    wide = WIDE / ACROSS
    left, top = LEFT + column * wide, TOP - row * HEIGHT
    yield Area(rectangle((left, top - HEIGHT), (left + wide, top)), None, theme.OFFCUT)
    room = wide - 2 * INSET
    lines = (
        (f"OFFCUT {label.name}", theme.TITLE, True, 16.0),
        (label.size, theme.HEADING + 1, True, 35.0),
        (label.metal, theme.LIST, False, 49.0),
        (job, theme.BODY, False, 61.0),
    )
    for text, size, bold, drop in lines:
        told = fitted(text, size, room, bold)
        yield Text((left + INSET, top - drop), told, size, Align.START, bold=bold)
