"""Fittings of two like cheeks with walls between them: taps, tees, wyes.

The shape is stated in section: in the plane of a cheek, u to the right and v up, counter-clockwise.
The cheeks lie at depth 0 and at the fitting's depth; in space a point is (u, depth, v).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType

from takeoff.edges import SLIP_AND_DRIVE, ending, entering, receiving, slip_or_drive
from takeoff.lengths import Length
from takeoff.pattern.allowances import Trim
from takeoff.pattern.develop import Layout, develop
from takeoff.pattern.edging import RAW, Edging, sloped, trims_at_seam
from takeoff.pattern.facets import Forming, Piece, Point, Point3
from takeoff.pattern.mating import Seam, SeamEdge
from takeoff.pattern.patches import Patch
from takeoff.pattern.plane import distance, dot, unit

from ._body import find_end, find_seam
from ._section import Mouth, Wall, excess, turning
from .base import Shop

GENTLE = 10.0
"""Degrees; a strip that turns less than this runs on from a rolled wall."""
FRONT, BACK = "front cheek", "back cheek"
CHEEKS = (FRONT, BACK)


@dataclass(frozen=True)
class Cheeked:
    """The fitting: walls and mouths in turn, a mouth after each wall.

    Args:
        walls: counter-clockwise.
        mouths: the mouth after each wall.
        depth: between the cheeks (in).
        seam: the name of the seam along the cheeks; walls have the pocket.
        shop: whose seams, ends and bends are used.
    """

    walls: tuple[Wall, ...]
    mouths: tuple[Mouth, ...]
    depth: Length
    seam: str
    shop: Shop

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The walls in their order, then the two cheeks."""
        return (
            *(develop(self._wall_layout(wall)) for wall in self.walls),
            *(develop(self._cheek_layout(cheek)) for cheek in CHEEKS),
        )

    def seams(self) -> tuple[Seam, ...]:
        """Both edges of each wall on the cheeks."""
        return tuple(self._seams())

    @property
    def section(self) -> tuple[Point, ...]:
        """All its points in section, counter-clockwise."""
        return tuple(point for wall in self.walls for point in wall.points)

    def mouth_ends(self, mouth: int) -> tuple[Point, Point]:
        """The ends of a mouth in section."""
        following = self.walls[(mouth + 1) % len(self.walls)]
        return self.walls[mouth].points[-1], following.points[0]

    def _seams(self) -> Iterator[Seam]:
        count = len(self.section)
        begin = 0
        for place, wall in enumerate(self.walls):
            steps = range(len(wall.points) - 1)
            names = [f"{wall.name} {step + 1}" for step in steps]
            along_back = tuple((BACK, begin + step) for step in steps)
            along_front = tuple((FRONT, count - 1 - begin - step) for step in reversed(steps))
            yield Seam(
                self.seam,
                SeamEdge(place, tuple((name, 0) for name in names)),
                SeamEdge(len(self.walls), along_front),
            )
            yield Seam(
                self.seam,
                SeamEdge(place, tuple((name, 2) for name in reversed(names))),
                SeamEdge(len(self.walls) + 1, along_back),
            )
            begin += len(wall.points)

    def _wall_layout(self, wall: Wall) -> Layout:
        rule = find_seam(self.shop, self.seam)
        patches = tuple(
            Patch(f"{wall.name} {i + 1}", self._strip(a, b))
            for i, (a, b) in enumerate(pairwise(wall.points))
        )
        last = patches[-1].name

        def edging(patch: str, edge: int) -> Edging:
            if edge in (0, 2):
                return receiving(rule)
            if (patch, edge) == (last, 1):
                return self._wall_end(wall, at_last=True)
            if (patch, edge) == (patches[0].name, 3):
                return self._wall_end(wall, at_last=False)
            return RAW

        def trims(patch: str, edge: int, _start: bool) -> Sequence[Trim] | None:
            if edge in (0, 2) or not edging(patch, edge).strips:
                return None
            return _giving_way(edging(patch, edge), self._cheek_end(self._mouth_at(wall, edge)))

        return Layout(
            wall.name,
            patches,
            {b.name: a.name for a, b in pairwise(patches)},
            edging,
            trims,
            dict(self._rolled(wall, patches)),
            self.shop.deduction,
            right=1,
        )

    def _rolled(
        self, wall: Wall, patches: Sequence[Patch]
    ) -> Iterator[tuple[tuple[str, str], Length]]:
        """The rolled lines; each makes good what the arc is longer than its chord."""
        for i in wall.rolled:
            if 0 < i < len(wall.points) - 1:
                before, here, after = wall.points[i - 1 : i + 2]
                turn = math.radians(abs(turning(before, here, after)))
                half = float(min(distance(before, here), distance(here, after))) / 2
                yield (patches[i - 1].name, patches[i].name), -excess(2 * half, turn)

    def _strip(self, a: Point, b: Point) -> tuple[Point3, ...]:
        return (
            (a[0], 0, a[1]),
            (b[0], 0, b[1]),
            (b[0], self.depth, b[1]),
            (a[0], self.depth, a[1]),
        )

    def _cheek_layout(self, cheek: str) -> Layout:
        section = self.section
        count = len(section)
        depth = 0 if cheek == FRONT else self.depth
        order = section if cheek == BACK else tuple(section[-i % count] for i in range(count))
        corners = tuple((u, depth, v) for u, v in order)
        edges = self._cheek_edges()

        def along_section(edge: int) -> int:
            return edge if cheek == BACK else (count - 1 - edge) % count

        def trims(_patch: str, edge: int, _start: bool) -> Sequence[Trim] | None:
            mine, mouth = edges[along_section(edge)]
            if mouth is None or not mine.strips:
                return None
            return _giving_way(mine, self._end_square(mouth, on_cheek=False))

        return Layout(
            "cheek",
            (Patch(cheek, corners),),
            {},
            lambda _, edge: edges[along_section(edge)][0],
            trims,
            deduction=self.shop.deduction,
            right=_longest(order),
        )

    def _cheek_edges(self) -> Mapping[int, tuple[Edging, int | None]]:
        """What each edge of the section carries on a cheek, and its mouth where it has one."""
        rule = find_seam(self.shop, self.seam)
        curved = entering(rule.model_copy(update={"single": rule.single_curved}))
        edges: dict[int, tuple[Edging, int | None]] = {}
        for mouth, wall in enumerate(self.walls):
            for step in range(len(wall.points) - 1):
                bent = {step, step + 1} & wall.rolled
                edges[len(edges)] = (curved if len(bent) == 2 else entering(rule)), None
            edges[len(edges)] = self._cheek_end(mouth), mouth
        return MappingProxyType(edges)

    def _mouth_at(self, wall: Wall, edge: int) -> int:
        place = self.walls.index(wall)
        return place if edge == 1 else place - 1

    def _cheek_end(self, mouth: int) -> Edging:
        return self._end_square(mouth, on_cheek=True)

    def _wall_end(self, wall: Wall, at_last: bool) -> Edging:
        """What a wall carries at a mouth: a flange lies in the mouth's plane, however it leans."""
        mouth = self._mouth_at(wall, 1 if at_last else 3)
        edging = self._end_square(mouth % len(self.walls), on_cheek=False)
        start, end = self.mouth_ends(mouth)
        tip, before = wall.points[-1 if at_last else 0], wall.points[-2 if at_last else 1]
        outward = unit(end, start) if at_last else unit(start, end)
        lean = math.degrees(math.acos(_within_one(dot(unit(before, tip), outward))))
        return leaning(edging, lean)

    def _end_square(self, mouth: int, on_cheek: bool) -> Edging:
        """The treatment of a mouth on a cheek or a wall; drives go on the shorter sides."""
        here = self.mouths[mouth]
        name = here.treatment
        if name == SLIP_AND_DRIVE:
            across = distance(*self.mouth_ends(mouth))
            side, beside = (across, self.depth) if on_cheek else (self.depth, across)
            name = slip_or_drive(side, beside, not on_cheek)
        return ending(name, find_end(self.shop, here.column, name))


