"""The rack in pictures, every offcut to one scale, to print or to look at."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from html import escape
from pathlib import Path

from takeoff.drawing.page import SIZE, Head, numbered_page, page
from takeoff.drawing.primitives import Drawing, Primitive, placed
from takeoff.drawing.rack_picture import rack_pages, rack_scale
from takeoff.errors import TakeoffError
from takeoff.lengths import Unit
from takeoff.plural import many
from takeoff.withdrawal import OnRack

from .pdf import write_pdf
from .svg import svg

TITLE = "What stands on the rack"
CAUTION = "Measure a piece before you cut it. Edges are sharp: wear gloves."


class UnknownKind(TakeoffError, ValueError):
    """A name of a file that does not tell what to write."""


def check_kind(path: Path) -> None:
    """UnknownKind where pictures cannot be written to a file of that name."""
    if path.suffix.casefold() not in _WRITERS:
        known = ", ".join(_WRITERS)
        raise UnknownKind(f"{path.name}: pictures can be written as {known}.")


def write_pictures(offcuts: Sequence[OnRack], path: Path, unit: Unit) -> None:
    """Write the offcuts, by metal and gauge, in the form that the file's name asks for."""
    check_kind(path)
    _WRITERS[path.suffix.casefold()](picture_pages(offcuts, unit), path)


def picture_pages(offcuts: Sequence[OnRack], unit: Unit) -> list[Drawing]:
    """The pages, all to one scale."""
    pages = list(_pages(offcuts, unit)) if offcuts else [_page("nothing", "", ())]
    return [numbered_page(each, number, len(pages)) for number, each in enumerate(pages, 1)]


def _pages(offcuts: Sequence[OnRack], unit: Unit) -> Iterator[Drawing]:
    scale = rack_scale(offcuts)
    for material, gauge in sorted({(offcut.material, offcut.gauge) for offcut in offcuts}):
        mine = [each for each in offcuts if (each.material, each.gauge) == (material, gauge)]
        pieces = many(len(mine), "offcut")
        for marks in rack_pages(mine, unit, scale):
            yield _page(f"{material} {gauge} ga", f"{pieces}, widths across, to one scale", marks)


def _page(metal: str, about: str, marks: Sequence[Primitive]) -> Drawing:
    return page(Head(f"On the rack: {metal}", about, ""), marks, CAUTION, f"On the rack: {metal}")


def _pdf(pages: Sequence[Drawing], path: Path) -> None:
    write_pdf(pages, path, TITLE)


def _svg(pages: Sequence[Drawing], path: Path) -> None:
    """All pages in one drawing, one below the other."""
    marks: list[Primitive] = []
    for number, each in enumerate(reversed(pages)):
        marks.extend(placed(each, (0.0, number * SIZE[1])))
    size = SIZE[0], SIZE[1] * len(pages)
    text = svg(Drawing((0.0, 0.0), size, 1.0, tuple(marks), TITLE))
    root = '<svg xmlns="http://www.w3.org/2000/svg" font-family="DejaVu Sans, Verdana, sans-serif"'
    path.write_text(text.replace("<svg", root, 1) + "\n", encoding="utf-8")


def _html(pages: Sequence[Drawing], path: Path) -> None:
    drawn = "\n".join(f"<section>{svg(each)}</section>" for each in pages)
    path.write_text(
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(TITLE)}</title>\n<style>\n"
        "body { margin: 0 auto; max-width: 62rem; background: #fff; color: #000;\n"
        '  font-family: "DejaVu Sans", Verdana, Arial, sans-serif; }\n'
        "svg { display: block; width: 100%; height: auto; }\n"
        "</style>\n</head>\n<body>\n<main>\n"
        f"{drawn}\n</main>\n</body>\n</html>\n",
        encoding="utf-8",
    )


_WRITERS: dict[str, Callable[[Sequence[Drawing], Path], None]] = {
    ".pdf": _pdf,
    ".svg": _svg,
    ".html": _html,
}
