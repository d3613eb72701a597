"""Texts written over each other, or off the paper."""

from collections.abc import Iterator
from itertools import combinations

from takeoff.drawing.extent import text_box
from takeoff.drawing.primitives import Drawing, Text

TOUCH = 1e-6


def texts(drawing: Drawing) -> list[Text]:
    return [item for item in drawing.items if isinstance(item, Text) and item.text]


def overlapping(drawing: Drawing) -> Iterator[tuple[str, str]]:
    """Pairs of texts that share room on the paper."""
    boxes = [(item.text, text_box(item, drawing.scale)) for item in texts(drawing)]
    for (one, (a, b)), (other, (c, d)) in combinations(boxes, 2):
        if all(a[way] + TOUCH < d[way] and c[way] + TOUCH < b[way] for way in (0, 1)):
            yield one, other


def outside(drawing: Drawing) -> list[str]:
    """Texts that reach over the edge of the drawing."""
    (left, low), (right, high) = drawing.low, drawing.high
    return [
        item.text
        for item in texts(drawing)
        for (x0, y0), (x1, y1) in [text_box(item, drawing.scale)]
        if x0 < left - TOUCH or y0 < low - TOUCH or x1 > right + TOUCH or y1 > high + TOUCH
    ]
