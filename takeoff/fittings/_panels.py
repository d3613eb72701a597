"""Developing a rectangular body: faces grouped into pieces, unfolded, and given their strips."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from takeoff.lengths import Length
from takeoff.pattern.allowances import (
    Allowance,
    Trim,
    allowance,
    corner_notch,
    join_notches,
    total_width,
)
from takeoff.pattern.edging import (
    RAW,
    Edging,
    flat,
    sloped,
    strip_deduction,
    trims_at_seam,
)
from takeoff.pattern.facets import Facet, Hinge, Hole, Notch, NotchKind, Piece, Point
from takeoff.pattern.mating import Seam, SeamEdge
from takeoff.pattern.plane import along, distance, right_of, unit
from takeoff.pattern.settle import settle

from ._cuboid import FACES, Cuboid, neighbour, opposite, shared_edge


@dataclass(frozen=True)
class Group:
    """The faces of one piece, each bent from the one named beside it; the first has none.

    Args:
        name: what the bench calls the piece.
        faces: pairs of a face and the face it hangs on.
    """

    name: str
    faces: tuple[tuple[str, str | None], ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The faces of the piece."""
        return tuple(face for face, _ in self.faces)


def chain(name: str, *faces: str) -> Group:
    """Faces bent one from the next, in a row."""
    return Group(name, tuple(zip(faces, (None, *faces[:-1]), strict=True)))


def star(name: str, middle: str, *faces: str) -> Group:
    """Faces all bent from the one in the middle."""
    return Group(name, ((middle, None), *((face, middle) for face in faces)))


@dataclass(frozen=True)
class Body:
    """A rectangular body to be made of sheet.

    Args:
        cuboid: the finished sizes.
        groups: how the closed faces are shared out over pieces; every closed face once.
        receiving: faces in the order in which they take the receiving half of a seam.
        pocket: the receiving edge of a seam, the same for all seams of the body.
        single: its entering edge.
        seam: the seam's name.
        opening_edge: the edging of a closed face where it borders an open one.
        deduction: what a brake bend of so many degrees shortens the flat by (in).
        holes: cut-outs by face, in the face's frame (see `Cuboid.seen_point`).
        cross_break: the faces to be cross-broken.
    """

    cuboid: Cuboid
    groups: tuple[Group, ...]
    receiving: tuple[str, ...]
    pocket: Edging
    single: Edging
    seam: str
    opening_edge: Callable[[str, str], Edging]
    deduction: Callable[[float], Length]
    holes: Mapping[str, tuple[Hole, ...]]
    cross_break: frozenset[str] = frozenset()

    @cached_property
    def closed(self) -> frozenset[str]:
        """The faces made of metal."""
        return frozenset(face for group in self.groups for face in group.names)

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """One piece a group, in the groups' order."""
        return tuple(_Layout(self, group).piece() for group in self.groups)

    def seams(self, first: int = 0) -> tuple[Seam, ...]:
        """The seams between the pieces; `first` is the place of the first piece in the fitting."""
        return tuple(self._seams(first))

    def _seams(self, first: int) -> Iterator[Seam]:
        home = {face: i for i, group in enumerate(self.groups, first) for face in group.names}
        for face, mine in home.items():
            for edge in range(4):
                other = neighbour(face, edge)
                if other in home and self.receives(face, other) and not self.bent(face, other):
                    back = shared_edge(other, face)
                    yield Seam(
                        self.seam,
                        SeamEdge(mine, ((face, edge),)),
                        SeamEdge(home[other], ((other, back),)),
                    )

    def bent(self, face: str, other: str) -> bool:
        """Whether two faces are joined by a bend."""
        pairs = {pair for group in self.groups for pair in group.faces}
        return (face, other) in pairs or (other, face) in pairs

    def receives(self, face: str, other: str) -> bool:
        """Whether `face` has the pocket of the seam between two closed faces."""
        order = {name: place for place, name in enumerate(self.receiving)}
        return order.get(face, len(FACES)) < order.get(other, len(FACES))

    def edging(self, face: str, edge: int) -> Edging:
        """What an edge of a closed face carries; raw on a bend."""
        return self._edgings[face, edge % 4]

    @cached_property
    def _edgings(self) -> Mapping[tuple[str, int], Edging]:
        return {(face, edge): self._edging(face, edge) for face in self.closed for edge in range(4)}

    def _edging(self, face: str, edge: int) -> Edging:
        other = neighbour(face, edge)
        if other not in self.closed:
            return flat(self.opening_edge(face, other), self.deduction)
        if self.bent(face, other):
            return RAW
        return self.pocket if self.receives(face, other) else self.single

    def inset(self, face: str, edge: int) -> Length:
        """What the flat face is short of its mould line at an edge, for the bend there (in)."""
        other = neighbour(face, edge)
        if other in self.closed:
            return self.deduction(90) / 2 if self.bent(face, other) else Fraction(0)
        strips = self.opening_edge(face, other).strips
        return strip_deduction(strips[0], self.deduction) / 2 if strips else Fraction(0)


