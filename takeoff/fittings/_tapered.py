"""Straight-sided tubes between two openings: transitions and angled offsets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.develop import SMOOTH
from takeoff.pattern.facets import Piece, Point3
from takeoff.pattern.settle import cut_key

from ._body import Arrangement, broad_faces, first_possible
from ._panels import chain
from ._tube import SIDES, Node, Tube, in_a_plane, tube
from ._tube_body import TubeBody
from ._tube_ends import LEFT_OVER, Ends, seam_edgings
from .base import CannotMake, Made, Shop

FOUR_SIDES = Arrangement(
    "four sides", tuple(chain(side, side) for side in SIDES), ("left", "right")
)
SIXTEENTH = 16


@dataclass(frozen=True)
class Opening:
    """A rectangular opening in space.

    Args:
        width: inside (in).
        height: inside (in).
        centre: of the opening.
        lean: degrees it faces upward from the run.
        twist: degrees it is turned about the run, clockwise as seen along it.
    """

    width: Length
    height: Length
    centre: Point3 = (0.0, 0.0, 0.0)
    lean: float = 0.0
    twist: float = 0.0

    def corner(self, line: int, along: Length = 0) -> Point3:
        """Where a corner line passes the plane `along` its own normal from the opening."""
        across = float(self.width) / 2 * (1 if line in (1, 2) else -1)
        up = float(self.height) / 2 * (1 if line in (2, 3) else -1)
        turn, lean = math.radians(self.twist), math.radians(self.lean)
        x = across * math.cos(turn) + up * math.sin(turn)
        z = up * math.cos(turn) - across * math.sin(turn)
        y, up_here = math.cos(lean) * float(along), math.sin(lean) * float(along)
        a, b, c = (float(part) for part in self.centre)
        return a + x, b + y - z * math.sin(lean), c + up_here + z * math.cos(lean)


@dataclass(frozen=True)
class Taper:
    """Two openings, straight collars behind them, and flat panels between.

    Args:
        first: opening 1, square to the run.
        second: opening 2, its centre `length` further on.
        collars: lengths of the straight collars at either end (in).
        columns: what the job list calls the two collars.
    """

    first: Opening
    second: Opening
    collars: tuple[Length, Length]
    columns: tuple[str, str]

    def tube(self) -> Tube:
        """The finished surface."""
        return tube([tuple(self._line(line)) for line in range(4)])

    def _line(self, line: int) -> Iterator[Node]:
        yield Node(self.first.corner(line), 0)
        if self.collars[0]:
            yield Node(self._inner(line)[0], 1)
        if self.collars[1]:
            yield Node(self._inner(line)[1], 2)
        yield Node(self.second.corner(line), 3)

    def _inner(self, line: int) -> tuple[Point3, Point3]:
        """The ends of a corner line between the collars."""
        return (
            self.first.corner(line, self.collars[0]),
            self.second.corner(line, -self.collars[1]),
        )

    def slopes(self) -> dict[str, float]:
        """Degrees by which each panel leans from the run, measured at its middle."""
        return {side: math.degrees(math.atan2(*self._rise(i))) for i, side in enumerate(SIDES)}

    def _rise(self, side: int) -> tuple[float, float]:
        """How far a panel's middle moves sideways, and along the run."""
        axis = 2 if SIDES[side] in ("bottom", "top") else 0
        moves = [
            [end - start for start, end in zip(*self._inner(line), strict=True)]
            for line in (side, (side + 1) % 4)
        ]
        return abs(float(moves[0][axis] + moves[1][axis])) / 2, float(moves[0][1] + moves[1][1]) / 2

    def check(self, shop: Shop, seam: str) -> None:
        """CannotMake where collars do not fit or a panel is steeper than the shop allows."""
        self._check_collars_fit(shop)
        steepest = shop.profile.slope.steepest
        unit = shop.profile.unit
        side, slope = max(self.slopes().items(), key=lambda item: item[1])
        if slope > steepest + 1e-9:
            sideways, along = self._rise(SIDES.index(side))
            more = sideways / math.tan(math.radians(steepest)) - along
            needed = self._length + more
            raise CannotMake(
                "length",
                show_with_unit(self._length, unit),
                f"makes the {side} lean {slope:.1f} degrees, more than {steepest:g}",
                f"Make it {show_with_unit(round_up(needed), unit)} or longer.",
            )
        self._check_parts(shop, seam)

    @property
    def _length(self) -> float:
        return float(self.second.centre[1])

    def _check_collars_fit(self, shop: Shop) -> None:
        unit = shop.profile.unit
        both = float(self.collars[0] + self.collars[1])
        if both >= self._length or min(self._rise(side)[1] for side in range(4)) <= 0:
            raise CannotMake(
                self.columns[0] if self.collars[0] >= self.collars[1] else self.columns[1],
                show_with_unit(max(self.collars), unit),
                f"leaves no room between the ends of a piece {show_with_unit(self._length, unit)} "
                "long",
                f"Make it longer, or give collars of less than {show_with_unit(self._length, unit)}"
                " together.",
            )

    def _check_parts(self, shop: Shop, seam: str) -> None:
        """CannotMake where a part between two bends is too short for the brake or its seam."""
        if (
            all(
                in_a_plane([n.at for n in (*self._line(s), *self._line((s + 1) % 4))])
                for s in range(4)
            )
            and max(self.slopes().values()) < 1e-9
        ):
            return
        unit, least = shop.profile.unit, float(shop.profile.brake.min_flange)
        trim = self._seam_trim(shop, seam)
        for column, collar in zip(self.columns, self.collars, strict=True):
            needed = max(least, trim)
            if 0 < collar < needed:
                raise CannotMake(
                    column,
                    show_with_unit(collar, unit),
                    "is too narrow to be bent and locked",
                    f"Give 0, or {show_with_unit(round_up(needed), unit)} or more.",
                )
        middle = self._length - float(self.collars[0] + self.collars[1])
        needed = max(least, 2 * trim)
        if middle < needed:
            raise CannotMake(
                "length",
                show_with_unit(self._length, unit),
                f"leaves {show_with_unit(middle, unit)} between the bends",
                f"Make it {show_with_unit(round_up(self._length - middle + needed), unit)} "
                "or longer.",
            )

    def _seam_trim(self, shop: Shop, seam: str) -> float:
        """What a seam strip loses at a bend across it, at the most, and an edge left over (in)."""
        edges = seam_edgings(shop, seam)
        leans = []
        for line in range(4):
            start, end = self._inner(line)
            x, y, z = (b - a for a, b in zip(start, end, strict=True))
            leans.append(math.atan2(math.hypot(x, z), y))
        # the parts of a warped panel may turn by that much more than its corners lean
        turned = math.radians(max(abs(self.second.lean), abs(self.second.twist)))
        mitre = math.tan((max(leans) + turned) / 2)
        sharp = turned > 0 or math.degrees(max(leans)) > SMOOTH
        return LEFT_OVER + max(
            float(total_width(edge.strips)) * max(mitre, float(edge.slope) if sharp else 0.0)
            for edge in (edges.receiving, edges.entering)
        )


