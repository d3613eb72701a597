"""A sheet as it is cut: blanks to scale with name and size, offcuts hatched, scrap shaded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from takeoff.layouts import Box, Layout, Offcut, Part
from takeoff.lengths import Unit, show_exactly
from takeoff.sizes import side, sides

from . import theme
from .hatch import hatch
from .labels import Label, Wording, backing, fullest, written
from .lettering import width
from .primitives import Area, Drawing, Lines, Primitive, Spot, Text, rectangle
from .tags import ROOM, Tagged, tags

DIMENSIONS = 17.0
"""Points for the sizes written beside the sheet."""


@dataclass(frozen=True)
class _Named:
    """A blank or an offcut with its corners, the wordings for it and the shortest of all."""

    low: Spot
    high: Spot
    wordings: tuple[Wording, ...]
    short: str

    @property
    def centre(self) -> Spot:
        return (self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2

    def label(self, scale: float) -> Label | None:
        """Its label at a scale, if any fits."""
        room = (self.high[0] - self.low[0]) * scale, (self.high[1] - self.low[1]) * scale
        full = fullest(self.wordings, room, theme.SMALLEST_LABEL)
        return full or fullest([[self.short]], room, theme.SMALLEST_NUMBER)


def numbered(layout: Layout) -> dict[str, int]:
    """A number for each different blank of the sheet, for those too small to carry a name."""
    names = dict.fromkeys(part.blank.name for part in layout.parts)
    return {name: number for number, name in enumerate(names, 1)}


def sheet_drawing(layout: Layout, unit: Unit, room: Spot) -> Drawing:
    """The sheet, as large as the room (points) takes it; units of the drawing are inches."""
    numbers = numbered(layout)
    blanks = [_blank(part, numbers, unit) for part in layout.parts]
    offcuts = [_offcut(offcut, unit) for offcut in layout.offcuts]
    sheet = float(layout.width), float(layout.length)
    beside = 4.0
    scale = _scale(sheet, room, beside)
    if any(named.label(scale) is None for named in (*blanks, *offcuts)):
        beside = ROOM
        scale = _scale(sheet, room, beside)
    items = (
        Area(rectangle((0.0, 0.0), sheet), theme.SCRAP, theme.SHEET),
        *_offcuts(offcuts, scale),
        *(Area(rectangle(each.low, each.high), theme.PAPER, theme.BLANK) for each in blanks),
        *_labels(blanks, offcuts, sheet, scale),
        *_dimensions(layout, unit, beside, scale),
    )
    low = -(DIMENSIONS + beside) / scale, -2.0 / scale
    high = sheet[0] + beside / scale, sheet[1] + DIMENSIONS / scale
    return Drawing(low, high, scale, items, f"Layout {layout.number}: {layout.item.name}")


def _scale(sheet: Spot, room: Spot, beside: float) -> float:
    """Points to an inch that fill the room."""
    return min(
        (room[0] - DIMENSIONS - 2 * beside) / sheet[0], (room[1] - DIMENSIONS - 2) / sheet[1]
    )


def _corners(box: Box) -> tuple[Spot, Spot]:
    x, y = float(box.x), float(box.y)
    return (x, y), (x + float(box.width), y + float(box.length))


def _blank(part: Part, numbers: Mapping[str, int], unit: Unit) -> _Named:
    name = part.blank.name
    size = " x ".join(show_exactly(side, unit) for side in part.size)
    turned = ["turned"] if part.turned else []
    number = str(numbers[name])
    return _Named(
        *_corners(part.box),
        (
            *([*words, size, *turned] for words in _broken(name)),
            *([*words, ", ".join([size, *turned])] for words in _broken(name)),
            [", ".join([name, size, *turned])],
            [number, size, *turned],
            [", ".join([f"{number}: {size}", *turned])],
        ),
        number,
    )


def _offcut(offcut: Offcut, unit: Unit) -> _Named:
    size = sides(offcut.box.width, offcut.box.length, unit)
    name = f"offcut {offcut.label}"
    wordings = (
        [name, size],
        [f"{name}, {size}"],
        [offcut.label, size],
        [f"{offcut.label}: {size}"],
    )
    return _Named(*_corners(offcut.box), wordings, offcut.label)


def _broken(name: str) -> Iterator[list[str]]:
    """The name on one line, and on two lines as even as they can be made."""
    yield [name]
    words = name.split()
    halves = [[" ".join(words[:at]), " ".join(words[at:])] for at in range(1, len(words))]
    if halves:
        yield min(halves, key=lambda lines: max(width(line, 1.0) for line in lines))


def _offcuts(offcuts: Sequence[_Named], scale: float) -> Iterator[Primitive]:
    step = theme.HATCH_STEP / scale
    for each in offcuts:
        corners = rectangle(each.low, each.high)
        yield Area(corners, theme.PAPER)
        yield Lines(tuple(hatch(each.low, each.high, step)), theme.HATCH)
        yield Area(corners, None, theme.OFFCUT)


def _labels(
    blanks: Sequence[_Named], offcuts: Sequence[_Named], sheet: Spot, scale: float
) -> Iterator[Primitive]:
    """What is written in and beside the sheet; lines to tags run below the letters."""
    found = [(each, each.label(scale)) for each in (*blanks, *offcuts)]
    lacking = [Tagged(each.short, each.low, each.high) for each, label in found if label is None]
    yield from tags(lacking, sheet, scale)
    fitting = [(each, label) for each, label in found if label is not None]
    yield from (backing(label, each.centre, scale) for each, label in fitting)
    for each, label in fitting:
        yield from written(label, each.centre, scale)


def _dimensions(layout: Layout, unit: Unit, beside: float, scale: float) -> Iterable[Primitive]:
    """Width above the sheet, length to its left."""
    wide, length = float(layout.width), float(layout.length)
    near, far, tick = 4.0 / scale, 11.0 / scale, 2.5 / scale
    left = -beside / scale
    above = length + near
    lines = (
        ((0.0, above), (wide, above)),
        ((0.0, above - tick), (0.0, above + tick)),
        ((wide, above - tick), (wide, above + tick)),
        ((left, 0.0), (left, length)),
        ((left - tick, 0.0), (left + tick, 0.0)),
        ((left - tick, length), (left + tick, length)),
    )
    size = theme.HEADING
    across = side(layout.width, unit)
    along = side(layout.length, unit)
    return (
        Lines(lines, theme.DIMENSION),
        Text((wide / 2, length + far), across, size),
        Text((left - (far - near), length / 2), along, size, upright=True),
    )
