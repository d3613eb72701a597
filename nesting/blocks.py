"""Blanks that lie side by side without a gap taken together: thousands become a few blocks."""

from collections.abc import Sequence

from nesting.cuts import Rect


def merged(kerf: int, rects: Sequence[Rect]) -> list[Rect]:
    """Rows of equally long neighbours, then equally wide rows above one another, as one each.

    What separates the blocks separates the rectangles, since each block is a grid of rows.

    Args:
        kerf: what neighbours are apart.
        rects: apart by the kerf or more.
    """
    rows = _joined(kerf, rects, along_width=True)
    return _joined(kerf, rows, along_width=False)


def _joined(kerf: int, rects: Sequence[Rect], along_width: bool) -> list[Rect]:
    """Runs of rectangles that touch along one axis and agree on the other."""
    blocks: list[Rect] = []
    for rect in sorted(rects, key=_by_row if along_width else _by_column):
        last = blocks[-1] if blocks else None
        if last is None:
            blocks.append(rect)
        elif along_width and (rect.y, rect.length, rect.x) == (
            last.y,
            last.length,
            last.x + last.width + kerf,
        ):
            blocks[-1] = Rect(last.x, last.y, rect.x + rect.width - last.x, last.length)
        elif not along_width and (rect.x, rect.width, rect.y) == (
            last.x,
            last.width,
            last.y + last.length + kerf,
        ):
            blocks[-1] = Rect(last.x, last.y, last.width, rect.y + rect.length - last.y)
        else:
            blocks.append(rect)
    return blocks


def _by_row(rect: Rect) -> tuple[int, int, int]:
    return rect.y, rect.length, rect.x


def _by_column(rect: Rect) -> tuple[int, int, int]:
    return rect.x, rect.width, rect.y