def make_tapered(
    taper: Taper,
    ends: Ends,
    seam: str,
    arrangement: str,
    cross_break: str,
    turn: bool,
) -> Made:
    """The pieces and seams of a straight-sided tube, in the asked arrangement."""
    shop = ends.shop
    ends.check()
    taper.check(shop, seam)
    shape = taper.tube()
    edgings = seam_edgings(shop, seam)
    broken = {SIDES[crease.side] for crease in shape.creases}
    wide = broad_faces(
        [side for side in SIDES if side not in broken],
        lambda side: max(ends.sizes[k][0 if side in ("bottom", "top") else 1] for k in (0, 1)),
        cross_break,
        shop.profile.cross_break.over,
    )

    def make(way: Arrangement) -> TubeBody:
        return TubeBody(
            shape,
            way,
            edgings,
            lambda side, opening: ends.on(shape, side, opening),
            shop.deduction,
            cross_break=wide,
        )

    ways = tuple(_ways(shape, taper, shop))
    if arrangement != "auto" and not any(way.name == arrangement for way in ways):
        raise CannotMake(
            "arrangement",
            arrangement,
            "would be bent along a corner that collars break or where a warped panel is creased",
            "Ask for four sides, or leave the collars out.",
        )
    body, notes = first_possible(ways, arrangement, make, shop, turn)
    return Made(_named_alike(body.pieces), body.seams(), (*notes, *_warp_notes(shape, shop)))


