"""A rectangular tube taken apart: its sides shared out over pieces, developed and seamed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from takeoff.lengths import Length
from takeoff.pattern.allowances import Trim
from takeoff.pattern.develop import SMOOTH, Layout, develop
from takeoff.pattern.edging import RAW, Edging, sloped, trims_at_seam
from takeoff.pattern.facets import Forming, Piece
from takeoff.pattern.mating import Seam, SeamEdge
from takeoff.pattern.outline import outline
from takeoff.pattern.patches import Patch

from ._body import Arrangement
from ._level import levelled
from ._panels import Group, folds_over
from ._tube import SIDES, Cell, Corner, Tube

WORTH_TURNING = 0.9
"""Part of its rectangle to which a piece must come down to be laid aslant on the sheet."""

CLEARANCE = Fraction(1, 8)
"""Inches that a strip gives way at a bend for an inch of its width, where bends take up metal."""

OpeningEdge = Callable[[int, int], Edging]
"""The edging of a side (by number) at opening 1 or 2."""


@dataclass(frozen=True)
class SeamEdgings:
    """What the two edges of a seam carry; `curved` enters where it runs along a curve."""

    kind: str
    receiving: Edging
    entering: Edging
    curved: Edging


@dataclass(frozen=True)
class TubeBody:
    """A tube to be made of sheet.

    Args:
        tube: the finished surface.
        arrangement: how the sides are shared out, and who has the pockets.
        seam: what the edges of its seams carry.
        opening_edge: what the edges of its openings carry.
        deduction: what a brake bend of so many degrees shortens the flat by (in).
        called: what the parts of a side are called, where not by the side's name.
        cross_break: the sides whose largest part is cross-broken.
        far_first: sides laid out from opening 2, so that opposite hands lie alike.
    """

    tube: Tube
    arrangement: Arrangement
    seam: SeamEdgings
    opening_edge: OpeningEdge
    deduction: Callable[[float], Length]
    called: Mapping[str, str] = field(default_factory=dict)
    cross_break: frozenset[str] = frozenset()
    far_first: frozenset[str] = frozenset()

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """One piece a group, in the groups' order."""
        return tuple(self._piece(group) for group in self.arrangement.groups)

    @cached_property
    def _home(self) -> Mapping[str, int]:
        """The place of the piece that a side belongs to."""
        groups = enumerate(self.arrangement.groups)
        return {side: place for place, group in groups for side in group.names}

    def seams(self) -> tuple[Seam, ...]:
        """The seams along the corner lines that are not bends."""
        return tuple(self._seam(line) for line in range(4) if not self.bent(line))

    def bent(self, line: int) -> bool:
        """Whether the sides on either hand of a corner line are one piece, bent there."""
        pair = {SIDES[line - 1], SIDES[line]}
        return any(
            {a, b} == pair for group in self.arrangement.groups for a, b in pairwise(group.names)
        )

    def receives(self, side: str, other: str) -> bool:
        """Whether a side has the pocket of its seam with another."""
        order = {name: place for place, name in enumerate(self.arrangement.receiving)}
        return order.get(side, len(SIDES)) < order.get(other, len(SIDES))

    def name(self, cell: Cell) -> str:
        """The name of a cell, as its patch and its facet go by."""
        side = SIDES[cell.side]
        cells = self.tube.cells[cell.side]
        called = self.called.get(side, side)
        return called if len(cells) == 1 else f"{called} {cells.index(cell) + 1}"

    def edging(self, cell: Cell, edge: int) -> Edging:
        """What an edge of a cell carries."""
        start, end = _edge(cell, edge)
        line = _line_of(start, end)
        if line is None:
            opening = self._opening_of(start, end)
            return RAW if opening is None else self._opening_edge(cell.side, opening)
        if self.bent(line):
            return RAW
        curved = self.tube.curved(line)
        if self.receives(SIDES[cell.side], SIDES[_across(cell.side, line)]):
            return _by_hand(self.seam.receiving) if curved else self.seam.receiving
        return _by_hand(self.seam.curved) if curved else self.seam.entering

    def _opening_edge(self, side: int, opening: int) -> Edging:
        """As `opening_edge`; where bends take up metal its ends at bends are always cut aslant.

        Two slanting sides cut back for the bend between them have no common corner left.
        """
        edging = self.opening_edge(side, opening)
        slope = max(edging.slope, CLEARANCE) if self.deduction(90) else edging.slope
        return replace(edging, slope=slope)

    def _opening_of(self, start: Corner, end: Corner) -> int | None:
        if start[1] == end[1] == 0:
            return 1
        last = all(node == len(self.tube.lines[line]) - 1 for line, node in (start, end))
        return 2 if last else None

    def _trims(self, cell: Cell, edge: int, at_start: bool) -> Sequence[Trim] | None:
        """How an opening's strips meet those of the next piece in the opening's corner."""
        start, end = _edge(cell, edge)
        opening = None if _line_of(start, end) is not None else self._opening_of(start, end)
        line = (start if at_start else end)[0]
        if opening is None or self.bent(line):
            return None
        mine, beside = self.opening_edge(cell.side, opening), _across(cell.side, line)
        other = self.opening_edge(beside, opening)
        if folds_over(mine) and other.strips:
            return sloped(mine.strips, mine.slope)
        on_top = self.receives(SIDES[beside], SIDES[cell.side])
        return trims_at_seam(mine, other, on_top) or None

    def _piece(self, group: Group) -> Piece:
        cells = [cell for side in group.names for cell in self.tube.cells[SIDES.index(side)]]
        named = {self.name(cell): cell for cell in cells}
        order, parents = self._tree(cells)
        rolled = {
            (self.name(parents[cell]), self.name(cell)): -self._shares.get(
                frozenset((parents[cell], cell)), 0.0
            )
            for cell in order[1:]
            if self.tube.rolled(*_shared(parents[cell], cell))
        }
        far = SIDES[order[0].side] in self.far_first
        layout = Layout(
            group.name,
            tuple(
                Patch(self.name(cell), tuple(self.tube.at(c) for c in cell.corners))
                for cell in order
            ),
            {self.name(cell): self.name(parents[cell]) for cell in order[1:]},
            edging=lambda patch, edge: self.edging(named[patch], edge),
            trims=lambda patch, edge, start: self._trims(named[patch], edge, start),
            rolled=rolled,
            deduction=self._deductions(group),
            right=order[0].second[1] - order[0].second[0] + 1 if far else 0,
            cross_break=tuple(
                self.name(max(self.tube.cells[SIDES.index(side)], key=self._area))
                for side in group.names
                if side in self.cross_break
            ),
        )
        return _well_laid(develop(layout))

    def _tree(self, cells: Sequence[Cell]) -> tuple[list[Cell], dict[Cell, Cell]]:
        """The cells in the order they are laid, and the one each hangs on."""
        order, parents = [cells[0]], dict[Cell, Cell]()
        left = list(cells[1:])
        for cell in order:
            found = [other for other in left if self._hang_together(cell, other)]
            order += found
            parents |= dict.fromkeys(found, cell)
            left = [other for other in left if other not in parents]
        return order, parents

    def _hang_together(self, cell: Cell, other: Cell) -> bool:
        both = [corner for corner in cell.corners if corner in other.corners]
        line = _line_of(*both) if len(both) == 2 else None
        return len(both) == 2 and (cell.side == other.side or line is None or self.bent(line))

    def _deductions(self, group: Group) -> Callable[[float], Length]:
        """What bends shorten a piece by; nothing for a slight one, which takes 1/100 in at most.

        Edges and strips then run on across it without a step. So they do on a warped panel, whose
        crease ends on the bends at its edges: nothing is taken off there.
        """
        creased = {SIDES[crease.side] for crease in self.tube.creases} & set(group.names)
        slight = 180.0 if creased else SMOOTH
        return lambda angle: self.deduction(angle) if abs(angle) > slight else 0

    def _area(self, cell: Cell) -> float:
        points = [self.tube.at(corner) for corner in cell.corners]
        sums = [
            sum(p[i] * q[k] - p[k] * q[i] for p, q in pairwise([*points, points[0]]))
            for i, k in ((0, 1), (1, 2), (2, 0))
        ]
        return sum(float(s) ** 2 for s in sums)

    @cached_property
    def _shares(self) -> Mapping[frozenset[Cell], float]:
        """What each rolled line adds to the flat: a side's excess in equal parts."""
        shares: dict[frozenset[Cell], float] = {}
        for side, excess in self.tube.excess.items():
            facets = [cell for cell in self.tube.cells[side] if self._on_the_curve(cell)]
            lines = [frozenset(pair) for pair in pairwise(facets)]
            shares |= dict.fromkeys(lines, excess / max(len(lines), 1))
        return shares

    def _on_the_curve(self, cell: Cell) -> bool:
        return all(self.tube.lines[line][node].rolled for line, node in cell.corners)

    def _seam(self, line: int) -> Seam:
        here, before = line, (line - 1) % 4
        runs = {
            side: SeamEdge(self._home[SIDES[side]], self._run(side, line))
            for side in (here, before)
        }
        takes = before if self.receives(SIDES[before], SIDES[here]) else here
        return Seam(self.seam.kind, runs[takes], runs[_across(takes, line)])

    def _run(self, side: int, line: int) -> tuple[tuple[str, int], ...]:
        """A side's edges along a corner line, in the running order of its boundary."""
        edges = [
            (min(start[1], end[1]), (self.name(cell), number))
            for cell in self.tube.cells[side]
            for number in range(len(cell.corners))
            for start, end in (_edge(cell, number),)
            if _line_of(start, end) == line
        ]
        return tuple(edge for _, edge in sorted(edges, reverse=side == line))


