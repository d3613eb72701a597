"""A flat piece in words: the sums of its sizes, its marks, notches, cut-outs and bends."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from takeoff.drawing.bench_marks import bench_marks
from takeoff.drawing.curves import curves, slants
from takeoff.drawing.notch_keys import NotchGroup, notch_groups
from takeoff.drawing.primitives import spots
from takeoff.lengths import Length, Unit, show, show_exactly
from takeoff.pattern.bend_words import place_told
from takeoff.pattern.bending import BendStep
from takeoff.pattern.facets import Forming, Hole, Piece
from takeoff.pattern.marks import Axis, degrees
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import NEAR
from takeoff.plural import many

LONGEST_CHAIN = 16
"""Steps of a developed size that are printed; a rolled surface has more."""
MOST_EDGES = 12
"""Edges of a piece that are counted; there are more only where a curve is drawn as facets."""
MOST_POINTS = 26
"""Points of a curve that are told."""
SIXTY_FOURTH, THIRTY_SECOND = 64, 32
"""Denominators for the sizes of holes, and for places on a curve."""


@dataclass(frozen=True)
class TapeMark:
    """A running mark as it is written: where the tape reads it, and what line it is."""

    tape: str
    line: str


@dataclass(frozen=True)
class BendLine:
    """One bend in words: what, where, how far and which way, and where on the brake."""

    line: str
    place: str
    angle: str
    brake: str


def size_text(width: Length, length: Length, unit: Unit) -> str:
    """`41 x 23 1/2 in`."""
    return f"{show_exactly(width, unit)} x {show_exactly(length, unit)} {unit.name}"


def marks(piece: Piece, axis: Axis, unit: Unit) -> tuple[TapeMark, ...]:
    """The running marks along an axis, in tape order."""
    return tuple(
        TapeMark(show_exactly(mark.at, unit), mark.label) for mark in bench_marks(piece, axis)
    )


def bend_line(step: BendStep, piece: Piece, unit: Unit) -> BendLine:
    """A step of the bend order."""
    place = place_told(step, piece, unit)
    way = "up" if step.angle > 0 else "down"
    return BendLine(step.label, place, f"{degrees(step.angle)}° {way}", str(step.place))


def chains(piece: Piece, unit: Unit) -> Iterator[str]:
    """`2 1/2 + 18 + 2 1/2 = 23`, for the width and the length, where there are bends."""
    shape = outline(piece)
    for axis, total in ((Axis.WIDTH, shape.width), (Axis.LENGTH, shape.length)):
        places = [Fraction(0), *(mark.at for mark in bench_marks(piece, axis))]
        steps = [after - before for before, after in pairwise(places) if after - before > NEAR]
        if 1 < len(steps) <= LONGEST_CHAIN:
            added = " + ".join(show_exactly(step, unit) for step in steps)
            yield f"{added} = {show_exactly(total, unit)}"


def remarks(piece: Piece, unit: Unit) -> Iterator[str]:
    """Notches, slits, cut-outs and cross-breaks, in sentences."""
    yield from (f"Cut {text} ({letter})." for letter, text in notch_lines(piece, unit))
    yield from other_cuts(piece, unit)


def notch_lines(piece: Piece, unit: Unit) -> list[tuple[str, str]]:
    """Letter on the drawing and what it means: `a`, `4 x corner notch 2 x 1`."""
    return [(group.letter, _notches(group, unit)) for group in notch_groups(piece)]


def other_cuts(piece: Piece, unit: Unit) -> Iterator[str]:
    """Slits, slants, curves, cut-outs and cross-breaks, in sentences."""
    if slits := len(outline(piece).slits):
        yield f"Slit {slits} x to the bend line, where strips part."
    yield from slant_lines(piece, unit)
    yield from curve_lines(piece, unit)
    yield from cut_outs(piece, unit)
    if piece.cross_break:
        yield f"Cross-break: {', '.join(piece.cross_break)}."


def slant_lines(piece: Piece, unit: Unit) -> Iterator[str]:
    """The ends of slanting cuts that no notch tells."""
    shape = outline(piece)
    left, low = spots([shape.corner])[0]
    told = [
        " to ".join(
            f"{show(x - left, unit, THIRTY_SECOND)}, {show(y - low, unit, THIRTY_SECOND)}"
            for x, y in cut
        )
        for cut in slants(spots(shape.points))
    ]
    if told:
        yield f"Cut aslant, from left and from below: {'; '.join(told)}."


def curve_lines(piece: Piece, unit: Unit) -> Iterator[str]:
    """Curved edges: the centre and radius of arcs, points of other curves, to the next 1/32."""

    def told(length: float) -> str:
        return show(length, unit, THIRTY_SECOND)

    shape = outline(piece)
    left, low = spots([shape.corner])[0]
    for curve in curves(spots(shape.points)):
        if curve.centre is not None and curve.radius is not None:
            x, y = curve.centre[0] - left, curve.centre[1] - low
            off = ", off the blank" if min(x, y) < -1 / THIRTY_SECOND else ""
            yield (
                f"Cut an arc of radius {told(curve.radius)}: its centre is {told(x)} from the left "
                f"edge and {told(y)} from the lower edge{off}."
            )
        else:
            step = -(-len(curve.points) // MOST_POINTS)
            kept = sorted({*curve.points[::step], curve.points[-1]})
            places = "; ".join(f"{told(x - left)}, {told(y - low)}" for x, y in kept)
            yield f"Cut a smooth curve through these points, from left and from below: {places}."


def by_machine(piece: Piece) -> Iterator[str]:
    """What is formed otherwise than on the brake, in sentences."""
    strips = Counter(
        piece.facet(hinge.child).label or "strip"
        for hinge in piece.bends
        if hinge.forming is Forming.LOCK_FORMER
    )
    for name, count in strips.items():
        edges = many(count, "edge")
        where = "along the curve" if count > MOST_EDGES else edges
        yield f"Before the brake, on the lock former: {name}, {where}."
    rolled = {piece.facet(h.child).label for h in piece.bends if h.forming is Forming.ROLL}
    if "" in rolled:
        yield "In the rolls: the close dotted lines are one smooth curve, none is creased."
    for label in sorted(rolled - {""}):
        yield f"Turn the {label} along its curve, on a rotary machine or by hand."


def _notches(group: NotchGroup, unit: Unit) -> str:
    count = len(group.notches)
    times = "" if count == 1 else f"{count} x "
    size = f"{show_exactly(group.along, unit)} x {show_exactly(group.into, unit)}"
    return f"{times}{group.kind.value} {size}"


def cut_outs(piece: Piece, unit: Unit) -> Iterator[str]:
    """Where each cut-out lies, measured from the datum edges; round ones alike told together."""
    alike: dict[str, list[Hole]] = {}
    for hole in piece.holes:
        if hole.diameter is None or hole.centre is None:
            yield _corner(hole, piece, unit)
        else:
            size = show(hole.diameter, unit, SIXTY_FOURTH)
            told = "" if size in hole.label.split() else f", {size} {unit.name} across"
            alike.setdefault(f"{hole.label}{told}", []).append(hole)
    for what, holes in alike.items():
        places = "; ".join(_centre(hole, piece, unit) for hole in holes)
        if len(holes) == 1:
            yield f"Cut {what}: its centre is {places}."
        else:
            yield f"Cut {len(holes)} x {what}, centres from the left and from below: {places}."


def _centre(hole: Hole, piece: Piece, unit: Unit) -> str:
    left, low = outline(piece).corner
    assert hole.centre is not None
    x, y = hole.centre[0] - left, hole.centre[1] - low
    alone = sum(other.label == hole.label for other in piece.holes) == 1
    if alone:
        return (
            f"{show_exactly(x, unit)} from the left edge and "
            f"{show_exactly(y, unit)} from the lower edge"
        )
    return f"{show_exactly(x, unit)}, {show_exactly(y, unit)}"


def _corner(hole: Hole, piece: Piece, unit: Unit) -> str:
    left, low = outline(piece).corner
    xs, ys = zip(*hole.points, strict=True)
    return (
        f"Cut {hole.label}: its lower left corner is {show_exactly(min(xs) - left, unit)} from the "
        f"left edge and {show_exactly(min(ys) - low, unit)} from the lower edge, its upper right "
        f"{show_exactly(max(xs) - left, unit)} and {show_exactly(max(ys) - low, unit)}."
    )
