"""The guillotine tree of a sheet and the shear's cut order.

The tree is found from the positions alone: cuts in one direction separate a region into strips,
each strip is then cut in the other direction, until every wanted rectangle lies free. A strip is
always trimmed to what it holds before it is turned: that never costs a cut more.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from nesting.errors import NotGuillotineError

FEW = 64  # rectangles; more of them are sorted as arrays


class Rect(NamedTuple):
    """Lower left corner and size, grid units."""

    x: int
    y: int
    width: int
    length: int

    @property
    def area(self) -> int:
        """Square grid units."""
        return self.width * self.length

    def span(self, across: bool) -> tuple[int, int]:
        """Where it starts and ends for cuts across the width (along y) or along the length."""
        return (self.y, self.y + self.length) if across else (self.x, self.x + self.width)

    def between(self, across: bool, start: int, end: int) -> "Rect":
        """The strip of it from start to end."""
        if across:
            return Rect(self.x, start, self.width, end - start)
        return Rect(start, self.y, end - start, self.length)


@dataclass(frozen=True, slots=True)
class Strip:
    """A part of a sheet.

    Attributes:
        label: "2.1" is the first part of part 2 of the sheet.
        rect: where it lies.
        wanted: index of the wanted rectangle that it is; None for scrap or a part cut further.
        across: direction of the cuts that divide it; None when it is not divided.
        parts: from the near end to the far one.
    """

    label: str
    rect: Rect
    wanted: int | None = None
    across: bool | None = None
    parts: tuple["Strip", ...] = ()

    @property
    def scrap(self) -> bool:
        """True for a leaf that nobody asked for."""
        return self.wanted is None and not self.parts

    def leaves(self) -> Iterator["Strip"]:
        """The parts that are cut no further."""
        if not self.parts:
            yield self
        for part in self.parts:
            yield from part.leaves()

    def stages(self) -> int:
        """Changes of direction plus one; 0 when no cut is needed."""
        return 1 + max(part.stages() for part in self.parts) if self.parts else 0


@dataclass(frozen=True, slots=True)
class Cut:
    """One stroke of the shear.

    Attributes:
        number: from 1, in the order they are made.
        piece: label of the part on the table.
        across: the blade runs across the sheet's width (else along its length).
        gauge: distance set on the back gauge: size of the part that falls off behind the blade.
        length: of the cut.
        lost: metal turned to chips: kerf, or what is left of it at an edge, times length.
        frees: label of the part that falls off.
        held: size of what stays under the hold-down, measured like the gauge.
    """

    number: int
    piece: str
    across: bool
    gauge: int
    length: int
    lost: int
    frees: str
    held: int


def groups(kerf: int, rects: Sequence[Rect], across: bool) -> list[list[int]]:
    """Indices of the rectangles by the strips that cuts in one direction separate them into."""
    if len(rects) > FEW:
        return _groups_of_many(kerf, rects, across)
    spans = sorted((*rect.span(across), place) for place, rect in enumerate(rects))
    found: list[list[int]] = []
    reach = 0
    for start, end, place in spans:
        if found and start < reach + kerf:
            found[-1].append(place)
            reach = max(reach, end)
        else:
            found.append([place])
            reach = end
    return found


def _groups_of_many(kerf: int, rects: Sequence[Rect], across: bool) -> list[list[int]]:
    """The same, worked out on arrays."""
    spans = np.array([rect.span(across) for rect in rects], dtype=np.int64)
    order = np.lexsort((spans[:, 1], spans[:, 0]))
    start, end = spans[order].T
    apart = start[1:] >= np.maximum.accumulate(end)[:-1] + kerf
    return [part.tolist() for part in np.split(order, np.flatnonzero(apart) + 1)]


def separable(kerf: int, rects: Sequence[Rect]) -> bool:
    """True when guillotine cuts can separate the rectangles."""
    waiting = [list(rects)]
    while waiting:
        some = waiting.pop()
        if len(some) < 2:
            continue
        parts = groups(kerf, some, across=True)
        if len(parts) == 1:
            parts = groups(kerf, some, across=False)
        if len(parts) == 1:
            return False
        waiting.extend([some[place] for place in part] for part in parts)
    return True


def cut_tree(kerf: int, region: Rect, wanted: Sequence[Rect], across: bool) -> Strip:
    """Divide a region into the wanted rectangles and scrap.

    Args:
        kerf: lost at every cut.
        region: usable part of the sheet.
        wanted: rectangles in it, at least a kerf apart.
        across: direction of the first cuts, where there is a choice.

    Raises:
        NotGuillotineError: no cut from edge to edge separates some of them.
    """
    return _divide(kerf, Strip("", region), list(enumerate(wanted)), across, stuck=False)


def _divide(
    kerf: int, strip: Strip, wanted: list[tuple[int, Rect]], across: bool, stuck: bool
) -> Strip:
    if not wanted:
        return strip
    if len(wanted) == 1 and wanted[0][1] == strip.rect:
        return Strip(strip.label, strip.rect, wanted[0][0])
    found = groups(kerf, [rect for _, rect in wanted], across)
    members = [[wanted[place] for place in group] for group in found]
    spans = [_reach([rect for _, rect in group], across) for group in members]
    if spans == [strip.rect.span(across)]:
        if stuck:
            raise NotGuillotineError([rect for _, rect in wanted])
        return _divide(kerf, strip, wanted, not across, stuck=True)
    inside = dict(zip(spans, members, strict=True))
    prefix = f"{strip.label}." if strip.label else ""
    parts = []
    for number, span in enumerate(_slices(kerf, strip.rect.span(across), spans), start=1):
        part = Strip(f"{prefix}{number}", strip.rect.between(across, *span))
        parts.append(_divide(kerf, part, inside.get(span, []), not across, stuck=False))
    return Strip(strip.label, strip.rect, None, across, tuple(parts))


def _reach(rects: Sequence[Rect], across: bool) -> tuple[int, int]:
    spans = [rect.span(across) for rect in rects]
    return min(start for start, _ in spans), max(end for _, end in spans)


def _slices(
    kerf: int, whole: tuple[int, int], spans: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, int]]:
    """The spans and the scrap between, before and after them, a kerf apart, in order."""
    at, end = whole
    for start, stop in spans:
        if start - kerf > at:
            yield at, start - kerf
        yield start, stop
        at = stop + kerf
    if at < end:
        yield at, end


def cut_order(kerf: int, tree: Strip, min_strip: int = 0) -> list[Cut]:
    """The cuts of a tree: a part is cut up whole before its own parts are taken up.

    Args:
        kerf: lost at every cut; a sliver thinner than it is lost in a cut of its own.
        tree: from `cut_tree`.
        min_strip: when above 0, strips are taken from both ends so that the largest stays under
            the hold-down to the last.
    """
    cuts: list[Cut] = []
    waiting = [tree]
    while waiting:
        strip = waiting.pop(0)
        if strip.across is not None:
            for gauge, lost, frees, held in _strokes(kerf, strip, strip.across, min_strip):
                across = strip.across
                length = strip.rect.width if across else strip.rect.length
                label = strip.label or "sheet"
                row = len(cuts) + 1, label, across, gauge, length, lost * length, frees, held
                cuts.append(Cut(*row))
        waiting = [part for part in strip.parts if part.parts] + waiting
    return cuts


_Stroke = tuple[int, int, str, int]  # gauge, size lost, label of what it frees, size held


def _strokes(kerf: int, strip: Strip, across: bool, min_strip: int) -> Iterator[_Stroke]:
    """The cuts that divide one strip."""
    low, high = strip.rect.span(across)
    spans = [part.rect.span(across) for part in strip.parts]
    sizes = [end - start for start, end in spans]
    labels = [part.label for part in strip.parts]
    kept = sizes.index(max(sizes)) if min_strip else len(sizes) - 1
    if spans[0][0] > low:
        yield high - spans[0][0], spans[0][0] - low, labels[0], high - spans[0][0]
    for place in range(kept):
        start, gap = spans[place + 1][0], spans[place + 1][0] - spans[place][1]
        yield sizes[place], min(kerf, gap), labels[place], high - start
        if gap > kerf:
            yield high - start, gap - kerf, labels[place + 1], high - start
    low = spans[kept][0]
    if spans[-1][1] < high:
        yield spans[-1][1] - low, high - spans[-1][1], labels[-1], spans[-1][1] - low
    for place in range(len(spans) - 1, kept, -1):
        end, gap = spans[place - 1][1], spans[place][0] - spans[place - 1][1]
        yield sizes[place], min(kerf, gap), labels[place], end - low
        if gap > kerf:
            yield end - low, gap - kerf, labels[place - 1], end - low
