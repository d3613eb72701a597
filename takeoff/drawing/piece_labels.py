"""What is written on a flat pattern: names of faces, strips and cut-outs, numbers of bends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import hypot

from takeoff.lengths import Unit
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Facet, Forming, Hole, Piece, Role
from takeoff.pattern.plane import area, distance

from . import theme
from .boxes import Box, box_of, label_box, meet, middle
from .edge_names import edge_names
from .labels import Label, backing, fullest, written
from .notch_keys import notch_letters
from .primitives import Primitive, Spot, spots

ALONG = (0.25, 0.35, 0.15, 0.65, 0.75, 0.85, 0.45, 0.55)
"""Where on a bend line its number may stand, the best place first."""

FILLED = 0.6
"""Part of the upright box round a facet that it must fill to be written in."""


def piece_labels(
    piece: Piece, order: Sequence[BendStep], unit: Unit, scale: float
) -> Iterator[Primitive]:
    """The names that have room, the number of every bend that has, the letters of notches."""
    taken: list[Box] = []
    told: set[str] = set()
    for facet, text, box, bold in _names(piece):
        if (label := _name(text, box, scale)) is not None:
            told.add(facet)
            centre = middle(box)
            taken.append(label_box(label, centre, scale))
            if bold:
                yield backing(label, centre, scale)
            for line in written(label, centre, scale):
                yield replace(line, bold=bold)
    for number, step in enumerate(order, 1):
        yield from _number(number, step, _is_narrow(piece, step, scale), taken, scale)
    yield from edge_names(piece, told, unit, taken, scale)
    yield from notch_letters(piece, taken, scale)


def _names(piece: Piece) -> Iterator[tuple[str, str, Box, bool]]:
    """Facet, text, room and whether it is a face, for all that may be written in."""
    for hole in piece.holes:
        yield "", hole.label, box_of(spots(hole.points)), False
    rolled = {
        name for h in piece.bends if h.forming is Forming.ROLL for name in (h.parent, h.child)
    }
    parents = {hinge.child: hinge.parent for hinge in piece.hinges}
    for facet in piece.facets:
        text = facet.name if facet.role is Role.FACE else facet.label
        # The staves of a rolled face and their strips have no names of their own, a slanted strip
        # no level room.
        if text and not {facet.name, parents.get(facet.name)} & rolled and _fills_its_box(facet):
            holes = [hole for hole in piece.holes if hole.facet == facet.name]
            yield facet.name, text, _free(facet, holes), facet.role is Role.FACE


def _fills_its_box(facet: Facet) -> bool:
    (left, low), (right, high) = box_of(spots(facet.corners))
    return abs(float(area(facet.corners))) >= FILLED * (right - left) * (high - low)


def _free(facet: Facet, holes: Sequence[Hole]) -> Box:
    """The facet; where there are cut-outs, the metal above them."""
    low, high = box_of(spots(facet.corners))
    if not holes:
        return low, high
    return (low[0], max(float(y) for hole in holes for _, y in hole.points)), high


def _name(text: str, box: Box, scale: float) -> Label | None:
    (left, low), (right, high) = box
    room = (right - left) * scale, (high - low) * scale
    label = fullest([[text], *_parted(text)], room, theme.SMALLEST_NUMBER)
    return replace(label, size=min(label.size, theme.BODY)) if label else None


def _parted(text: str) -> list[list[str]]:
    """The text on two lines, what it is and its size."""
    words = text.split()
    at = next((place for place, word in enumerate(words) if word[0].isdigit()), 0)
    return [[" ".join(words[:at]), " ".join(words[at:])]] if at else []


def _number(
    number: int, step: BendStep, narrow: bool, taken: list[Box], scale: float
) -> Iterator[Primitive]:
    """The bend's place in the order, on its line, where nothing else is written.

    On the line of a strip too narrow for it, the number stands before the line.
    """
    label = Label((str(number),), theme.BODY, upright=False)
    for at in _places(step, theme.BODY * 0.8 / scale if narrow else 0.0):
        extent = label_box(label, at, scale)
        if not any(meet(extent, other) for other in taken):
            taken.append(extent)
            yield backing(label, at, scale)
            yield from written(label, at, scale)
            return


def _places(step: BendStep, back: float) -> Iterator[Spot]:
    """Where the number of a bend may stand, so far before its lines: on the longest one first."""
    lines = sorted(step.hinges, key=lambda hinge: -float(distance(hinge.start, hinge.end)))
    for line in lines:
        (x0, y0), (x1, y1) = spots((line.start, line.end))
        long = hypot(x1 - x0, y1 - y0)
        aside = -(y1 - y0) / long * back, (x1 - x0) / long * back
        for part in ALONG:
            yield x0 + (x1 - x0) * part + aside[0], y0 + (y1 - y0) * part + aside[1]


def _is_narrow(piece: Piece, step: BendStep, scale: float) -> bool:
    """Whether the metal beyond a bend has no room for half a number."""
    facet = piece.facet(step.hinges[0].child)
    (left, low), (right, high) = box_of(spots(facet.corners))
    return min(right - left, high - low) * scale < theme.BODY
