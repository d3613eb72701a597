"""The numbers of one blank: the sums of its sizes, its weight, and its order of bends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from takeoff.blanks import JobBlank
from takeoff.lengths import Unit, show_exactly
from takeoff.materials import SQUARE_INCHES_IN_A_SQUARE_FOOT
from takeoff.pattern.bend_words import place_told
from takeoff.pattern.bending import BendStep, Place
from takeoff.pattern.facets import Forming, Piece
from takeoff.pattern.marks import Axis, degrees
from takeoff.pattern.outline import outline
from takeoff.pattern.sums import FACE, Term, terms

WHY = {
    Place.ANYWHERE: "nothing bent before stands in the way",
    Place.END: "bent metal clears the beam only when it hangs past an end of the brake",
    Place.FINGERS: "bent metal stands at both ends of the line, beside the fingers",
    Place.BY_HAND: "no place on the brake clears the metal that is bent before",
}


def blank_lines(blank: JobBlank, order: Sequence[BendStep], unit: Unit) -> Iterator[str]:
    """Width, length, weight and bends of a blank."""
    for axis in Axis:
        yield from _sum(blank.piece, axis, unit)
    yield _weight(blank, unit)
    if order:
        yield "Bends, the fewest awkward ones, outer strips first:"
    for number, step in enumerate(order, 1):
        yield f"  {number}. {_bend(step, blank.piece, unit)}"


def _sum(piece: Piece, axis: Axis, unit: Unit) -> Iterator[str]:
    """`width 2 1/2 + 18 + 2 1/2 = 23`, and what the terms are that are no face."""
    shape = outline(piece)
    total = shape.width if axis is Axis.WIDTH else shape.length
    added = terms(piece, axis)
    if len(added) == 1:
        yield f"{axis.value} {show_exactly(total, unit)} {unit.name}"
        return
    told = " + ".join(show_exactly(term.size, unit) for term in added)
    yield f"{axis.value} {told} = {show_exactly(total, unit)} {unit.name}"
    named = dict.fromkeys(_named(term, unit) for term in added if term.parts[0].label != FACE)
    if named:
        yield f"  where {'; '.join(named)}"


def _named(term: Term, unit: Unit) -> str:
    """`2 1/2 is lip 1/2 + flange 2`, `1 is pocket`."""
    size = show_exactly(term.size, unit)
    labels = {part.label for part in term.parts}
    if len(labels) == 1:
        return f"{size} is {labels.pop()}"
    parts = " + ".join(f"{part.label} {show_exactly(part.size, unit)}" for part in term.parts)
    return f"{size} is {parts}"


def _weight(blank: JobBlank, unit: Unit) -> str:
    """The blank's rectangle in square feet and pounds, and what notches and openings leave."""
    inches = float(blank.width * blank.length)
    size = f"{show_exactly(blank.width, unit)} x {show_exactly(blank.length, unit)} {unit.name}"
    return (
        f"{size} = {inches:.2f} in2 / {SQUARE_INCHES_IN_A_SQUARE_FOOT} = {blank.area:.3f} ft2 x "
        f"{float(blank.metal.weight):.3f} lb/ft2 = {blank.weight:.2f} lb; {blank.net_weight:.2f} "
        "lb when notches and openings are cut"
    )


def _bend(step: BendStep, piece: Piece, unit: Unit) -> str:
    """One stroke: what, where, how far, and why there on the brake."""
    by_nature = all(hinge.forming is Forming.HAND for hinge in step.hinges)
    why = "it is made by hand" if by_nature else WHY[step.place]
    way = "up" if step.angle > 0 else "down"
    bend = f"{step.label} {degrees(step.angle)}° {way}, {place_told(step, piece, unit)}"
    return f"{bend}, {step.place}: {why}"
