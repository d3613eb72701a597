"""Boxes: return boxes, plenums, and any rectangular box with open and closed faces."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import (
    BeforeValidator,
    Field,
    FieldSerializationInfo,
    PlainSerializer,
    ValidationInfo,
)

from takeoff.lengths import INCH
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Hole

from ._body import Arrangement, broad_faces, build, choose, edge_of_opening
from ._cuboid import FACES, Cuboid, opposite
from ._fields import Name, Wish
from ._openings import (
    Opening,
    cut_hole,
    read_edges,
    read_faces,
    read_openings,
    treatment,
    write_edges,
    write_openings,
)
from ._panels import Body, Group, chain, star
from .base import (
    AirWay,
    CannotMake,
    Fitting,
    Made,
    OpenEnd,
    Shop,
    Size,
    plain,
    read_choice,
    register,
)

LOOPS: Mapping[str, tuple[str, str, str, str]] = {
    "front and back": ("bottom", "right", "top", "left"),
    "left and right": ("bottom", "back", "top", "front"),
    "top and bottom": ("front", "right", "back", "left"),
}
"""The four faces that the wrap goes round, by the pair of faces that are the ends."""


def _openings(value: object, info: ValidationInfo) -> object:
    unit = (info.context or {}).get("unit", INCH)
    return read_openings(value, unit) if isinstance(value, str) else value


def _edges(value: object) -> object:
    return read_edges(value) if isinstance(value, str) else value


def _faces(value: object) -> object:
    return read_faces(plain(value)) if isinstance(value, str) else value


def _written(openings: tuple[Opening, ...], info: FieldSerializationInfo) -> str:
    return write_openings(openings, (info.context or {}).get("unit", INCH))


def _listed(faces: tuple[str, ...]) -> str:
    return ", ".join(faces) or "none"


Faces = Annotated[tuple[str, ...], BeforeValidator(_faces), PlainSerializer(_listed)]
Openings = Annotated[tuple[Opening, ...], BeforeValidator(_openings), PlainSerializer(_written)]
Edges = Annotated[
    Mapping[tuple[str, str | None], str], BeforeValidator(_edges), PlainSerializer(write_edges)
]


@register
class Box(Fitting):
    """A rectangular box."""

    kind: ClassVar[str] = "box"
    summary: ClassVar[str] = "A rectangular box with any faces open and openings cut in the others."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "16", "depth": "12", "height": "10", "open": "top", "edges": "hem"},
        {
            "width": "24",
            "depth": "20",
            "height": "30",
            "open": "top, bottom",
            "edges": "top: flange out; bottom: slip and drive",
            "openings": "front 14 x 8",
        },
        {
            "width": "14",
            "depth": "14",
            "height": "8",
            "open": "none",
            "openings": "top round 8",
            "arrangement": "separate sides",
        },
    )
    measured: ClassVar[tuple[str, ...]] = ("open", "openings")

    width: Size = Field(description="From left to right.")
    depth: Size = Field(description="From front to back.")
    height: Size = Field(description="From bottom to top.")
    open: Faces = Field(
        default=("top",),
        description="The faces left open: top, bottom, front, back, left, right, or none.",
    )
    edges: Edges = Field(
        default={("", None): "raw"},
        description="What is done to the edges of the open faces, such as: bearing flange; or "
        "top: flange out; bottom/left: hem.",
    )
    openings: Openings = Field(
        default=(),
        description="Openings cut in faces, such as: front 10 x 8; left round 6; back 8 x 8 at "
        "3, 2 (from the lower left corner, seen from outside).",
    )
    ends: Annotated[
        Literal["front and back", "left and right", "top and bottom"],
        BeforeValidator(read_choice),
    ] = Field(
        default="front and back",
        description="The two faces that close the wrap as ends.",
    )
    arrangement: Annotated[
        Literal["auto", "wrap and ends", "two wraps", "separate sides", "one piece"],
        BeforeValidator(read_choice),
    ] = Field(
        default="auto",
        description="How the faces are shared out over pieces; auto takes the fewest pieces that "
        "the sheets and the brake can take.",
    )
    seam: Name = Field(default="pittsburgh", description="The seam that joins the pieces.")
    cross_break: Wish = Field(
        default="auto",
        description="Whether the faces are cross-broken; auto by the profile's width.",
    )

    def make(self, shop: Shop) -> Made:
        """The wraps and the ends."""
        closed = [face for face in FACES if face not in self.open]
        self._check_faces(closed)
        cuboid = Cuboid(self.width, self.depth, self.height)
        holes = self._holes(cuboid, shop)

        wide = broad_faces(
            [face for face in closed if face not in holes],
            lambda face: min(cuboid.seen_size(face)),
            self.cross_break,
            shop.profile.cross_break.over,
        )

        def edge(face: str, opening: str) -> Edging:
            name = treatment(self.edges, opening, face)
            return edge_of_opening(shop, "edges", name, cuboid, face, opening)

        def make(way: Arrangement) -> Body:
            return build(shop, cuboid, way, self.seam, edge, holes, wide)

        ways = _ways(frozenset(closed), self.ends)
        turn = self.may_turn(shop)
        body, notes = choose(ways, self.arrangement, make, shop, turn, lambda _: "edges")
        return Made(body.pieces, body.seams(), notes)

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its open faces, each with what is done to most of its edge."""
        cuboid = Cuboid(self.width, self.depth, self.height)
        return tuple(
            OpenEnd(face, treatment(self.edges, face, ""), *cuboid.seen_size(face))
            for face in self.open
        )

    def air_ways(self) -> tuple[AirWay, ...]:
        """The openings cut in its faces."""
        return tuple(
            AirWay(f"{each.face} opening", "opening", diameter=each.width)
            if each.height is None
            else AirWay(f"{each.face} opening", "opening", each.width, each.height)
            for each in self.openings
        )

    def _check_faces(self, closed: list[str]) -> None:
        if not closed:
            raise CannotMake(
                "open", ", ".join(self.open), "leaves no face of metal", "Close one face at least."
            )
        for face in (*(o.face for o in self.openings),):
            if face in self.open:
                raise CannotMake(
                    "openings",
                    face,
                    "is an open face, there is no metal to cut",
                    f"Closed faces: {', '.join(closed)}.",
                )
        for opening, beside in self.edges:
            if opening and opening not in self.open:
                raise CannotMake(
                    "edges",
                    opening,
                    "is a closed face and has no free edge",
                    f"Open faces: {', '.join(self.open) or 'none'}.",
                )
            if beside in self.open:
                raise CannotMake(
                    "edges",
                    f"{opening}/{beside}",
                    "borders two open faces",
                    f"Closed faces: {', '.join(closed)}.",
                )

    def _holes(self, cuboid: Cuboid, shop: Shop) -> Mapping[str, tuple[Hole, ...]]:
        holes: dict[str, tuple[Hole, ...]] = defaultdict(tuple)
        for opening in self.openings:
            holes[opening.face] += (cut_hole(opening, cuboid, shop.profile.unit),)
        return holes