def round_up(value: Length) -> Fraction:
    """The next sixteenth of an inch, for a size that would be allowed."""
    return Fraction(math.ceil(float(value) * SIXTEENTH - 1e-6), SIXTEENTH)


def _ways(shape: Tube, taper: Taper, shop: Shop) -> Iterator[Arrangement]:
    """The arrangements whose bends run along straight corners, the favoured first.

    Where bends take up metal, a crease of a warped panel cannot end on one: they would not meet.
    One side slopes: a wrap of the other three, as the trade makes it.
    """
    slopes = taper.slopes()
    broken = {crease.side for crease in shape.creases} if shop.deduction(90) else set[int]()
    bendable = [shape.straight(line) and not broken & {line, (line - 1) % 4} for line in range(4)]
    wraps = [
        _wrap_and_side(middle)
        for middle in sorted(range(4), key=lambda side: -slopes[SIDES[side - 2]])
        if bendable[middle] and bendable[(middle + 1) % 4]
    ]
    one_slopes = sum(slope > 1e-9 for slope in slopes.values()) == 1
    ells = [_two_ells(line) for line in (1, 0) if bendable[line] and bendable[line + 2]]
    first = 1 if one_slopes else 0
    yield from (*wraps[:first], *ells, *wraps[first:])
    yield FOUR_SIDES


def _wrap_and_side(middle: int) -> Arrangement:
    before, here, after, across = (SIDES[(middle + step) % 4] for step in (-1, 0, 1, 2))
    return Arrangement(
        "u and side", (chain("U", before, here, after), chain("side", across)), (across,)
    )


def _two_ells(line: int) -> Arrangement:
    a, b, c, d = (SIDES[(line - 1 + step) % 4] for step in range(4))
    return Arrangement("two l", (chain("L", a, b), chain("L", c, d)), (b, d))


def _named_alike(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """Opposite sides that are cut alike under one name, so that they are counted together."""
    keys = [cut_key(piece.called("")) for piece in pieces]
    named = list(pieces)
    for a, b in ((0, 2), (1, 3)) if len(pieces) == len(SIDES) else ():
        if keys[a] == keys[b]:
            name = f"{pieces[a].name} and {pieces[b].name}"
            named[a], named[b] = (pieces[i].called(name) for i in (a, b))
    return tuple(named)


def _warp_notes(shape: Tube, shop: Shop) -> Iterator[str]:
    """A sentence for every panel that is broken because it is warped."""
    for crease in shape.creases:
        ends = [shape.at(corner) for corner in (crease.start, crease.end)]
        nearer, further = sorted((crease.start, crease.end), key=lambda corner: corner[1])
        length = show_with_unit(math.dist(*ends), shop.profile.unit)
        yield (
            f"The {SIDES[crease.side]} is warped: break it with an extra bend {length} long, from "
            f"the {_corner_name(nearer[0])} corner towards the first opening to the "
            f"{_corner_name(further[0])} corner towards the second."
        )


def _corner_name(line: int) -> str:
    return ("lower left", "lower right", "upper right", "upper left")[line]