def _by_hand(edging: Edging) -> Edging:
    """The edging with what a brake would bend turned by hand: it bends straight lines only."""
    strips = (
        replace(strip, forming=Forming.HAND) if strip.forming is Forming.BRAKE else strip
        for strip in edging.strips
    )
    return replace(edging, strips=tuple(strips))


def _well_laid(piece: Piece) -> Piece:
    """The piece with an edge along the sheet, or turned where that saves much metal."""
    turned = levelled(piece)
    return turned if _rectangle(turned) < WORTH_TURNING * _rectangle(piece) else piece


def _rectangle(piece: Piece) -> float:
    shape = outline(piece)
    return float(shape.width) * float(shape.length)


def _edge(cell: Cell, edge: int) -> tuple[Corner, Corner]:
    corners = cell.corners
    return corners[edge % len(corners)], corners[(edge + 1) % len(corners)]


def _line_of(start: Corner, end: Corner) -> int | None:
    """The corner line that an edge lies on; None for edges across a side."""
    return start[0] if start[0] == end[0] else None


def _across(side: int, line: int) -> int:
    """The side on the other hand of a corner line."""
    return (line - 1) % 4 if side == line else line


def _shared(cell: Cell, other: Cell) -> tuple[Corner, Corner]:
    """The two corners that neighbouring cells have in common."""
    a, b = (corner for corner in cell.corners if corner in other.corners)
    return a, b
