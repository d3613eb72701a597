"""Allowance strips: the metal added outside a face for a seam or an end, and how it is trimmed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from takeoff.lengths import Length

from .facets import Facet, Forming, Hinge, Notch, NotchKind, Point, Role
from .plane import along, distance, right_of, same, unit


@dataclass(frozen=True)
class Strip:
    """One strip of an allowance, outward from the edge before it.

    Args:
        width: flat width (in), more than zero.
        angle: how far it is bent from the metal before it, degrees; positive to the inside.
        label: what the trade calls it: `pocket`, `flange`, `lip`.
        role: seam or end.
        forming: the tool that bends it.
        deduction: what its bend shortens the flat by (in).
    """

    width: Length
    angle: float
    label: str
    role: Role
    forming: Forming = Forming.BRAKE
    deduction: Length = 0


@dataclass(frozen=True)
class Trim:
    """How one end of a strip is cut back: by `near` at its bend line, by `far` at its outer edge.

    `far` is counted from the same place as `near`, so equal values are a square end. Where the
    strip of the next edge fills the place (`filled`), nothing is cut away.
    """

    near: Length = 0
    far: Length = 0
    filled: bool = False


SQUARE = Trim()


@dataclass(frozen=True)
class Allowance:
    """The facets, bend lines and notches that an edge's strips add to the pattern."""

    facets: tuple[Facet, ...] = ()
    hinges: tuple[Hinge, ...] = ()
    notches: tuple[Notch, ...] = field(default=())


def allowance(
    face: str,
    start: Point,
    end: Point,
    strips: Sequence[Strip],
    start_trims: Sequence[Trim] = (),
    end_trims: Sequence[Trim] = (),
    edge: str = "edge",
) -> Allowance:
    """Lay strips outward from a face's edge, each bent on the one before.

    Args:
        face: name of the facet the edge belongs to.
        start: the edge's first point, counter-clockwise round the face.
        end: its last point.
        strips: from the edge outward; empty for a raw edge.
        start_trims: how each strip is cut back at the start; square where none is given.
        end_trims: the same at the end.
        edge: a name for the edge, to tell the facets apart.
    """
    direction = unit(start, end)
    outward = right_of(direction)
    facets: list[Facet] = []
    hinges: list[Hinge] = []
    parent = face
    reach: Length = Fraction(0)
    for index, strip in enumerate(strips):
        first = start_trims[index] if index < len(start_trims) else SQUARE
        last = end_trims[index] if index < len(end_trims) else SQUARE
        low = along(start, outward, reach)
        high = along(end, outward, reach)
        near = along(low, direction, first.near), along(high, direction, -last.near)
        far = (
            along(along(low, outward, strip.width), direction, first.far),
            along(along(high, outward, strip.width), direction, -last.far),
        )
        name = f"{face} {edge} {strip.label}"
        facets.append(Facet(name, (near[1], near[0], far[0], far[1]), strip.role, strip.label))
        hinges.append(
            Hinge(parent, name, near[0], near[1], strip.angle, strip.deduction, strip.forming)
        )
        parent, reach = name, reach + strip.width
    backward = (-direction[0], -direction[1])
    notches = (
        *_end_notches(face, start, outward, direction, strips, start_trims),
        *_end_notches(face, end, outward, backward, strips, end_trims),
    )
    return Allowance(tuple(facets), tuple(hinges), notches)


def total_width(strips: Sequence[Strip]) -> Length:
    """What the strips add to the flat beyond the edge (in)."""
    total: Length = Fraction(0)
    for strip in strips:
        total = total + strip.width
    return total


def _end_notches(
    face: str,
    corner: Point,
    outward: Point,
    inward: Point,
    strips: Sequence[Strip],
    trims: Sequence[Trim],
) -> list[Notch]:
    """The metal that the trims take from the square ends of an edge's strips."""
    notches: list[Notch] = []
    base = corner
    for width, trim in _runs(strips, trims):
        far = along(base, outward, width)
        if trim.filled:
            base = far
            continue
        first, second = along(base, inward, trim.near), along(far, inward, trim.near)
        if trim.near > 0:
            notches.append(Notch(NotchKind.STEP, (base, first, second, far), face))
        slant = trim.far - trim.near
        if slant > 0:
            square = -1e-9 < slant - width < 1e-9
            kind = NotchKind.TRIM if square else NotchKind.SLANT
            notches.append(Notch(kind, (first, along(second, inward, slant), second), face))
        base = far
    return notches


def _runs(strips: Sequence[Strip], trims: Sequence[Trim]) -> list[tuple[Length, Trim]]:
    """Strips with their trims, those that carry on in one slanted cut taken as one strip."""
    runs: list[tuple[Length, Trim]] = []
    for strip, trim in zip(strips, trims, strict=False):
        if runs:
            width, before = runs[-1]
            same_slope = (before.far - before.near) * strip.width == (trim.far - trim.near) * width
            if trim.near == before.far and same_slope:
                runs[-1] = (width + strip.width, Trim(before.near, trim.far, before.filled))
                continue
        runs.append((strip.width, trim))
    return runs


def join_notches(notches: Sequence[Notch]) -> tuple[Notch, ...]:
    """The notches with each pair of slanted cuts that meet at a bend line made one V notch."""
    joined: list[Notch] = []
    for notch in notches:
        twin = next((other for other in joined if _meet(other, notch)), None)
        if twin is None:
            joined.append(notch)
        else:
            at = joined.index(twin)
            tips = (notch.points[0], twin.points[1], notch.points[1])
            joined[at] = Notch(NotchKind.V, tips, notch.facet)
    return tuple(joined)


def _meet(a: Notch, b: Notch) -> bool:
    slanted = (NotchKind.TRIM, NotchKind.SLANT)
    return (
        a.kind in slanted
        and b.kind in slanted
        and same(a.points[0], b.points[0])
        and same(a.points[2], b.points[2])
    )


def corner_notch(facet: str, corner: Point, first: Point, second: Point) -> Notch:
    """The rectangle left out where the strips of two edges of a face meet at its corner.

    Args:
        facet: the face.
        corner: the face's corner.
        first: vector outward over one edge's strips.
        second: vector outward over the other's.
    """
    a = (corner[0] + first[0], corner[1] + first[1])
    c = (corner[0] + second[0], corner[1] + second[1])
    b = (a[0] + second[0], a[1] + second[1])
    return Notch(NotchKind.CORNER, (corner, a, b, c), facet)


def notch_size(notch: Notch) -> tuple[Length, Length]:
    """The two sizes a bench works a notch from: along its edge, and into the blank (in)."""
    points = notch.points
    if notch.kind in (NotchKind.CORNER, NotchKind.STEP):
        return distance(points[0], points[1]), distance(points[1], points[2])
    if notch.kind is NotchKind.V:
        xs, ys = zip(*points, strict=True)
        across, into = max(xs) - min(xs), max(ys) - min(ys)
        return (across, into)
    return distance(points[1], points[2]), distance(points[2], points[0])
