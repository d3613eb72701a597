"""Drawings painted with matplotlib, and the page of every sheet layout as a PNG."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO
from itertools import groupby
from typing import TYPE_CHECKING

from takeoff.drawing.lettering import CAPITALS
from takeoff.drawing.page import SIZE
from takeoff.drawing.primitives import Align, Area, Drawing, Lines, Pen, Primitive, Text
from takeoff.drawing.sheet_page import sheet_pages
from takeoff.layouts import Layout
from takeoff.lengths import Unit

from .names import sheet_file

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

DPI = 150
POINTS_IN_AN_INCH = 72
FONT = "DejaVu Sans"
_SIDES = {Align.START: "left", Align.MIDDLE: "center", Align.END: "right"}


def paint(ax: Axes, drawing: Drawing) -> Axes:
    """Paint a drawing on axes; they take over its limits and lose their frame.

    The letters have their true height when the axes are as large as `drawing.size`.
    """
    ax.set_axis_off()
    ax.set_xlim(drawing.low[0], drawing.high[0])
    ax.set_ylim(drawing.low[1], drawing.high[1])
    for layer, (kind, run) in enumerate(groupby(drawing.items, key=type), 1):
        _paint_run(ax, kind, list(run), drawing.scale, layer)
    return ax


def load() -> None:
    """Import what painting needs: for a process that has nothing to do yet."""
    import matplotlib.backends.backend_agg  # noqa: PLC0415
    import matplotlib.collections  # noqa: PLC0415
    import matplotlib.figure  # noqa: F401, PLC0415


def sheet_plots(
    layouts: Iterable[Layout], unit: Unit, job: str, dpi: int = DPI
) -> list[tuple[str, bytes]]:
    """The pages of every layout as PNG, each with the name of its file in the plan's folder."""
    figure = new_figure(SIZE, dpi)
    ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    plots = []
    for layout in layouts:
        for number, page in enumerate(sheet_pages(layout, unit, job), 1):
            for artist in (*ax.collections, *ax.texts):
                artist.remove()
            paint(ax, page)
            plots.append((sheet_file(layout, number), grey_png(figure)))
    return plots


def new_figure(size: tuple[float, float], dpi: int = DPI) -> Figure:
    """An empty figure of a size in points, drawn without a screen."""
    from matplotlib.figure import Figure  # noqa: PLC0415  slow to import

    inches = size[0] / POINTS_IN_AN_INCH, size[1] / POINTS_IN_AN_INCH
    return Figure(figsize=inches, dpi=dpi)


def grey_png(figure: Figure) -> bytes:
    """A figure as a PNG of greys: a quarter of the size and time of one in colour."""
    from matplotlib import rc_context  # noqa: PLC0415
    from PIL import Image  # noqa: PLC0415  comes with matplotlib

    colours = BytesIO()
    with rc_context({"text.hinting": "no_hinting"}):  # hinting takes a third of the time
        figure.savefig(colours, format="rgba", dpi="figure")
    size = int(figure.bbox.width), int(figure.bbox.height)
    picture = Image.frombuffer("RGBA", size, colours.getvalue(), "raw", "RGBA", 0, 1)
    png = BytesIO()
    picture.convert("L").save(png, "PNG", dpi=(figure.dpi, figure.dpi), compress_level=6)
    return png.getvalue()


def _paint_run(
    ax: Axes, kind: type[Primitive], run: Sequence[Primitive], scale: float, layer: int
) -> None:
    """Marks of one kind that follow each other, as one artist where that is possible."""
    if kind is Lines:
        _lines(ax, [item for item in run if isinstance(item, Lines)], layer)
    elif kind is Area:
        _areas(ax, [item for item in run if isinstance(item, Area)], layer)
    else:
        for item in run:
            if isinstance(item, Text):
                _text(ax, item, scale, layer)


def _lines(ax: Axes, run: Sequence[Lines], layer: int) -> None:
    from matplotlib.collections import LineCollection  # noqa: PLC0415

    pairs = [(segment, item.pen) for item in run for segment in item.segments]
    if not pairs:
        return
    ax.add_collection(
        LineCollection(
            [segment for segment, _ in pairs],
            linewidths=[pen.weight for _, pen in pairs],
            colors=[str(pen.grey) for _, pen in pairs],
            linestyles=[_style(pen) for _, pen in pairs],
            capstyle="butt",
            zorder=layer,
        ),
        autolim=False,
    )


def _areas(ax: Axes, run: Sequence[Area], layer: int) -> None:
    from matplotlib.collections import PolyCollection  # noqa: PLC0415

    pens = [item.pen or Pen(0.0) for item in run]
    ax.add_collection(
        PolyCollection(
            [item.points for item in run],
            facecolors=["none" if item.fill is None else str(item.fill) for item in run],
            edgecolors=[str(pen.grey) if pen.weight else "none" for pen in pens],
            linewidths=[pen.weight for pen in pens],
            linestyles=[_style(pen) for pen in pens],
            zorder=layer,
        ),
        autolim=False,
    )


def _style(pen: Pen) -> tuple[float, tuple[float, ...] | None]:
    """The dash pattern; matplotlib counts it in line weights."""
    return 0.0, tuple(part / pen.weight for part in pen.dash) if pen.dash else None


def _text(ax: Axes, item: Text, scale: float, layer: int) -> None:
    drop = item.size * CAPITALS / 2 / scale
    x, y = item.at
    ax.text(
        x + (drop if item.upright else 0.0),
        y - (0.0 if item.upright else drop),
        item.text,
        fontsize=item.size,
        family=FONT,
        fontweight="bold" if item.bold else "normal",
        ha=_SIDES[item.align],
        va="baseline",
        rotation=90.0 if item.upright else 0.0,
        rotation_mode="anchor",
        parse_math=False,
        zorder=layer,
    )
