"""The order of bends: derived from the folded metal and the brake, not from a table."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import count

from takeoff.lengths import Length
from takeoff.settings import Brake

from .brake import FAR, Metal, Scene, put_on_brake
from .facets import Forming, Hinge, Piece, Point
from .fold import Foldable
from .plane import NEAR, cross, distance, dot, minus, unit

MOST_TRIED = 2000
"""How many bends are tried on the brake before the best order so far is taken."""


class Place(IntEnum):
    """Where on the brake a bend is made, the easiest first."""

    ANYWHERE = 0
    END = 1
    FINGERS = 2
    BY_HAND = 10

    def __str__(self) -> str:
        return {
            Place.ANYWHERE: "anywhere on the brake",
            Place.END: "at the end of the brake",
            Place.FINGERS: "with removable fingers set to the length of the bend",
            Place.BY_HAND: "by hand over a stake or with a hand seamer",
        }[self]


@dataclass(frozen=True)
class BendStep:
    """One stroke: all the bend lines on one straight line, bent together.

    Of what is bent by hand a curved edge, or all the short lines that are alike.

    Attributes:
        hinges: the lines.
        label: what is bent: `lip`, `flange`, `bend`, ...
        angle: degrees, positive up.
        place: where on the brake.
    """

    hinges: tuple[Hinge, ...]
    label: str
    angle: float
    place: Place

    @property
    def curved(self) -> bool:
        """Whether it is a curved edge: lines that run on into each other, formed by hand."""
        first, *others = self.hinges
        return first.forming is Forming.HAND and any(_meet(first, other) for other in others)

    @property
    def lines(self) -> tuple[tuple[Point, Point], ...]:
        """The ends of each line that is bent by itself: a stroke of the brake is one line."""
        first = self.hinges[0]
        if first.forming is Forming.HAND:
            return tuple((hinge.start, hinge.end) for hinge in self.hinges)
        along = unit(first.start, first.end)
        ends = [point for hinge in self.hinges for point in (hinge.start, hinge.end)]
        ends.sort(key=lambda point: float(dot(point, along)))
        return ((ends[0], ends[-1]),)


def bend_order(piece: Piece, brake: Brake) -> tuple[BendStep, ...]:
    """The order in which the brake can bend the piece with the fewest awkward bends.

    Lines formed by another machine (a lock former, rolls) are no part of it, and those that are
    formed by hand come last. Among orders equally good the one that works from the outer strips
    inwards is taken.
    """
    by_hand: dict[tuple[str, float], list[Hinge]] = {}
    for hinge in piece.bends:
        if hinge.forming is Forming.HAND:
            by_hand.setdefault((_label(piece, hinge), round(hinge.angle, 3)), []).append(hinge)
    last = (
        BendStep(edge, label, angle, Place.BY_HAND)
        for (label, angle), hinges in by_hand.items()
        for edge in _edges(hinges)
    )
    return (*_brake_order(piece, brake), *last)


def _edges(hinges: Iterable[Hinge]) -> list[tuple[Hinge, ...]]:
    """The lines that run on into each other, an edge each; those that stand alone together."""
    edges: list[tuple[Hinge, ...]] = []
    for hinge in hinges:
        met = [edge for edge in edges if any(_meet(hinge, other) for other in edge)]
        joined = (*(other for edge in met for other in edge), hinge)
        edges = [*(edge for edge in edges if edge not in met), joined]
    alone = tuple(edge[0] for edge in edges if len(edge) == 1)
    return [*(edge for edge in edges if len(edge) > 1), *([alone] if alone else [])]


def _meet(a: Hinge, b: Hinge) -> bool:
    """Whether two lines have an end in common."""
    return any(distance(p, q) < NEAR for p in (a.start, a.end) for q in (b.start, b.end))


def _brake_order(piece: Piece, brake: Brake) -> tuple[BendStep, ...]:
    lines, sheet = _lines(piece), Foldable(piece)
    ticket = count()
    waiting: list[tuple[int, int, int, frozenset[int], tuple[BendStep, ...]]] = []
    heapq.heappush(waiting, (0, 0, next(ticket), frozenset(), ()))
    seen: set[frozenset[int]] = set()
    best: tuple[BendStep, ...] = ()
    while waiting and len(seen) * len(lines) < MOST_TRIED:
        cost, _, _, done, steps = heapq.heappop(waiting)
        if len(done) == len(lines):
            return steps
        if done in seen:
            continue
        seen.add(done)
        best = max(best, steps, key=len)
        for index, step, place in _next_steps(sheet, lines, done, brake):
            key = (cost + int(place), -len(done) - 1, next(ticket))
            heapq.heappush(waiting, (*key, done | {index}, (*steps, step)))
    return (*best, *_rest(sheet, lines, best, brake))


def _rest(
    sheet: Foldable, lines: Sequence[BendStep], best: Sequence[BendStep], brake: Brake
) -> Iterator[BendStep]:
    """The natural order of what is left, where the search was cut short."""
    done = frozenset(
        i for i, line in enumerate(lines) if any(s.hinges == line.hinges for s in best)
    )
    while len(done) < len(lines):
        index, step, _ = next(_next_steps(sheet, lines, done, brake))
        done |= {index}
        yield step


def _next_steps(
    sheet: Foldable, lines: Sequence[BendStep], done: frozenset[int], brake: Brake
) -> Iterator[tuple[int, BendStep, Place]]:
    """The lines that can be bent next, and where: a line stays straight until it is bent.

    Where every line left has been bent across, as in a folded corner, they are bent by hand.
    """
    bent = [hinge for index in done for hinge in lines[index].hinges]
    formed = {h.child for h in sheet.piece.hinges if h.forming is Forming.LOCK_FORMER}
    folded = sheet.folded(bent)
    metal = Metal.of({name: corners for name, corners in folded.items() if name not in formed})
    left = [(i, line) for i, line in enumerate(lines) if i not in done]
    straight = [(i, line) for i, line in left if _straight(line, lines, done)]
    for index, line in straight or left:
        place = _place(sheet.piece, metal, line, brake) if straight else Place.BY_HAND
        yield index, BendStep(line.hinges, line.label, line.angle, place), place


def _lines(piece: Piece) -> list[BendStep]:
    """The brake's strokes: hinges on one straight line with one angle, outermost strips first."""
    depth = {piece.root.name: 0}
    groups: list[list[Hinge]] = []
    for hinge in piece.hinges:
        depth[hinge.child] = depth[hinge.parent] + 1
        if hinge.forming is not Forming.BRAKE or hinge.angle == 0:
            continue
        for group in groups:
            if _one_line(group[0], hinge):
                group.append(hinge)
                break
        else:
            groups.append([hinge])
    steps = [
        BendStep(
            tuple(group),
            _label(piece, group[0]),
            group[0].angle,
            Place.ANYWHERE,
        )
        for group in groups
    ]
    # A strip's outer line comes before its inner one, strips come before the faces they are on.
    return sorted(
        steps,
        key=lambda step: (
            step.label == "bend",
            -max(_strip_depth(piece, hinge) for hinge in step.hinges),
        ),
    )


