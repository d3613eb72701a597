"""A pan folded from one sheet without a cut: its corners are turned into ears on two of its walls.

On the blank each corner is a square. Its diagonal is bent, so that it becomes a doubled triangle
(an ear), which lies flat on the outside of an end wall: one half goes on round the corner from the
side wall, the other comes back to the end wall's edge. Nothing is cut, so nothing leaks.

The pan's length runs along x, its ears lie on the walls at either end of y; z is up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.lengths import Length
from takeoff.pattern.allowances import Allowance, Strip, allowance
from takeoff.pattern.facets import (
    Facet,
    Forming,
    Hinge,
    Hole,
    Notch,
    NotchKind,
    Piece,
    Point,
    Point3,
)
from takeoff.pattern.settle import settle

CORNERS = ((0, 0), (1, 0), (1, 1), (0, 1))
WALLS = ("front", "right", "back", "left")


@dataclass(frozen=True)
class FoldedPan:
    """The pan.

    Attributes:
        length: inside, along the walls that the ears lie on (in).
        width: inside, along the walls that go on into the ears (in).
        height: of the walls (in).
        rim: strips on the top of every wall, flat widths.
        deduction: what a square bend takes off the flat (in).
    """

    length: Length
    width: Length
    height: Length
    rim: tuple[Strip, ...]
    deduction: Length = Fraction(0)

    @property
    def half(self) -> Length:
        """What a square bend takes off the facet on either side (in)."""
        return self.deduction / 2

    @property
    def flat(self) -> tuple[Length, Length, Length]:
        """Length and width of the flat floor and height of a flat wall (in)."""
        return self.length - self.deduction, self.width - self.deduction, self.height - self.half

    def piece(self, holes: Sequence[Hole] = ()) -> Piece:
        """The blank; `holes` are in its own frame, the floor's corner at (0, 0)."""
        facets = [
            Facet(name, corners, label="ear" if " ear " in name else "")
            for name, (corners, _) in self._faces().items()
        ]
        hinges = [*self._wall_hinges(), *self._ear_hinges()]
        for added in self._rims():
            facets += added.facets
            hinges += added.hinges
        return settle(
            Piece(
                "pan",
                tuple(facets),
                tuple(hinges),
                tuple(holes),
                tuple(self._notches()),
                {name: finished for name, (_, finished) in self._faces().items()},
                closing=tuple(self._closing()),
            )
        )

    def _faces(self) -> dict[str, tuple[tuple[Point, ...], tuple[Point3, ...]]]:
        """Every face on the blank and in space, corners in the same order."""
        (x, y, z), (length, width, height) = self.flat, (self.length, self.width, self.height)
        near, far = self.half, length - self.half
        faces: dict[str, tuple[tuple[Point, ...], tuple[Point3, ...]]] = {
            "floor": (
                ((0, 0), (x, 0), (x, y), (0, y)),
                ((0, 0, 0), (length, 0, 0), (length, width, 0), (0, width, 0)),
            ),
            "front": (
                ((0, -z), (x, -z), (x, 0), (0, 0)),
                ((near, 0, height), (far, 0, height), (far, 0, 0), (near, 0, 0)),
            ),
            "right": (
                ((x, 0), (x + z, 0), (x + z, y), (x, y)),
                ((length, 0, 0), (length, 0, height), (length, width, height), (length, width, 0)),
            ),
            "back": (
                ((0, y), (x, y), (x, y + z), (0, y + z)),
                ((near, width, 0), (far, width, 0), (far, width, height), (near, width, height)),
            ),
            "left": (
                ((-z, 0), (0, 0), (0, y), (-z, y)),
                ((0, 0, height), (0, 0, 0), (0, width, 0), (0, width, height)),
            ),
        }
        for corner in CORNERS:
            faces |= self._ear(corner)
        return faces

    def _ear(
        self, corner: tuple[int, int]
    ) -> dict[str, tuple[tuple[Point, ...], tuple[Point3, ...]]]:
        """The two triangles of a corner's square: the outer one goes on from the side wall."""
        inner, side_tip, end_tip, tip = self._square(corner)
        right, back = corner
        toward = -1 if right else 1
        length, width = self.length * right, self.width * back
        half, height = self.half * toward, self.height
        reach = length + height * toward
        outer_in_space = ((length, width, 0), (length, width, height), (reach, width, height))
        inner_in_space = (
            (length + half, width, self.half),
            (reach, width, height),
            (length + half, width, height),
        )
        outer_flat, inner_flat = (inner, side_tip, tip), (inner, tip, end_tip)
        if right != back:
            return {
                _outer(corner): (outer_flat[::-1], outer_in_space[::-1]),
                _inner(corner): (inner_flat[::-1], inner_in_space[::-1]),
            }
        return {
            _outer(corner): (outer_flat, outer_in_space),
            _inner(corner): (inner_flat, inner_in_space),
        }

    def _square(self, corner: tuple[int, int]) -> tuple[Point, Point, Point, Point]:
        """A corner's square on the blank.

        Returns:
            Its corner at the floor, those on the rims of the side wall and of the end wall, and its
            tip.
        """
        right, back = corner
        x, y, z = self.flat
        across, up = (z if right else -z), (z if back else -z)
        floor = x * right, y * back
        return (
            floor,
            (floor[0] + across, floor[1]),
            (floor[0], floor[1] + up),
            (floor[0] + across, floor[1] + up),
        )

    def _wall_hinges(self) -> Iterator[Hinge]:
        x, y, _ = self.flat
        floor: tuple[Point, ...] = ((0, 0), (x, 0), (x, y), (0, y))
        for i, wall in enumerate(WALLS):
            yield Hinge("floor", wall, floor[i], floor[(i + 1) % 4], 90, self.deduction)

    def _ear_hinges(self) -> Iterator[Hinge]:
        for corner in CORNERS:
            inner, side_tip, _, tip = self._square(corner)
            wall = "right" if corner[0] else "left"
            lines = ((inner, side_tip), (inner, tip))
            if corner[0] == corner[1]:
                first, second = (line[::-1] for line in lines)
            else:
                first, second = lines
            yield Hinge(wall, _outer(corner), *first, 90, self.deduction, Forming.HAND)
            yield Hinge(_outer(corner), _inner(corner), *second, 180, forming=Forming.HAND)

    def _closing(self) -> Iterator[Hinge]:
        """The lines where the ears come back to the end walls."""
        for corner in CORNERS:
            inner, _, end_tip, _ = self._square(corner)
            wall = "back" if corner[1] else "front"
            ends = (inner, end_tip) if corner[0] == corner[1] else (end_tip, inner)
            yield Hinge(wall, _inner(corner), *ends, -180, forming=Forming.HAND)

    def _rims(self) -> Iterator[Allowance]:
        x, y, z = self.flat
        tops: dict[str, tuple[Point, Point]] = {
            "front": ((0, -z), (x, -z)),
            "right": ((x + z, 0), (x + z, y)),
            "back": ((x, y + z), (0, y + z)),
            "left": ((-z, y), (-z, 0)),
        }
        for wall, (start, end) in tops.items():
            yield allowance(wall, start, end, self.rim, edge="rim")

    def _notches(self) -> Iterator[Notch]:
        """What is cut off beside the ends of the hems; the corner squares stay whole."""
        if not self.rim:
            return
        wide = self.rim[0].width
        for corner in CORNERS:
            _, side_tip, end_tip, tip = self._square(corner)
            out = wide if corner[0] else -wide, wide if corner[1] else -wide
            below = (end_tip[0], end_tip[1] + out[1]), (tip[0], tip[1] + out[1])
            yield Notch(NotchKind.STEP, (end_tip, tip, below[1], below[0]), _inner(corner))
            past = (side_tip[0] + out[0], side_tip[1]), (tip[0] + out[0], tip[1] + out[1])
            yield Notch(NotchKind.STEP, (side_tip, below[1], past[1], past[0]), _outer(corner))


def _outer(corner: tuple[int, int]) -> str:
    return f"outer ear {CORNERS.index(corner) + 1}"


def _inner(corner: tuple[int, int]) -> str:
    return f"inner ear {CORNERS.index(corner) + 1}"
