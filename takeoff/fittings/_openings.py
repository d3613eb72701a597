"""Reading what is cut in a face and what is done to the edges of an open one.

The two little notations of the job list::

    openings   front 10 x 8; left round 6; back 8 x 8 at 3, 2
    edges      bearing flange            every edge of every open face
               top: bearing flange; front: raw; top/left: hem
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from takeoff.errors import InvalidLength, nearest
from takeoff.lengths import Length, Unit, parse, show
from takeoff.pattern.facets import Hole, Point
from takeoff.spelling import spelled

from ._cuboid import FACES, Cuboid
from .base import CannotMake

CIRCLE_POINTS = 72
_OPENING = re.compile(
    r"(?P<face>[a-z]+) +(?:round +(?P<round>[^@]+?)|(?P<width>.+?) *[x×] *(?P<height>.+?))"
    r"(?: +at +(?P<right>[^,]+), *(?P<up>.+))?"
)
_FORMS = "Write it as: front 10 x 8; left round 6; back 8 x 8 at 3, 2."


@dataclass(frozen=True)
class Opening:
    """A cut-out as it stands on the job list.

    Attributes:
        face: the face it is cut in.
        width: of a rectangle, or the diameter (in).
        height: of a rectangle; None for a round one.
        at: of a rectangle its lower left corner, of a round one its centre, from the lower left
            corner of the face as one stands before it; None in the middle of the face.
    """

    face: str
    width: Fraction
    height: Fraction | None
    at: tuple[Fraction, Fraction] | None


def read_openings(text: str, unit: Unit) -> tuple[Opening, ...]:
    """The openings that a cell lists; ValueError tells what is wrong with which."""
    return tuple(_read_opening(part, unit) for part in _parts(text))


def _read_opening(text: str, unit: Unit) -> Opening:
    found = _OPENING.fullmatch(text)
    if found is None:
        raise ValueError(f'"{text}" is not an opening. {_FORMS}')
    face = _face(found["face"])
    try:
        width = parse(found["round"] or found["width"], unit)
        height = None if found["round"] else parse(found["height"], unit)
        at = (parse(found["right"], unit), parse(found["up"], unit)) if found["right"] else None
    except InvalidLength as error:
        raise ValueError(f'"{text}": {error}') from error
    if width <= 0 or height == 0:
        raise ValueError(f'"{text}": an opening must be larger than 0. {_FORMS}')
    return Opening(face, width, height, at)


def write_openings(openings: Iterable[Opening], unit: Unit) -> str:
    """The openings as `read_openings` reads them."""
    return "; ".join(_write_opening(opening, unit) for opening in openings)


def _write_opening(opening: Opening, unit: Unit) -> str:
    width, height = spelled(opening.width, unit), opening.height
    size = f"round {width}" if height is None else f"{width} x {spelled(height, unit)}"
    place = f" at {', '.join(spelled(each, unit) for each in opening.at)}" if opening.at else ""
    return f"{opening.face} {size}{place}"


def read_edges(text: str) -> Mapping[tuple[str, str | None], str]:
    """Treatments by open face and neighbouring face (None: all its edges); "" stands for all.

    Returns:
        Keys (open face, closed neighbour or None); the key ("", None) holds for every open face.
    """
    edges: dict[tuple[str, str | None], str] = {}
    for part in _parts(text):
        place, _, name = part.rpartition(":")
        opening, _, beside = (step.strip() for step in place.partition("/"))
        key = (_face(opening) if opening else "", _face(beside) if beside else None)
        if key in edges:
            raise ValueError(f'"{part}": this edge was given before; give each edge once.')
        edges[key] = name.strip()
    return edges


def write_edges(edges: Mapping[tuple[str, str | None], str]) -> str:
    """The treatments as `read_edges` reads them."""
    places = {key: "/".join(face for face in key if face) for key in edges}
    return "; ".join(f"{places[key]}: {name}".removeprefix(": ") for key, name in edges.items())


def read_faces(text: str) -> tuple[str, ...]:
    """The faces that a cell lists: `top`, `top, front`, or `none`."""
    if text == "none":
        return ()
    names = re.split(r"[,;]| and ", text)
    return tuple(dict.fromkeys(_face(name.strip()) for name in names if name.strip()))


def treatment(edges: Mapping[tuple[str, str | None], str], opening: str, beside: str) -> str:
    """What is done to the edge of the face `beside` where it borders the open face `opening`."""
    for key in ((opening, beside), (opening, None), ("", None)):
        if key in edges:
            return edges[key]
    return "raw"


def cut_hole(opening: Opening, cuboid: Cuboid, unit: Unit) -> Hole:
    """The opening in its face's own frame; CannotMake when it leaves its face."""
    across, up = cuboid.seen_size(opening.face)
    if opening.height is None:
        return _round_hole(opening, cuboid, across, up, unit)
    width, height = opening.width, opening.height
    left, low = opening.at or ((across - width) / 2, (up - height) / 2)
    _check_inside(opening, (left, low, left + width, low + height), (across, up), unit)
    corners = ((left, low), (left + width, low), (left + width, low + height), (left, low + height))
    points = tuple(cuboid.seen_point(opening.face, *corner) for corner in corners)
    return Hole(opening.face, points, f"opening {show(width, unit)} x {show(height, unit)}")


def _round_hole(opening: Opening, cuboid: Cuboid, across: Length, up: Length, unit: Unit) -> Hole:
    diameter = opening.width
    x, y = opening.at or (across / 2, up / 2)
    radius = diameter / 2
    _check_inside(opening, (x - radius, y - radius, x + radius, y + radius), (across, up), unit)
    centre = cuboid.seen_point(opening.face, x, y)
    points = tuple(_on_circle(centre, radius, step) for step in range(CIRCLE_POINTS))
    label = f"round opening {show(diameter, unit)}"
    return Hole(opening.face, points, label, centre, diameter)


def _on_circle(centre: Point, radius: Length, step: int) -> Point:
    turn = 2 * math.pi * step / CIRCLE_POINTS
    return (
        float(centre[0]) + float(radius) * math.cos(turn),
        float(centre[1]) + float(radius) * math.sin(turn),
    )


def _check_inside(
    opening: Opening,
    box: tuple[Length, Length, Length, Length],
    size: tuple[Length, Length],
    unit: Unit,
) -> None:
    left, low, right, high = box
    if left > 0 and low > 0 and right < size[0] and high < size[1]:
        return
    shape = f"{show(right - left, unit)} x {show(high - low, unit)}"
    face = f"{show(size[0], unit)} x {show(size[1], unit)}"
    raise CannotMake(
        "openings",
        f"{opening.face} {shape}",
        f"reaches outside its face, which is {face}",
        "Metal must be left on every side: make it smaller or move it.",
    )


def _parts(text: str) -> list[str]:
    plain = " ".join(text.casefold().replace("_", " ").split())
    return [part.strip() for part in plain.split(";") if part.strip()]


def _face(name: str) -> str:
    if name not in FACES:
        raise ValueError(f'"{name}" is not a face. {nearest(name, FACES)}')
    return name