def _label(piece: Piece, hinge: Hinge) -> str:
    return piece.facet(hinge.child).label or "bend"


def _strip_depth(piece: Piece, hinge: Hinge) -> int:
    """How many strips lie between a strip and its face: 1 for a flange, 2 for its lip."""
    parents = {other.child: other.parent for other in piece.hinges}
    steps, name = 0, hinge.child
    while name in parents and piece.facet(name).label:
        steps, name = steps + 1, parents[name]
    return steps


def _one_line(a: Hinge, b: Hinge) -> bool:
    if abs(a.angle - b.angle) > 1e-6:
        return False
    along = unit(a.start, a.end)
    return all(abs(float(cross(along, minus(point, a.start)))) < 1e-6 for point in (b.start, b.end))


def _straight(line: BendStep, lines: Sequence[BendStep], done: frozenset[int]) -> bool:
    """Whether no bend made already runs across the line between its parts."""
    if len(line.hinges) == 1:
        return True
    start, along = line.hinges[0].start, unit(line.hinges[0].start, line.hinges[0].end)

    def reach(point: tuple[Length, Length]) -> float:
        dx, dy = minus(point, start)
        return float(dx * along[0] + dy * along[1])

    ends = [reach(point) for hinge in line.hinges for point in (hinge.start, hinge.end)]
    for index in done:
        for hinge in lines[index].hinges:
            parallel = abs(float(cross(along, unit(hinge.start, hinge.end)))) < 1e-6
            if not parallel and min(ends) + 1e-6 < reach(hinge.start) < max(ends) - 1e-6:
                return False
    return True


def _place(piece: Piece, metal: Metal, line: BendStep, brake: Brake) -> Place:
    """The easiest place on the brake where the line can be bent as the metal stands now."""
    hinge = line.hinges[0]
    beyond = _beyond(piece, line.hinges)
    best = Place.BY_HAND
    for held, swings in ((hinge.parent, beyond), (hinge.child, set(metal.names) - beyond)):
        scene = put_on_brake(metal, line.hinges, held, swings)
        for place, low, high in _bars(scene, brake):
            if place < best and not scene.fouls(low, high, brake):
                best = place
        if best is Place.ANYWHERE:
            break
    return best


def _bars(scene: Scene, brake: Brake) -> Iterator[tuple[Place, float, float]]:
    """The stretches of nose bar that can stand on the line."""
    yield Place.ANYWHERE, -FAR, FAR
    yield Place.END, -FAR, scene.end
    yield Place.END, scene.start, FAR
    if brake.fingers:
        yield Place.FINGERS, scene.start, scene.end


def _beyond(piece: Piece, hinges: Iterable[Hinge]) -> set[str]:
    """The facets that hang on the lines' children."""
    names = {hinge.child for hinge in hinges}
    for hinge in piece.hinges:
        if hinge.parent in names:
            names.add(hinge.child)
    return names
