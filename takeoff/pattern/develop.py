"""Developing any surface of flat patches: laid out in the plane patch by patch, then edged.

A fitting states its finished patches in space, corners counter-clockwise as seen from inside, and
which of them hang together. Unfolding a patch about a shared edge keeps its true shape, so the
layout is exact for flat patches; a rolled surface is a run of narrow ones.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from takeoff.lengths import Length

from .allowances import Trim, allowance, corner_notch, join_notches, total_width
from .edging import RAW, Edging, flat, sloped
from .facets import Facet, Forming, Hinge, Hole, Notch, Piece, Point, Point3
from .patches import Patch, bend_angle, beside, common, cut_back, shared, to_sheet, upright
from .plane import cross, dot, right_of, unit
from .settle import settle

SMOOTH = 30.0
"""Degrees; at a flatter corner two strips run on into each other, at a sharper one they part."""

STRAIGHT = 0.01
"""Degrees; edges that turn by less are one straight edge."""

EdgingOf = Callable[[str, int], Edging]
TrimsOf = Callable[[str, int, bool], "Sequence[Trim] | None"]


@dataclass(frozen=True)
class Layout:
    """How patches become one piece.

    Args:
        name: what the bench calls the piece.
        patches: the patches, the root first; every later one hangs on an earlier one.
        parents: for each patch but the root the one it is bent from.
        edging: what a free edge carries, by patch and number of the edge; strip widths finished.
        trims: how an edge's strips are cut at its start (True) or end (False); None for the usual
            way, which `develop` describes.
        rolled: pairs (parent, child) whose line is rolled and not bent in the brake, with what
            rolling shortens the flat by; negative where the arc is longer than its chords (in).
        deduction: what a brake bend of so many degrees shortens the flat by (in).
        right: the root's edge that is laid upwards on the right.
        holes: cut-outs, in space: their points are moved onto the sheet with their patch.
        cross_break: the patches to be cross-broken.
    """

    name: str
    patches: tuple[Patch, ...]
    parents: Mapping[str, str]
    edging: EdgingOf = lambda _patch, _edge: RAW
    trims: TrimsOf = lambda _patch, _edge, _start: None
    rolled: Mapping[tuple[str, str], Length] = field(default_factory=dict)
    deduction: Callable[[float], Length] = lambda _angle: Fraction(0)
    right: int = 0
    holes: tuple[SpaceHole, ...] = ()
    cross_break: tuple[str, ...] = ()


@dataclass(frozen=True)
class SpaceHole:
    """A cut-out stated on the finished fitting.

    Args:
        patch: the patch it is cut in.
        points: its boundary in space.
        label: what goes in.
        centre: centre in space of a round one.
        diameter: of a round one (in).
    """

    patch: str
    points: tuple[Point3, ...]
    label: str = "opening"
    centre: Point3 | None = None
    diameter: Length | None = None


def develop(layout: Layout) -> Piece:
    """The piece, flat: its patches unfolded, its free edges given their strips.

    Where two free edges of a patch meet, strips run on into each other at a corner flatter than
    `SMOOTH`, leave a corner notch at a sharper one, and share a mitre in a corner that goes in.
    Where an edge ends in a bend, its strips are cut back by the edging's slope, or to the mitre
    where the corner goes in by more; on a rolled line they run on.

    Raises:
        ValueError: a patch that shares no edge with its parent.
    """
    return _Development(layout, {patch.name: patch for patch in layout.patches}).piece()


@dataclass(frozen=True)
class _Joint:
    """How a patch hangs on its parent: the edge of either, the bend, and what it takes (in)."""

    edge: int
    back: int
    angle: float
    deduction: Length


@dataclass(frozen=True)
class _Beside:
    """The free edge that follows on the outline.

    Attributes:
        patch: it is on.
        edge: its number there.
        bend: the sharpest that is passed on the way.
        turn: degrees the outline turns left from one edge to the next (convex is positive).
    """

    patch: str
    edge: int
    bend: Hinge | None
    turn: float


@dataclass
class _Development:
    """The work of one layout."""

    layout: Layout
    patches: dict[str, Patch]
    joints: dict[str, _Joint] = field(default_factory=dict)
    taken: dict[str, dict[int, Length]] = field(default_factory=dict)
    edgings: dict[tuple[str, int], Edging] = field(default_factory=dict)
    beside: dict[tuple[str, int, bool], _Beside] = field(default_factory=dict)
    sharp: dict[str, tuple[Point, ...]] = field(default_factory=dict)
    flat: dict[str, tuple[Point, ...]] = field(default_factory=dict)
    hinges: list[Hinge] = field(default_factory=list)
    bent: dict[tuple[str, int], Hinge] = field(default_factory=dict)

    def piece(self) -> Piece:
        self._hang_together()
        self._unfold()
        facets = [Facet(patch.name, self.flat[patch.name]) for patch in self.layout.patches]
        notches: list[Notch] = []
        for patch in self.layout.patches:
            for edge in range(len(patch.corners)):
                if (patch.name, edge) in self.bent:
                    continue
                edging = self._formed(patch.name, edge)
                start, end = self._edge(patch.name, edge)
                added = allowance(
                    patch.name,
                    start,
                    end,
                    edging.strips,
                    self._trims(patch.name, edge, True),
                    self._trims(patch.name, edge, False),
                    f"edge {edge + 1}",
                )
                facets += added.facets
                self.hinges += added.hinges
                notches += [*added.notches, *self._corner_notch(patch.name, edge)]
        return settle(
            Piece(
                name=self.layout.name,
                facets=tuple(facets),
                hinges=tuple(self.hinges),
                holes=tuple(self._hole(hole) for hole in self.layout.holes),
                notches=join_notches(notches),
                finished={patch.name: patch.corners for patch in self.layout.patches},
                cross_break=self.layout.cross_break,
            )
        )

    def _hang_together(self) -> None:
        for child, parent in self.layout.parents.items():
            joint = self._joint(self.patches[parent], self.patches[child])
            self.joints[child] = joint
            self.taken.setdefault(parent, {})[joint.edge] = joint.deduction
            self.taken.setdefault(child, {})[joint.back] = joint.deduction

    def _unfold(self) -> None:
        root = self.layout.patches[0]
        self._lay(root, upright(root, self.layout.right))
        for patch in self.layout.patches[1:]:
            parent = self.patches[self.layout.parents[patch.name]]
            joint = self.joints[patch.name]
            line, level = self._edge(parent.name, joint.edge), self.sharp[parent.name][joint.edge]
            self._lay(patch, beside(patch, joint.back, line, level, joint.deduction))
            start, end = common(line, self._edge(patch.name, joint.back))
            rolled = (parent.name, patch.name) in self.layout.rolled
            forming = Forming.ROLL if rolled else Forming.BRAKE
            hinge = Hinge(
                parent.name, patch.name, start, end, joint.angle, joint.deduction, forming
            )
            self.hinges.append(hinge)
            self.bent[parent.name, joint.edge] = self.bent[patch.name, joint.back] = hinge

    def _joint(self, parent: Patch, child: Patch) -> _Joint:
        angle = bend_angle(parent, child)
        rolled = self.layout.rolled.get((parent.name, child.name))
        deduction = self.layout.deduction(abs(angle)) if rolled is None else rolled
        return _Joint(*shared(parent, child), angle, deduction)

    def _lay(self, patch: Patch, sharp: tuple[Point, ...]) -> None:
        self.sharp[patch.name] = sharp
        self.flat[patch.name] = self._inset(patch, sharp)

    def _inset(self, patch: Patch, sharp: tuple[Point, ...]) -> tuple[Point, ...]:
        """The patch cut back from its mould lines by half the deduction of each of its bends."""
        bends = self.taken.get(patch.name, {})
        insets = [0.0] * len(sharp)
        for edge in range(len(sharp)):
            if edge in bends:
                insets[edge] = float(bends[edge]) / 2
            elif strips := self._edging(patch.name, edge).strips:
                insets[edge] = float(strips[0].deduction) / 2
        return cut_back(sharp, insets) if any(insets) else sharp

    def _edging(self, patch: str, edge: int) -> Edging:
        if (patch, edge) not in self.edgings:
            finished = self.layout.edging(patch, edge)
            self.edgings[patch, edge] = flat(finished, self.layout.deduction)
        return self.edgings[patch, edge]

    def _formed(self, patch: str, edge: int) -> Edging:
        """The edging as it is formed: no brake bends a strip that runs round a curve."""
        edging = self._edging(patch, edge)
        if not self._on_curve(patch, edge):
            return edging
        strips = (
            replace(strip, forming=Forming.HAND) if strip.forming is Forming.BRAKE else strip
            for strip in edging.strips
        )
        return replace(edging, strips=tuple(strips))

    def _on_curve(self, patch: str, edge: int) -> bool:
        """Whether the strips of an edge run on into those of an edge a little aslant."""
        if not self._edging(patch, edge).strips:
            return False
        for at_start in (True, False):
            other = self._next(patch, edge, at_start)
            runs_on = other.bend is None and self._edging(other.patch, other.edge).strips
            if runs_on and STRAIGHT < abs(other.turn) <= SMOOTH:
                return True
        return False

    def _edge(self, patch: str, edge: int) -> tuple[Point, Point]:
        corners = self.flat[patch]
        return corners[edge % len(corners)], corners[(edge + 1) % len(corners)]

    def _trims(self, patch: str, edge: int, at_start: bool) -> Sequence[Trim]:
        chosen = self.layout.trims(patch, edge, at_start)
        if chosen is not None:
            return chosen
        mine = self._edging(patch, edge)
        if not mine.strips:
            return ()
        other = self._next(patch, edge, at_start)
        edged, bend = bool(self._edging(other.patch, other.edge).strips), other.bend
        share = -math.tan(math.radians(other.turn) / 2) if edged else 0
        if bend is not None and bend.forming is not Forming.ROLL and abs(bend.angle) > SMOOTH:
            return sloped(mine.strips, max(mine.slope, share))
        if not edged or other.turn > SMOOTH:
            return ()
        mitre = sloped(mine.strips, share)
        return tuple(replace(trim, filled=True) for trim in mitre)

    def _next(self, patch: str, edge: int, at_start: bool) -> _Beside:
        """The free edge that follows on the outline."""
        if (patch, edge, at_start) not in self.beside:
            self.beside[patch, edge, at_start] = self._found_beside(patch, edge, at_start)
        return self.beside[patch, edge, at_start]

    def _found_beside(self, patch: str, edge: int, at_start: bool) -> _Beside:
        step = -1 if at_start else 1
        sharpest: Hinge | None = None
        at, number = patch, (edge + step) % len(self.flat[patch])
        while (at, number) in self.bent:
            hinge = self.bent[at, number]
            if sharpest is None or abs(hinge.angle) > abs(sharpest.angle):
                sharpest = hinge
            joint = self.joints[hinge.child]
            across, back = (
                (hinge.child, joint.back) if at == hinge.parent else (hinge.parent, joint.edge)
            )
            at, number = across, (back + step) % len(self.flat[across])
        return _Beside(at, number, sharpest, self._turn(patch, edge, at, number, at_start))

    def _turn(self, patch: str, edge: int, other: str, other_edge: int, at_start: bool) -> float:
        """Degrees the outline turns left from one free edge to the next (convex is positive)."""
        mine, beside = unit(*self._edge(patch, edge)), unit(*self._edge(other, other_edge))
        first, second = (beside, mine) if at_start else (mine, beside)
        return math.degrees(math.atan2(float(cross(first, second)), float(dot(first, second))))

    def _corner_notch(self, patch: str, edge: int) -> list[Notch]:
        """The piece missing where the strips of this edge and of the one before part."""
        before = (edge - 1) % len(self.flat[patch])
        if (patch, before) in self.bent:
            return []
        here, last = self._edging(patch, edge), self._edging(patch, before)
        if not here.strips or not last.strips:
            return []
        if abs(self._turn(patch, edge, patch, before, True) - 90) > 1e-6:
            return []
        first = self._outward(patch, before, total_width(last.strips))
        second = self._outward(patch, edge, total_width(here.strips))
        return [corner_notch(patch, self.flat[patch][edge], first, second)]

    def _outward(self, patch: str, edge: int, width: Length) -> Point:
        x, y = right_of(unit(*self._edge(patch, edge)))
        return x * width, y * width

    def _hole(self, hole: SpaceHole) -> Hole:
        patch = self.patches[hole.patch]
        on_sheet = to_sheet(patch, self.sharp[patch.name])
        return Hole(
            hole.patch,
            tuple(on_sheet(point) for point in hole.points),
            hole.label,
            on_sheet(hole.centre) if hole.centre is not None else None,
            hole.diameter,
        )
