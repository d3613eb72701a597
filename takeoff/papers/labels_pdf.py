"""Labels for the rack as a PDF: many on a page to cut apart, or one a page for a label printer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from takeoff.drawing import theme
from takeoff.drawing.paper import Paper
from takeoff.drawing.primitives import Area, Drawing, Primitive, Spot, rectangle
from takeoff.drawing.rack_label import RackLabel, label_marks
from takeoff.errors import TakeoffError

from .pdf import write_pdf

POINTS_IN_AN_INCH = 72
EDGE = 18.0
"""Points round a page that printers leave white."""
SMALLEST: Spot = (72.0, 36.0)
"""Points: on a smaller label nothing can be read, on it or by a phone."""
TITLE = "Labels for the rack"


class CannotFit(TakeoffError, ValueError):
    """A label too small to read, or too large for the paper."""


@dataclass(frozen=True)
class LabelSize:
    """Width and height of a label, points."""

    width: float
    height: float

    @property
    def told(self) -> str:
        """`4 x 2 in`."""
        return f"{self.width / POINTS_IN_AN_INCH:g} x {self.height / POINTS_IN_AN_INCH:g} in"


def write_labels(
    labels: Sequence[RackLabel], path: Path, size: LabelSize, paper: Paper | None
) -> int:
    """Write the labels; gives the number of pages.

    Args:
        labels: in the order they are printed.
        path: of the PDF.
        size: of one.
        paper: what they are printed on; None: each on a page of its own size.

    Raises:
        CannotFit: see there.
    """
    pages = list(label_pages(labels, size, paper))
    write_pdf(pages, path, TITLE)
    return len(pages)


def label_pages(
    labels: Sequence[RackLabel], size: LabelSize, paper: Paper | None
) -> Iterator[Drawing]:
    """The pages, in points; see `write_labels`."""
    box = size.width, size.height
    if box[0] < SMALLEST[0] or box[1] < SMALLEST[1]:
        raise CannotFit(f"A label of {size.told} is too small to read. Give 1 x 1/2 in or more.")
    if paper is None:
        for label in labels:
            yield Drawing((0.0, 0.0), box, 1.0, tuple(label_marks(label, (0.0, 0.0), box)), TITLE)
        return
    page = paper.size
    across, down = (int((page[way] - 2 * EDGE + 1e-6) // box[way]) for way in (0, 1))
    if not across or not down:
        raise CannotFit(f"A label of {size.told} does not fit on {paper} paper.")
    start = (page[0] - across * box[0]) / 2, (page[1] + down * box[1]) / 2
    for first in range(0, len(labels), across * down):
        items: list[Primitive] = []
        for place, label in enumerate(labels[first : first + across * down]):
            row, column = divmod(place, across)
            low = start[0] + column * box[0], start[1] - (row + 1) * box[1]
            high = low[0] + box[0], low[1] + box[1]
            items.append(Area(rectangle(low, high), None, theme.RULE))
            items.extend(label_marks(label, low, box))
        yield Drawing((0.0, 0.0), page, 1.0, tuple(items), TITLE)