class _Layout:
    """One group unfolded on the sheet."""

    def __init__(self, body: Body, group: Group) -> None:
        self.body = body
        self.group = group
        self.sharp = _unfold(body, group)
        self.flat = {face: self._flat(face) for face in group.names}

    def _flat(self, face: str) -> tuple[Point, ...]:
        """The flat corners of a face: its mould lines moved in by half of each bend's deduction."""
        sharp = self.sharp[face]
        insets = [self.body.inset(face, edge) for edge in range(4)]
        moved = []
        for i, corner in enumerate(sharp):
            into_this = unit(corner, sharp[i - 1])
            into_last = unit(corner, sharp[(i + 1) % 4])
            moved.append(along(along(corner, into_this, insets[i]), into_last, insets[i - 1]))
        return tuple(moved)

    def edge(self, face: str, edge: int) -> tuple[Point, Point]:
        """The flat ends of a face's edge."""
        corners = self.flat[face]
        return corners[edge], corners[(edge + 1) % 4]

    def piece(self) -> Piece:
        """The group as a flat piece with its strips, notches and cut-outs."""
        faces = self.group.names
        facets = [Facet(face, self.flat[face]) for face in faces]
        hinges = [self._bend(face, parent) for face, parent in self.group.faces if parent]
        notches: list[Notch] = []
        for face in faces:
            for edge in range(4):
                added = self._allowance(face, edge)
                facets += added.facets
                hinges += added.hinges
                notches += added.notches
                notches += self._corner_notch(face, edge)
                notches += self._step_notch(face, edge)
        flat = Piece(
            name=self.group.name,
            facets=tuple(facets),
            hinges=tuple(hinges),
            holes=tuple(
                self._hole(face, hole) for face in faces for hole in self.body.holes.get(face, ())
            ),
            notches=join_notches(notches),
            finished={face: self.body.cuboid.corners(face) for face in faces},
            cross_break=tuple(face for face in faces if face in self.body.cross_break),
        )
        return settle(flat)

    def _bend(self, face: str, parent: str) -> Hinge:
        start, end = self.edge(parent, shared_edge(parent, face))
        back = self.edge(face, shared_edge(face, parent))
        if distance(*back) < distance(start, end):
            end, start = back
        return Hinge(parent, face, start, end, 90.0, self.body.deduction(90))

    def _allowance(self, face: str, edge: int) -> Allowance:
        edging = self.body.edging(face, edge)
        start, end = self.edge(face, edge)
        before, after = neighbour(face, edge - 1), neighbour(face, (edge + 1) % 4)
        return allowance(
            face,
            start,
            end,
            edging.strips,
            self._trims(face, edge, before),
            self._trims(face, edge, after),
            neighbour(face, edge),
        )

    def _trims(self, face: str, edge: int, beside: str) -> tuple[Trim, ...]:
        """How the strips of an edge give way at the end where the face borders `beside`."""
        body = self.body
        mine = body.edging(face, edge)
        opening = neighbour(face, edge)
        if beside in body.closed and body.bent(face, beside):
            # Two walls that hang on one face share the corner between them: both are mitred there.
            shared = opening in body.closed and body.bent(opening, beside)
            return sloped(mine.strips, 1 if shared else mine.slope)
        if opening in body.closed:
            return ()
        if beside not in body.closed:
            own = body.edging(face, shared_edge(face, beside))
            return sloped(mine.strips, 1) if own.strips and folds_over(mine) else ()
        other = body.edging(beside, shared_edge(beside, opening))
        if folds_over(mine) and other.strips:
            return sloped(mine.strips, mine.slope)
        return trims_at_seam(mine, other, on_top=body.receives(beside, face))

    def _corner_notch(self, face: str, edge: int) -> list[Notch]:
        """The rectangle missing where this edge's strips meet those of the edge before."""
        here, before = self.body.edging(face, edge), self.body.edging(face, (edge - 1) % 4)
        if not (here.strips and before.strips):
            return []
        corner = self.edge(face, edge)[0]
        return [
            corner_notch(
                face,
                corner,
                self._outward(face, edge - 1, total_width(before.strips)),
                self._outward(face, edge, total_width(here.strips)),
            )
        ]

    def _step_notch(self, face: str, edge: int) -> list[Notch]:
        """What is cut off along an opening's edge where other faces of the piece reach further."""
        opening = neighbour(face, edge)
        if opening in self.body.closed:
            return []
        reach = {
            name: total_width(self.body.edging(name, shared_edge(name, opening)).strips)
            for name in self.group.names
            if name != opposite(opening)
        }
        step = max(reach.values()) - reach[face]
        if step == 0:
            return []
        start, end = self.edge(face, edge)
        direction = unit(start, end)
        start = along(start, direction, -total_width(self.body.edging(face, (edge - 1) % 4).strips))
        after = self.body.edging(face, (edge + 1) % 4).strips
        end = along(end, direction, total_width(after))
        outward = right_of(direction)
        low = along(end, outward, reach[face]), along(start, outward, reach[face])
        high = along(low[1], outward, step), along(low[0], outward, step)
        return [Notch(NotchKind.STEP, (*low, *high), face)]

    def _outward(self, face: str, edge: int, width: Length) -> Point:
        start, end = self.edge(face, edge % 4)
        x, y = right_of(unit(start, end))
        return x * width, y * width

    def _hole(self, face: str, hole: Hole) -> Hole:
        """A cut-out moved from the face's own frame onto the sheet."""
        first, second, _, last = self.sharp[face]
        right, up = unit(first, second), unit(first, last)

        def on_sheet(point: Point) -> Point:
            return along(along(first, right, point[0]), up, point[1])

        centre = on_sheet(hole.centre) if hole.centre is not None else None
        points = tuple(on_sheet(point) for point in hole.points)
        return Hole(face, points, hole.label, centre, hole.diameter)


