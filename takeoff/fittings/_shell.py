"""Shells that close round an axis: cut along seams into pieces, developed, joined end to end."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby, pairwise
from typing import Literal

from takeoff.lengths import Length
from takeoff.pattern.allowances import Trim
from takeoff.pattern.develop import Layout, develop
from takeoff.pattern.edging import RAW, Edging
from takeoff.pattern.facets import Piece, Point3
from takeoff.pattern.mating import Seam, SeamEdge
from takeoff.pattern.patches import Patch, bend_angle, shared

from ._level import levelled

EdgeName = tuple[str, int]
"""A patch and the number of one of its edges."""
Rim = Literal["lower", "upper"]


@dataclass(frozen=True)
class Ring:
    """The patches of a shell in order round its axis, each sharing a line with the next.

    Attributes:
        name: what the bench calls a piece of it.
        patches: in order, the last sharing a line with the first.
        lower: the free edges of the lower rim, in the same order.
        upper: those of the upper rim.
        cuts: a seam lies before each of these patches; rising, one at least.
        brake: the patches bent in the brake from the one before; the others are rolled.
    """

    name: str
    patches: tuple[Patch, ...]
    lower: tuple[EdgeName, ...]
    upper: tuple[EdgeName, ...]
    cuts: tuple[int, ...] = (0,)
    brake: frozenset[str] = frozenset()

    def groups(self) -> tuple[tuple[Patch, ...], ...]:
        """The patches of each piece."""
        first = self.cuts[0]
        turned = (*self.patches[first:], *self.patches[:first])
        ends = [*(cut - first for cut in self.cuts), len(turned)]
        return tuple(turned[a:b] for a, b in pairwise(ends))

    def rim(self, which: Rim) -> tuple[EdgeName, ...]:
        """The free edges of a rim, in order."""
        return self.lower if which == "lower" else self.upper


@dataclass(frozen=True)
class Closing:
    """The seam along a shell: its name and what its two edges carry."""

    kind: str
    receiving: Edging
    entering: Edging


@dataclass(frozen=True)
class Shell:
    """A ring with its seams and rims decided.

    Attributes:
        ring: the surface.
        closing: the seam along it.
        rims: what the free edges of its rims carry; nothing where not given.
        deduction: what a brake bend of so many degrees shortens the flat by (in).
        trims: see `Layout.trims`.
    """

    ring: Ring
    closing: Closing
    rims: Mapping[EdgeName, Edging] = field(default_factory=dict)
    deduction: Callable[[float], Length] = lambda _angle: 0
    trims: Callable[[str, int, bool], Sequence[Trim] | None] = lambda *_: None

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """One piece a group of patches, laid out flat in the smallest rectangle."""
        edging = {**self.rims, **self._seam_edges()}
        return tuple(self._piece(group, edging) for group in self.ring.groups())

    def seams(self, first: int = 0) -> tuple[Seam, ...]:
        """The seams along the shell; `first` is the place of its first piece in the fitting."""
        groups = self.ring.groups()
        return tuple(
            Seam(
                self.closing.kind,
                SeamEdge(first + i, ((last, leaving),)),
                SeamEdge(first + (i + 1) % len(groups), ((begin, entry),)),
            )
            for i, ((last, leaving), (begin, entry)) in enumerate(self._meetings())
        )

    def _piece(self, group: tuple[Patch, ...], edging: Mapping[EdgeName, Edging]) -> Piece:
        pairs = [(a.name, b.name) for a, b in pairwise(group)]
        layout = Layout(
            self.ring.name,
            group,
            {child: parent for parent, child in pairs},
            edging=lambda patch, edge: edging.get((patch, edge), RAW),
            trims=self.trims,
            rolled={pair: 0.0 for pair in pairs if pair[1] not in self.ring.brake},
            deduction=self.deduction,
            right=shared(group[0], group[1])[0] if len(group) > 1 else 1,
        )
        return levelled(develop(layout))

    def _seam_edges(self) -> dict[EdgeName, Edging]:
        edges: dict[EdgeName, Edging] = {}
        for leaving, entry in self._meetings():
            edges[leaving] = self.closing.receiving
            edges[entry] = self.closing.entering
        return edges

    def _meetings(self) -> Iterator[tuple[EdgeName, EdgeName]]:
        """For each piece its last edge, and the first edge of the piece that follows."""
        groups = self.ring.groups()
        for group, after in zip(groups, (*groups[1:], groups[0]), strict=True):
            leaving, entry = shared(group[-1], after[0])
            yield (group[-1].name, leaving), (after[0].name, entry)


@dataclass(frozen=True)
class Placed:
    """A rim of a shell whose first piece has the place `first` in the fitting."""

    ring: Ring
    first: int
    rim: Rim

    def edges(self) -> list[tuple[int, EdgeName]]:
        """Its edges in order, each with the place of its piece."""
        home = {
            patch.name: place
            for place, group in enumerate(self.ring.groups(), self.first)
            for patch in group
        }
        return [(home[name], (name, edge)) for name, edge in self.ring.rim(self.rim)]


def joined(kind: str, receiving: Placed, entering: Placed) -> tuple[Seam, ...]:
    """The seams where an upper rim meets a lower one, a run for each pair of pieces that touch.

    The two rims have as many edges, in the same order.
    """
    pairs = list(zip(receiving.edges(), entering.edges(), strict=True))
    seams = []
    for (mine, other), run in groupby(pairs, key=lambda pair: (pair[0][0], pair[1][0])):
        touching = list(run)
        forwards = tuple(pair[1][1] for pair in touching), tuple(pair[0][1] for pair in touching)
        upper_receives = receiving.rim == "upper"
        entry, receipt = forwards
        # The edges of an upper rim run against the order round the axis, those of a lower with it.
        seams.append(
            Seam(
                kind,
                SeamEdge(mine, receipt[::-1] if upper_receives else receipt),
                SeamEdge(other, entry if upper_receives else entry[::-1]),
            )
        )
    return tuple(seams)


def staves(
    name: str, lower: Sequence[Point3], upper: Sequence[Point3], cuts: Sequence[int] = (0,)
) -> Ring:
    """A rolled ring between two rims of as many corners; a stave for each division."""
    count = len(lower)
    patches = tuple(
        Patch(
            f"{name} stave {i + 1}",
            (lower[i], lower[(i + 1) % count], upper[(i + 1) % count], upper[i]),
        )
        for i in range(count)
    )
    return Ring(
        name,
        patches,
        tuple((patch.name, 0) for patch in patches),
        tuple((patch.name, 2) for patch in patches),
        tuple(cuts),
    )


def even_cuts(count: int, pieces: int, begin: int = 0) -> tuple[int, ...]:
    """Where to cut a ring of `count` patches into equal pieces, one cut at `begin`."""
    return tuple(sorted((begin + i * count // pieces) % count for i in range(pieces)))


def lap_angles(ring: Ring, rim: Rim, onto: Ring, its_rim: Rim) -> dict[EdgeName, float]:
    """How far a strip on each edge of a rim is bent to lie on the patch it meets (degrees)."""
    mine = {patch.name: patch for patch in ring.patches}
    others = {patch.name: patch for patch in onto.patches}
    pairs = zip(ring.rim(rim), onto.rim(its_rim), strict=True)
    return {
        (name, edge): bend_angle(mine[name], others[other]) for (name, edge), (other, _) in pairs
    }
