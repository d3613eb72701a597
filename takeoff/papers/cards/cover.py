"""The first page: what the job takes, where each fitting's pages are, and the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from takeoff.bill.money import show as money
from takeoff.drawing.listing import SPACE, Column, Row, Style, entry, heading, paragraph
from takeoff.drawing.page import GAP, HIGH, LEFT, TOP, WIDE, Head
from takeoff.drawing.primitives import Drawing
from takeoff.drawing.running_pages import running_pages

from ..cautions import BENCH, CAUTIONS
from ..contents import Contents, taken
from ..piece_words import size_text


def cover(contents: Contents, where: Mapping[str, int]) -> Iterator[Drawing]:
    """The pages of the cover.

    Args:
        contents: the job.
        where: the page on which each sheet layout and fitting begins, counted from the first one
            after the cover.
    """
    job = contents.plan.job
    width = (WIDE - GAP) / 2
    columns = [Column(x, TOP, width, HIGH) for x in (LEFT, LEFT + width + GAP)]
    use = f"{contents.used:.1%} of the metal in blanks"
    whose = f"Packet for the shear, the brake and the bench; {use}"
    head = Head(job.name or "Job", taken(contents), whose)
    yield from _settled(contents, where, head, columns)


def _settled(
    contents: Contents, where: Mapping[str, int], head: Head, columns: Sequence[Column]
) -> tuple[Drawing, ...]:
    """The pages when the page numbers on them count these pages too."""
    pages: tuple[Drawing, ...] = ()
    while True:
        before = len(pages)

        def rows(width: float, style: Style, before: int = before) -> Iterator[Row]:
            return _rows(contents, where, before, width, style)

        pages = running_pages(head, (), columns, rows, BENCH)
        if len(pages) == before:
            return pages


def _rows(
    contents: Contents, where: Mapping[str, int], before: int, width: float, style: Style
) -> Iterator[Row]:
    unit = contents.plan.job.unit
    for warning in contents.warnings:
        yield from entry("!", warning, width, style, bold=True)
    yield from heading("Sheets to buy", width, style)
    for line in contents.order:
        size = size_text(line.width, line.length, unit)
        text = f"{line.metal.name}, {line.item.name} ({size}): {money(line.cost)}"
        yield from entry(f"{line.qty}", text, width, style)
    if not contents.order:
        yield from entry("0", "Nothing to buy.", width, style)
    if contents.from_stock:
        yield SPACE
        yield from heading("From the shop's own", width, style)
        for line in contents.from_stock:
            size = size_text(line.width, line.length, unit)
            at = ", ".join(piece.told for piece in line.pieces) or f"{line.item.name}, on hand"
            text = f"{line.metal.name}, {size}: {at}"
            yield from entry(f"{line.qty}", text, width, style)
    for note in contents.price_notes:
        yield from paragraph(note, width, style)
    yield SPACE
    yield from heading("Before you begin", width, style)
    for caution in CAUTIONS:
        yield from entry("!", caution, width, style)
    yield SPACE
    yield from heading("Page", width, style)
    for name, page in where.items():
        yield from entry(str(page + before), name, width, style)
