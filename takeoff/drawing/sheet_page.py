"""The page for the shear: one sheet layout, how often to cut it, and its lists."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.layouts import Layout
from takeoff.lengths import Unit, show_exactly

from . import theme
from .cut_runs import CutRun, cut_runs
from .lettering import LINE, fitted, wrapped
from .primitives import Align, Drawing, Lines, Primitive, Spot, Text, placed
from .sheet import numbered, sheet_drawing

PAGE = (595.0, 792.0)
"""Points: as wide as A4 and as high as letter, so that it prints on both in full size."""
MARGIN = 32.0
HEAD = 62.0
FOOT = 24.0
GAP = 14.0
LIST = 165.0
"""Least width of a column of lists, points."""
BELOW = 190.0
"""Least height of the lists below a sheet, points."""
INDENT = 30.0

CAUTION = (
    "Check every size before you cut. Cut edges are sharp: wear gloves. "
    "Keep the shear's guard and hold-down in place."
)


@dataclass(frozen=True)
class _Row:
    """A line of a list; a heading stands out, the lines of an entry hang below its number."""

    text: str
    number: str = ""
    heading: bool = False


def sheet_page(layout: Layout, unit: Unit, job: str) -> Drawing:
    """The page, in points; the lists stand beside a tall sheet and below a wide one."""
    wide, high = PAGE[0] - 2 * MARGIN, PAGE[1] - 2 * MARGIN - HEAD - FOOT
    beside = sheet_drawing(layout, unit, (wide - LIST - GAP, high))
    below = sheet_drawing(layout, unit, (wide, high - BELOW - GAP))
    top = PAGE[1] - MARGIN - HEAD
    if beside.scale >= below.scale:
        drawing, left = beside, MARGIN + beside.size[0] + GAP
        columns = [_Column(left, top, PAGE[0] - MARGIN - left, high)]
    else:
        drawing = below
        width = (wide - 2 * GAP) / 3
        height = high - below.size[1] - GAP
        columns = [
            _Column(MARGIN + place * (width + GAP), MARGIN + FOOT + height, width, height)
            for place in range(3)
        ]
    items = (
        *_head(layout, unit, job),
        *placed(drawing, (MARGIN, top - drawing.size[1])),
        *_lists(layout, unit, columns),
        *_foot(),
    )
    return Drawing((0.0, 0.0), PAGE, 1.0, items, drawing.title)


def _head(layout: Layout, unit: Unit, job: str) -> Iterator[Primitive]:
    """Which layout it is, of what, and how many times to cut it."""
    metal = f"{layout.metal.material} {layout.metal.gauge} ga"
    size = f"{show_exactly(layout.width, unit)} x {show_exactly(layout.length, unit)} {unit.name}"
    times = "Cut 1 sheet" if layout.count == 1 else f"Cut {layout.count} sheets"
    room = PAGE[0] - 2 * MARGIN
    first = PAGE[1] - MARGIN - theme.TITLE / 2
    second = first - theme.TITLE * 1.5
    title = f"{times} like this: layout {layout.number}, {metal}"
    about = f"{layout.item.name} ({size}), {layout.used:.1%} in blanks"
    yield Text(
        (MARGIN, first), fitted(title, theme.TITLE, room, True), theme.TITLE, Align.START, bold=True
    )
    size_of_text = theme.HEADING + 1
    yield Text((MARGIN, second), fitted(about, size_of_text, room), size_of_text, Align.START)
    third = second - size_of_text * 1.5
    yield Text((MARGIN, third), fitted(job, theme.HEADING, room), theme.HEADING, Align.START)
    rule = third - theme.TITLE * 0.7
    yield Lines((((MARGIN, rule), (PAGE[0] - MARGIN, rule)),), theme.RULE)


def _foot() -> Iterator[Primitive]:
    text = fitted(CAUTION, theme.BODY, PAGE[0] - 2 * MARGIN)
    yield Text((MARGIN, MARGIN + theme.BODY / 2), text, theme.BODY, Align.START)


@dataclass(frozen=True)
class _Column:
    """Room for a list: left edge, upper edge, width and height, points."""

    left: float
    top: float
    width: float
    height: float

    @property
    def rows(self) -> int:
        """How many lines it takes."""
        return int(self.height / (theme.BODY * LINE))


def _lists(layout: Layout, unit: Unit, columns: Sequence[_Column]) -> Iterator[Primitive]:
    """Parts, offcuts and cuts, one after the other through the columns."""
    width = min(column.width for column in columns)
    rows = list(_rows(layout, unit, width))
    room = sum(column.rows for column in columns)
    if len(rows) > room:
        rows = [*rows[: room - 1], _Row("The rest is in report.html.", heading=True)]
    for column in columns:
        for place, row in enumerate(rows[: column.rows]):
            y = column.top - (place + 0.5) * theme.BODY * LINE
            yield from _row(row, (column.left, y))
        rows = rows[column.rows :]


def _row(row: _Row, at: Spot) -> Iterator[Text]:
    if row.number:
        x = at[0] + INDENT - 4
        yield Text((x, at[1]), row.number, theme.BODY, Align.END, bold=True)
    x = at[0] if row.heading else at[0] + INDENT
    yield Text((x, at[1]), row.text, theme.BODY, Align.START, bold=row.heading)


def _rows(layout: Layout, unit: Unit, width: float) -> Iterator[_Row]:
    yield _Row("Blanks on this sheet", heading=True)
    for number, text in _parts(layout, unit):
        yield from _entry(number, text, width)
    if layout.offcuts:
        yield _Row("")
        yield _Row("Offcuts to keep: mark them", heading=True)
        for offcut in layout.offcuts:
            size = (
                f"{show_exactly(offcut.box.width, unit)} x {show_exactly(offcut.box.length, unit)}"
            )
            yield from _entry(offcut.label, size, width)
    yield _Row("")
    yield _Row(f"Cuts, in this order ({unit.name})", heading=True)
    if layout.trim:
        yield from _entry("", f"First trim {show_exactly(layout.trim, unit)} off all round.", width)
    for run in cut_runs(layout.cuts):
        yield from _entry(run.numbers, cut_text(run, unit), width)
    if not layout.cuts:
        yield from _entry("", "None: the sheet is used whole.", width)


def _parts(layout: Layout, unit: Unit) -> Iterator[tuple[str, str]]:
    for name, number in numbered(layout).items():
        mine = [part for part in layout.parts if part.blank.name == name]
        size = " x ".join(show_exactly(side, unit) for side in mine[0].size)
        yield str(number), f"{len(mine)} of {name}, {size}"


def cut_text(run: CutRun, unit: Unit) -> str:
    """Equal cuts in words: where the stop is set, how the blade lies, what falls off."""
    cut = run.last
    way = "across" if cut.across else "lengthwise"
    times = "" if run.times == 1 else f", {run.times} times"
    rest = f"; {cut.stays} is left" if cut.stays else ""
    return (
        f"{cut.part}, {way} at {show_exactly(cut.back_gauge, unit)}{times}: {run.falls_off}{rest}"
    )


def _entry(number: str, text: str, width: float) -> Iterator[_Row]:
    for place, line in enumerate(wrapped(text, theme.BODY, width - INDENT)):
        yield _Row(line, number if place == 0 else "")
