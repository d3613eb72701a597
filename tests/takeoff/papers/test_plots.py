"""PNG pages: there, of the right size, black on white."""

from collections.abc import Callable
from io import BytesIO

import numpy as np
import pytest
from matplotlib.axes import Axes
from PIL import Image

from takeoff.drawing.page import SIZE
from takeoff.drawing.sheet import sheet_drawing
from takeoff.layouts import layouts
from takeoff.lengths import INCH
from takeoff.nest import JobPlan
from takeoff.papers.names import sheet_file
from takeoff.papers.plots import DPI, new_figure, paint, sheet_plots
from takeoff.papers.svg import svg

from .plans import inch_plan, small_plan


@pytest.mark.parametrize("plan", [inch_plan, small_plan], ids=lambda plan: plan.__name__)
def test_a_page_for_every_layout(plan: Callable[[], JobPlan]) -> None:
    found = layouts(plan())
    plots = sheet_plots(found, INCH, "Trial")
    names = [name for name, _ in plots]
    first = [name for name in names if "-page-" not in name]
    assert first == [sheet_file(layout) for layout in found]
    assert len(set(names)) == len(names)
    for _, png in plots:
        with Image.open(BytesIO(png)) as picture:
            assert picture.format == "PNG"
            assert picture.mode == "L"  # greys only
            wanted = [side / 72 * DPI for side in SIZE]
            assert picture.size == pytest.approx(wanted, abs=1)
            # prints in full size on letter (8 1/2 x 11 in) and on A4 (210 x 297 mm)
            inches = [pixels / DPI for pixels in picture.size]
            assert inches[0] <= min(8.5, 210 / 25.4) + 0.01
            assert inches[1] <= min(11.0, 297 / 25.4) + 0.01
            greys = np.asarray(picture)
            border = np.concatenate([greys[:20].ravel(), greys[:, :20].ravel()])
            assert (border == 255).all()  # nothing at the paper's edge
            assert 0.005 < (greys < 64).mean() < 0.5


def test_a_sheet_is_painted_to_scale_on_given_axes() -> None:
    layout = layouts(inch_plan())[0]
    drawing = sheet_drawing(layout, INCH, (300.0, 500.0))
    figure = new_figure(drawing.size)
    ax = figure.add_axes((0, 0, 1, 1))
    painted = paint(ax, drawing)
    assert painted is ax
    assert isinstance(painted, Axes)
    (x0, y0), (x1, y1) = ax.transData.transform([(0, 0), (float(layout.width), 0)])
    assert x1 - x0 == pytest.approx(float(layout.width) * drawing.scale / 72 * figure.dpi)
    assert y0 == y1


def test_both_writers_say_the_same_words() -> None:
    drawing = sheet_drawing(layouts(inch_plan())[0], INCH, (300.0, 500.0))
    figure = new_figure(drawing.size)
    ax = paint(figure.add_axes((0, 0, 1, 1)), drawing)
    painted = svg(drawing)
    assert ax.texts
    for text in ax.texts:
        shown = text.get_text()
        escaped = shown.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
        assert f">{escaped.replace(chr(34), '&quot;')}</text>" in painted
