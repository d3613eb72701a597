"""The pages for the shear: one sheet layout, how often to cut it, and its lists."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.layouts import Box, Layout
from takeoff.lengths import Unit, show_exactly
from takeoff.sizes import sides, size

from .cut_runs import CutRun, cut_runs
from .listing import SPACE, Column, Row, Style, entry, heading
from .page import GAP, HIGH, LEFT, LOW, RIGHT, TOP, WIDE, Head
from .primitives import Drawing, placed
from .running_pages import running_pages
from .sheet import numbered, sheet_drawing

LIST = 190.0
"""Least width of a column of lists, points."""
BELOW = 210.0
"""Least height of the lists below a sheet, points."""
INDENT = 4.2
"""Room for numbers such as 23-27, letter heights."""

CAUTION = (
    "Check every size before you cut. Edges are sharp: wear gloves. "
    "Guard and hold-down stay in place."
)


def sheet_pages(layout: Layout, unit: Unit, job: str) -> tuple[Drawing, ...]:
    """The sheet and its lists, on as many pages as they take, in points.

    The lists stand beside a tall sheet and below a wide one.
    """
    drawing, columns = _laid_out(layout, unit)
    head = _head(layout, unit, job)
    figures = placed(drawing, (LEFT, TOP - drawing.size[1]))

    def rows(width: float, style: Style) -> Iterator[Row]:
        return _rows(layout, unit, width, style)

    return running_pages(head, figures, columns, rows, CAUTION, INDENT)


def _laid_out(layout: Layout, unit: Unit) -> tuple[Drawing, list[Column]]:
    """The sheet where it is drawn larger, and the columns beside it or below it."""
    beside = sheet_drawing(layout, unit, (WIDE - LIST - GAP, HIGH))
    below = sheet_drawing(layout, unit, (WIDE, HIGH - BELOW - GAP))
    if beside.scale >= below.scale:
        left = LEFT + beside.size[0] + GAP
        return beside, [Column(left, TOP, RIGHT - left, HIGH)]
    width = (WIDE - GAP) / 2
    height = HIGH - below.size[1] - GAP
    return below, [Column(x, LOW + height, width, height) for x in (LEFT, LEFT + width + GAP)]


def _head(layout: Layout, unit: Unit, job: str) -> Head:
    """Which layout it is, of what, and how many times to cut it."""
    metal = layout.metal.name
    of = size(layout.width, layout.length, unit)
    return Head(
        f"Layout {layout.number}: cut {layout.times} like this",
        f"{metal}, {layout.item.name} ({of}), {layout.used:.1%} in blanks",
        job,
    )


def _rows(layout: Layout, unit: Unit, width: float, style: Style) -> Iterator[Row]:
    """Parts, offcuts and cuts, one after the other."""
    if layout.pieces:
        yield from heading("Take off the rack", width, style)
        for piece in layout.pieces:
            yield from entry(piece.label, piece.place or "place not known", width, style)
        yield SPACE
    yield from heading("Blanks on this sheet", width, style)
    for number, text in _parts(layout, unit):
        yield from entry(number, text, width, style)
    if layout.offcuts:
        yield SPACE
        yield from heading("Offcuts to keep: mark them", width, style)
        for offcut in layout.offcuts:
            yield from entry(offcut.label, offcut_size(offcut.box, unit), width, style)
    yield SPACE
    yield from heading(f"Cuts, in this order ({unit.name})", width, style)
    if layout.trim:
        trim = f"First trim {show_exactly(layout.trim, unit)} off all round."
        yield from entry("", trim, width, style)
    for run in cut_runs(layout.cuts):
        yield from entry(run.numbers, cut_text(run, unit), width, style)
    if not layout.cuts:
        yield from entry("", "None: the sheet is used whole.", width, style)


def _parts(layout: Layout, unit: Unit) -> Iterator[tuple[str, str]]:
    for name, number in numbered(layout).items():
        mine = [part for part in layout.parts if part.blank.name == name]
        each = " x ".join(show_exactly(side, unit) for side in mine[0].size)
        yield str(number), f"{len(mine)} of {name}, {each}"


def offcut_size(box: Box, unit: Unit) -> str:
    """Width by length."""
    return sides(box.width, box.length, unit)


def cut_text(run: CutRun, unit: Unit) -> str:
    """Equal cuts in words: where the stop is set, how the blade lies, what falls off."""
    cut = run.last
    way = "across" if cut.across else "lengthwise"
    times = "" if run.times == 1 else f", {run.times} times"
    rest = f"; {cut.stays} is left" if cut.stays else ""
    return (
        f"{cut.part}, {way} at {show_exactly(cut.back_gauge, unit)}{times}: {run.falls_off}{rest}"
    )