def leaning(edging: Edging, lean: float) -> Edging:
    """The edging of a sheet that meets the plane of its opening at an angle.

    Args:
        edging: as on a sheet square to the opening.
        lean: degrees between the sheet, going on, and the plane outward; 90 when square.
    """
    if not edging.strips or abs(edging.strips[0].angle) != 90 or abs(lean - 90) < 1e-9:
        return edging
    first, *others = edging.strips
    angle = -lean if first.angle < 0 else 180 - lean
    forming = Forming.ROLL if abs(angle) < GENTLE else first.forming
    return replace(edging, strips=(replace(first, angle=angle, forming=forming), *others))


def _giving_way(mine: Edging, other: Edging) -> Sequence[Trim]:
    """How a strip at a mouth is cut where it meets the strip of the neighbouring piece."""
    if mine.strips and abs(mine.strips[0].angle) == 180 and mine.slope > 0:
        return sloped(mine.strips, mine.slope) if other.strips else ()
    return trims_at_seam(mine, other, on_top=False)


def _longest(corners: Sequence[Point]) -> int:
    """The number of the longest edge of a polygon: it is laid along the sheet's edge."""
    count = len(corners)
    return max(range(count), key=lambda i: distance(corners[i], corners[(i + 1) % count]))


def _within_one(value: Length) -> float:
    return max(-1.0, min(1.0, float(value)))
