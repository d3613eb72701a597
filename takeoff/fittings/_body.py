"""What boxes, duct and caps decide alike: seams and ends, and what the shop can take."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from takeoff.edges import SLIP_AND_DRIVE, ending, entering, receiving, slip_or_drive
from takeoff.errors import nearest
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import total_width
from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Hole, Piece
from takeoff.settings import EndTreatment, Seam

from ._cuboid import FACES, Cuboid, neighbour, opposite, shared_edge
from ._panels import Body, Group
from .base import CannotMake, Shop

_T = TypeVar("_T")


class HasPieces(Protocol):
    """Anything that can be taken apart into flat pieces."""

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The pieces, in the order of the arrangement's groups."""


_Made = TypeVar("_Made", bound=HasPieces)


@dataclass(frozen=True)
class Arrangement:
    """One way of sharing out the closed faces over pieces.

    Attributes:
        name: as the job list says it.
        groups: the pieces.
        receiving: faces in the order in which they take the pocket of a seam.
    """

    name: str
    groups: tuple[Group, ...]
    receiving: tuple[str, ...]


def build(
    shop: Shop,
    cuboid: Cuboid,
    arrangement: Arrangement,
    seam: str,
    opening_edge: Callable[[str, str], Edging],
    holes: Mapping[str, tuple[Hole, ...]],
    cross_break: frozenset[str],
) -> Body:
    """The body with the profile's seam on all its seams."""
    rule = find_seam(shop, seam)
    return Body(
        cuboid=cuboid,
        groups=arrangement.groups,
        receiving=arrangement.receiving,
        pocket=receiving(rule),
        single=entering(rule),
        seam=seam,
        opening_edge=opening_edge,
        deduction=shop.deduction,
        holes=holes,
        cross_break=cross_break,
    )


def choose(
    ways: Iterable[Arrangement],
    wanted: str,
    make: Callable[[Arrangement], Body],
    shop: Shop,
    turn: bool,
    column_of: Callable[[str], str],
) -> tuple[Body, tuple[str, ...]]:
    """The wanted arrangement, or with `auto` the first that sheets and brake can take.

    Args:
        ways: the arrangements there are, the favoured first.
        wanted: the name of one of them, or `auto`.
        make: the body in an arrangement.
        shop: what sheets and brake can take.
        turn: whether blanks may be turned on the sheet.
        column_of: the column that says what is done to the edges of an open face.

    Returns:
        The body and the sentences that tell what was decided.

    Raises:
        CannotMake: none will do; it says why for the last one tried.
    """

    def checked(way: Arrangement) -> Body:
        body = make(way)
        check_flanges(body, column_of, shop)
        return body

    return first_possible(ways, wanted, checked, shop, turn)


def first_possible(
    ways: Iterable[Arrangement],
    wanted: str,
    make: Callable[[Arrangement], _Made],
    shop: Shop,
    turn: bool,
) -> tuple[_Made, tuple[str, ...]]:
    """As `choose`, for whatever has pieces; `make` may raise CannotMake itself."""
    asked = [way for way in ways if wanted in ("auto", way.name)]
    reasons: list[str] = []
    for way in asked:
        body = make(way)
        refusals = [shop.refusal(piece, turn) for piece in body.pieces]
        reason = next((refusal for refusal in refusals if refusal), None)
        if reason is None:
            notes = (f"Made as {way.name}: {'; '.join(reasons)}.",) if reasons else ()
            return body, notes
        reasons.append(f"as {way.name}, {reason}")
    raise CannotMake(
        "arrangement",
        wanted,
        f"cannot be made: {reasons[-1]}",
        "Stock a larger sheet, split the fitting, or ask for an arrangement of more pieces.",
    )


def find_seam(shop: Shop, name: str) -> Seam:
    """The profile's seam of that name; CannotMake when it has none."""
    return _find(shop.profile.seams, "seam", name)


def find_end(shop: Shop, column: str, name: str) -> EndTreatment:
    """The profile's end treatment of that name; CannotMake when it has none."""
    return _find(shop.profile.ends, column, name, SLIP_AND_DRIVE)


def edge_of_opening(
    shop: Shop, column: str, name: str, cuboid: Cuboid, face: str, opening: str
) -> Edging:
    """The edging of a face where it borders an open one.

    Drive edges go on the short sides of the opening (of a square one: on left and right, or on
    front and back where it has no left and right).
    """
    if name == SLIP_AND_DRIVE:
        here = cuboid.side(face, shared_edge(face, opening))
        across = _span(cuboid, opening, face)
        first_pair = ("front", "back") if opening in {"left", "right"} else ("left", "right")
        name = slip_or_drive(here, across, face in first_pair)
    return ending(name, find_end(shop, column, name))


def check_flanges(body: Body, column_of: Callable[[str], str], shop: Shop) -> None:
    """CannotMake when flanges that turn in leave nothing of an opening between them."""
    unit = shop.profile.unit
    for opening in FACES:
        if opening in body.closed:
            continue
        inward = dict(_inward(body, opening))
        for face, reach in inward.items():
            across = _span(body.cuboid, opening, face)
            twin = inward.get(opposite(face), 0)
            if reach + twin >= across:
                raise CannotMake(
                    column_of(opening),
                    f"a flange {show_with_unit(reach, unit)} wide",
                    f"is wider than the opening: the {opening} is "
                    f"{show_with_unit(across, unit)} across and the flanges take "
                    f"{show_with_unit(reach + twin, unit)}",
                    "Make the flanges narrower or the fitting larger.",
                )


def broad_faces(
    closed: Iterable[str], size: Callable[[str], Length], wish: str, over: Length
) -> frozenset[str]:
    """The faces to be cross-broken: with `yes` all, `no` none, `auto` those wider than `over`."""
    if wish == "auto":
        return frozenset(face for face in closed if size(face) > over)
    return frozenset(closed) if wish == "yes" else frozenset()


def _inward(body: Body, opening: str) -> Iterator[tuple[str, Length]]:
    """The closed faces round an opening whose strips turn in over it, and how far."""
    for edge in range(4):
        face = neighbour(opening, edge)
        if face in body.closed:
            strips = body.opening_edge(face, opening).strips
            if strips and 0 < strips[0].angle < 180:
                yield face, total_width(strips)


def _span(cuboid: Cuboid, opening: str, face: str) -> Length:
    """How wide an opening is, measured away from the face beside it (in)."""
    return cuboid.side(opening, shared_edge(opening, face) + 1)


def _find(table: Mapping[str, _T], column: str, name: str, *more: str) -> _T:
    found = table.get(name.replace(" ", "_"))
    if found is None:
        names = [*(key.replace("_", " ") for key in table), *more]
        raise CannotMake(column, name, "is not in the shop profile", nearest(name, names))
    return found
