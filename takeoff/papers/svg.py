"""Drawings as SVG, to stand inside a page: no script, no link, every text escaped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from takeoff.drawing.lettering import CAPITALS
from takeoff.drawing.primitives import Align, Area, Drawing, Lines, Pen, Primitive, Spot, Text

_ANCHORS = {Align.START: "start", Align.MIDDLE: "middle", Align.END: "end"}


def svg(drawing: Drawing) -> str:
    """The drawing as an SVG element; its size is in points and it shrinks with its column."""
    wide, high = drawing.size
    marks = "".join(_Painter(drawing).marks(drawing.items))
    return (
        f'<svg viewBox="0 0 {_number(wide)} {_number(high)}" width="{_number(wide)}pt" '
        f'role="img"><title>{escape(drawing.title)}</title>{marks}</svg>'
    )


class _Painter:
    """Marks as SVG elements; SVG counts y downwards and all in points."""

    def __init__(self, drawing: Drawing) -> None:
        self.left, self.top = drawing.low[0], drawing.high[1]
        self.scale = drawing.scale

    def marks(self, items: Iterable[Primitive]) -> Iterator[str]:
        for item in items:
            match item:
                case Lines():
                    yield self.lines(item)
                case Area():
                    yield self.area(item)
                case Text():
                    yield self.text(item)

    def spot(self, spot: Spot) -> tuple[float, float]:
        return (spot[0] - self.left) * self.scale, (self.top - spot[1]) * self.scale

    def pair(self, spot: Spot) -> str:
        x, y = self.spot(spot)
        return f"{_number(x)} {_number(y)}"

    def lines(self, item: Lines) -> str:
        if not item.segments:
            return ""
        path = "".join(f"M{self.pair(a)}L{self.pair(b)}" for a, b in item.segments)
        return f'<path d="{path}" {_stroke(item.pen)}/>'

    def area(self, item: Area) -> str:
        path = "M" + "L".join(self.pair(point) for point in item.points) + "Z"
        fill = "none" if item.fill is None else _grey(item.fill)
        stroke = _stroke(item.pen, fill) if item.pen else f'fill="{fill}"'
        return f'<path d="{path}" {stroke}/>'

    def text(self, item: Text) -> str:
        x, y = self.spot(item.at)
        drop = item.size * CAPITALS / 2
        x, y = (x + drop, y) if item.upright else (x, y + drop)
        at = f'x="{_number(x)}" y="{_number(y)}"'
        turn = f' transform="rotate(-90 {_number(x)} {_number(y)})"' if item.upright else ""
        anchor = _ANCHORS[item.align]
        bold = ' font-weight="bold"' if item.bold else ""
        return (
            f'<text {at} font-size="{_number(item.size)}" text-anchor="{anchor}"{bold}{turn}>'
            f"{escape(item.text)}</text>"
        )


def _stroke(pen: Pen, fill: str = "none") -> str:
    dash = f' stroke-dasharray="{" ".join(map(_number, pen.dash))}"' if pen.dash else ""
    width = _number(pen.weight)
    return f'fill="{fill}" stroke="{_grey(pen.grey)}" stroke-width="{width}"{dash}'


def _grey(level: float) -> str:
    part = f"{round(level * 255):02x}"
    return f"#{part}{part}{part}"


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"