def folds_over(edging: Edging) -> bool:
    """Whether the edge is folded back flat on itself (a hem) and mitred for it."""
    return bool(edging.strips) and abs(edging.strips[0].angle) == 180 and edging.slope > 0


def _unfold(body: Body, group: Group) -> dict[str, tuple[Point, ...]]:
    """The mould-line corners of each face on the sheet, in the order of `FACES`.

    Faces joined by a bend overlap by its deduction, so that each reaches the bend's middle.
    """
    faces = group.faces
    first = faces[0][0]
    right = shared_edge(first, faces[1][0]) if len(faces) > 1 else _upright(first)
    width, height = body.cuboid.side(first, right + 1), body.cuboid.side(first, right)
    zero = Fraction(0)
    corners = ((width, zero), (width, height), (zero, height), (zero, zero))
    sharp = {first: _turned(corners, right)}
    for face, parent in faces[1:]:
        assert parent is not None
        edge = shared_edge(parent, face)
        start, end = sharp[parent][edge], sharp[parent][(edge + 1) % 4]
        outward = right_of(unit(start, end))
        near = -body.deduction(90)
        start, end = along(start, outward, near), along(end, outward, near)
        back = shared_edge(face, parent)
        reach = body.cuboid.side(face, back + 1)
        laid = (end, start, along(start, outward, reach), along(end, outward, reach))
        sharp[face] = _turned(laid, back)
    return sharp


def _upright(face: str) -> int:
    """The edge to lay on the right so that a single face stands as one sees it."""
    bottom = shared_edge(face, "front" if face in ("top", "bottom") else "bottom")
    return (bottom + 1) % 4


def _turned(corners: Sequence[Point], edge: int) -> tuple[Point, ...]:
    """Corners listed from the given edge's start, put back into the face's own order."""
    return tuple(corners[(i - edge) % 4] for i in range(4))
