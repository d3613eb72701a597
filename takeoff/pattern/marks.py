"""Running marks: where each line lies on the blank, as a tape hooked on one edge reads it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from takeoff.lengths import Length

from .facets import Hinge, Piece
from .outline import outline
from .plane import NEAR


class Axis(StrEnum):
    """The way the tape runs: along the blank's width (from the left) or length (from below)."""

    WIDTH = "width"
    LENGTH = "length"


@dataclass(frozen=True)
class Mark:
    """A line square to the tape.

    Args:
        at: distance from the datum edge (in).
        axis: the way the tape runs.
        label: what the line is: `bend`, `flange`, `lip`, `pocket`, ..., or `far edge`.
        angle: degrees to bend there, positive up; None for the far edge.
    """

    at: Length
    axis: Axis
    label: str
    angle: float | None


def running_marks(piece: Piece, axis: Axis) -> tuple[Mark, ...]:
    """The marks along one axis in tape order, each line once, the far edge last.

    Lines aslant to both edges have no single mark and are left out; `slanted` lists them.
    """
    way = 0 if axis is Axis.WIDTH else 1
    shape = outline(piece)
    marks: dict[tuple[float, str], Mark] = {}
    for hinge in piece.hinges:
        at = hinge.start[way] - shape.corner[way]
        if -NEAR < hinge.end[way] - hinge.start[way] < NEAR:
            label = piece.facet(hinge.child).label or "bend"
            marks.setdefault((round(float(at), 6), label), Mark(at, axis, label, hinge.angle))
    far = shape.width if axis is Axis.WIDTH else shape.length
    ordered = sorted(marks.values(), key=lambda mark: float(mark.at))
    return (*ordered, Mark(far, axis, "far edge", None))


def slanted(piece: Piece) -> tuple[Hinge, ...]:
    """The bend lines that run aslant to both edges of the blank."""
    return tuple(
        hinge
        for hinge in piece.hinges
        if all(not -NEAR < hinge.end[way] - hinge.start[way] < NEAR for way in (0, 1))
    )


def chain(piece: Piece, axis: Axis) -> tuple[Length, ...]:
    """The steps between the marks: they add up to the blank's size on that axis."""
    steps: list[Length] = []
    before: Length = 0
    for mark in running_marks(piece, axis):
        if mark.at - before > NEAR:
            steps.append(mark.at - before)
            before = mark.at
    return tuple(steps)


def degrees(angle: float) -> str:
    """How far to bend, either way, to the half degree that a protractor at the brake shows."""
    return f"{round(abs(angle) * 2) / 2:g}"
