"""What the shop cannot do with a developed fitting, told with what it could do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.facets import Piece
from takeoff.pattern.plane import distance

from ._section import Wall, brake_points
from .base import CannotMake, Shop


def check_bends(walls: Sequence[Wall], column_of: Callable[[str], str], shop: Shop) -> None:
    """CannotMake when two brake bends of a wall, or a bend and its end, are too close together."""
    least = shop.profile.brake.min_flange
    unit_ = shop.profile.unit
    for wall in walls:
        bends = [0, *brake_points(wall), len(wall.points) - 1]
        for a, b in pairwise(bends):
            flat = sum(float(distance(p, q)) for p, q in pairwise(wall.points[a : b + 1]))
            if len(bends) > 2 and flat < least - 1e-9:
                raise CannotMake(
                    column_of(wall.name),
                    f"a flat of {show_with_unit(flat, unit_)}",
                    f"is left on the {wall.name} beside a bend, less than the brake grips",
                    f"Leave {show_with_unit(least, unit_)} or more.",
                )


def check_fit(pieces: Sequence[Piece], shop: Shop, turn: bool, column: str, value: Length) -> None:
    """CannotMake when no sheet in stock or not the brake can take a piece."""
    for piece in pieces:
        if reason := shop.refusal(piece, turn):
            raise CannotMake(
                column,
                show_with_unit(value, shop.profile.unit),
                f"cannot be made: {reason}",
                "Stock a larger sheet, or make it smaller or in two fittings.",
            )
