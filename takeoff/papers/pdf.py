"""Drawings painted on the pages of a PDF: lines and letters, no pictures of them."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from takeoff.drawing.lettering import CAPITALS
from takeoff.drawing.primitives import Align, Area, Drawing, Lines, Pen, Spot, Text

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
"""The fonts of matplotlib: they have the letters of most languages, and are embedded."""


def write_pdf(pages: Iterable[Drawing], path: Path, title: str) -> None:
    """Write pages (in points) as a PDF; its text can be searched and copied.

    The same pages give the same bytes.
    """
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415 - slow to import

    _register_fonts()
    canvas = Canvas(str(path), pageCompression=1, invariant=1)
    canvas.setTitle(title)
    canvas.setCreator("blankwright")
    for page in pages:
        canvas.setPageSize(page.size)
        painter = _Painter(canvas, page)
        for item in page.items:
            match item:
                case Lines():
                    painter.lines(item)
                case Area():
                    painter.area(item)
                case Text():
                    painter.text(item)
        canvas.showPage()
    canvas.save()


def _register_fonts() -> None:
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415

    for name in {PLAIN, BOLD} - set(pdfmetrics.getRegisteredFontNames()):
        file = _data_of_matplotlib() / "fonts" / "ttf" / f"{name}.ttf"
        pdfmetrics.registerFont(TTFont(name, str(file)))


def _data_of_matplotlib() -> Path:
    """Its folder, found without loading it where it lies in the package: that takes a while."""
    package = find_spec("matplotlib")
    inside = Path(package.origin).parent / "mpl-data" if package and package.origin else None
    if inside and inside.is_dir():
        return inside
    from matplotlib import get_data_path  # noqa: PLC0415

    return Path(get_data_path())


class _Painter:
    """Marks of one page on a canvas."""

    def __init__(self, canvas: Canvas, page: Drawing) -> None:
        self.canvas = canvas
        self.low = page.low
        self.scale = page.scale

    def spot(self, at: Spot) -> Spot:
        return (at[0] - self.low[0]) * self.scale, (at[1] - self.low[1]) * self.scale

    def pen(self, pen: Pen) -> None:
        self.canvas.setStrokeGray(pen.grey)
        self.canvas.setLineWidth(pen.weight)
        self.canvas.setDash(list(pen.dash))

    def lines(self, item: Lines) -> None:
        self.pen(item.pen)
        self.canvas.lines([(*self.spot(a), *self.spot(b)) for a, b in item.segments])

    def area(self, item: Area) -> None:
        path = self.canvas.beginPath()
        first, *others = map(self.spot, item.points)
        path.moveTo(*first)
        for point in others:
            path.lineTo(*point)
        path.close()
        if item.pen:
            self.pen(item.pen)
        if item.fill is not None:
            self.canvas.setFillGray(item.fill)
        self.canvas.drawPath(
            path, stroke=int(item.pen is not None), fill=int(item.fill is not None)
        )

    def text(self, item: Text) -> None:
        canvas = self.canvas
        canvas.setFillGray(0)
        canvas.setFont(BOLD if item.bold else PLAIN, item.size)
        draw = {
            Align.START: canvas.drawString,
            Align.MIDDLE: canvas.drawCentredString,
            Align.END: canvas.drawRightString,
        }[item.align]
        drop = item.size * CAPITALS / 2
        x, y = self.spot(item.at)
        if not item.upright:
            draw(x, y - drop, item.text)
            return
        canvas.saveState()
        canvas.translate(x + drop, y)
        canvas.rotate(90)
        draw(0, 0, item.text)
        canvas.restoreState()