@register
class ReturnBox(Box):
    """A box under a furnace or air handler."""

    kind: ClassVar[str] = "return box"
    also: ClassVar[tuple[str, ...]] = ("return air box",)
    air_side: ClassVar[Literal["supply", "return"]] = "return"
    summary: ClassVar[str] = (
        "A box open at the top with a bearing flange for equipment to stand on: wrap and two ends."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "19", "depth": "24", "height": "16", "openings": "front 14 x 12"},
        {"width": "21", "depth": "27 1/2", "height": "20"},
    )

    edges: Edges = Field(
        default={("", None): "bearing flange"},
        description="What is done to the edges of the open faces.",
    )


@register
class Plenum(Box):
    """A box on top of a furnace or below a coil."""

    kind: ClassVar[str] = "plenum"
    also: ClassVar[tuple[str, ...]] = ("supply plenum", "return plenum")
    summary: ClassVar[str] = (
        "A box open at the bottom with a flange turned out, its sides in one wrap, closed on top."
    )
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "17 1/2", "depth": "20", "height": "24", "openings": "right 14 x 8"},
        {
            "width": "21",
            "depth": "21",
            "height": "36",
            "open": "top, bottom",
            "edges": "bottom: flange out; top: raw",
        },
    )

    open: Faces = Field(default=("bottom",), description="The faces left open.")
    edges: Edges = Field(
        default={("", None): "flange out"},
        description="What is done to the edges of the open faces.",
    )
    ends: Annotated[
        Literal["front and back", "left and right", "top and bottom"],
        BeforeValidator(read_choice),
    ] = Field(default="top and bottom", description="The two faces that close the wrap as ends.")


def _ways(closed: frozenset[str], ends: str) -> tuple[Arrangement, ...]:
    """The arrangements that these faces allow, fewest pieces first."""
    loop = LOOPS[ends]
    runs = _runs(loop, closed)
    caps = tuple(chain("end", face) for face in FACES if face in closed and face not in loop)
    # Neighbours in the loop take turns with the pocket; the ends only have single edges.
    order = (*loop[1::2], *loop[0::2])
    halves = tuple(half for run in runs for half in _halves(run))
    ways = [
        Arrangement("wrap and ends", (*_wraps(runs), *caps), order),
        Arrangement("two wraps", (*_wraps(halves), *caps), order),
        Arrangement(
            "separate sides",
            (*(chain(f"{face} side", face) for run in runs for face in run), *caps),
            order,
        ),
    ]
    if tray := _tray(closed):
        ways.append(Arrangement("one piece", (tray,), order))
    return tuple(ways)


def _wraps(runs: tuple[tuple[str, ...], ...]) -> tuple[Group, ...]:
    return tuple(chain("wrap" if len(run) > 1 else f"{run[0]} side", *run) for run in runs)


def _runs(loop: tuple[str, ...], closed: frozenset[str]) -> tuple[tuple[str, ...], ...]:
    """The faces of the loop that follow each other without an open one between them."""
    start = next((i for i, face in enumerate(loop) if face not in closed), None)
    if start is None:
        return (loop,)
    runs: list[tuple[str, ...]] = []
    run: tuple[str, ...] = ()
    for face in (*loop[start + 1 :], *loop[: start + 1]):
        if face in closed:
            run = (*run, face)
        elif run:
            runs.append(run)
            run = ()
    return tuple(runs)


def _halves(run: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    middle = (len(run) + 1) // 2
    return tuple(half for half in (run[:middle], run[middle:]) if half)


def _tray(closed: frozenset[str]) -> Group | None:
    """All faces bent up from the one opposite the opening; None where a face cannot be reached."""
    for middle in ("bottom", "back", "left", "top", "front", "right"):
        others = [face for face in FACES if face in closed and face != middle]
        if middle in closed and others and opposite(middle) not in others:
            return star("tray", middle, *others)
    return None
