"""What round fittings decide alike: seams, ends, collars, and how many pieces go round."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from takeoff.edges import entering, receiving
from takeoff.lengths import Length, show_with_unit
from takeoff.pattern.allowances import Strip
from takeoff.pattern.edging import RAW, Edging
from takeoff.pattern.facets import Piece
from takeoff.pattern.mating import Seam
from takeoff.pattern.outline import lies_simple

from ._body import find_seam
from ._circle import OFF_TRUE, off_round
from ._least import at_least
from ._round_ends import rolled
from ._shell import (
    Closing,
    EdgeName,
    Placed,
    Rim,
    Ring,
    Shell,
    even_cuts,
    joined,
    lap_angles,
)
from .base import CannotMake, Shop

MOST_PIECES = 4


def closing(shop: Shop, name: str, column: str = "seam") -> Closing:
    """The profile's seam for two edges that lie in one smooth surface.

    A lap stays in the surface; of two hooks one is turned in and the other out; edges that stand
    up stand on the outside. CannotMake, for the column, when the profile has no such seam.
    """
    try:
        rule = find_seam(shop, name)
    except CannotMake as unknown:
        raise CannotMake(column, name, unknown.problem, unknown.allowed) from unknown
    receives, enters = receiving(rule), entering(rule)
    if not rule.single:
        receives = bent(receives, 0)
    elif abs(rule.pocket_angle) == abs(rule.single_angle) == 180:
        receives, enters = bent(receives, 180), bent(enters, -180)
    elif rule.pocket_angle == rule.single_angle == 90:
        receives, enters = bent(receives, -90), bent(enters, -90)
    return Closing(name, receives, enters)


def coarse_note(shop: Shop, diameter: Length, count: int) -> tuple[str, ...]:
    """A warning where the divisions are so few that the flats show."""
    off = off_round(diameter, count)
    if off <= OFF_TRUE:
        return ()
    unit = shop.profile.unit
    return (
        f"{count} divisions are coarse: its flats lie up to {show_with_unit(off, unit, 64)} "
        f"inside the true round of {show_with_unit(diameter, unit)}.",
    )


def bent(edging: Edging, angle: float) -> Edging:
    """The edging with its first strip bent by another angle."""
    if not edging.strips:
        return RAW
    first, *others = edging.strips
    turned: Strip = replace(first, angle=angle)
    return replace(edging, strips=(turned, *others))


def turned(closing: Closing) -> Closing:
    """The seam with both its edges turned on a rotary machine."""
    return Closing(closing.kind, rolled(closing.receiving), rolled(closing.entering))


def lapped(shop: Shop, ring: Ring, rim: Rim, onto: Ring, its_rim: Rim) -> dict[EdgeName, Edging]:
    """A lap on the edges of a rim, bent to lie on the shell that it is riveted to."""
    pattern = rolled(receiving(find_seam(shop, "lap")))
    return {
        edge: replace(bent(pattern, angle), slope=1 if angle > 0 else 0)
        for edge, angle in lap_angles(ring, rim, onto, its_rim).items()
    }


def fewest(
    wanted: int | None,
    make: Callable[[int], Sequence[Shell]],
    shop: Shop,
    turn: bool,
    column: str = "pieces",
) -> tuple[tuple[Shell, ...], tuple[str, ...]]:
    """The shells in the wanted number of pieces round, or in the fewest that can be made.

    Returns:
        The shells and the sentence that tells why they are in more than one piece.

    Raises:
        CannotMake: no number of pieces will do.
    """
    reasons: list[str] = []
    for count in (wanted,) if wanted else range(1, MOST_PIECES + 1):
        shells = tuple(make(count))
        reason = _refused([piece for shell in shells for piece in shell.pieces], shop, turn)
        if reason is None:
            told = (
                f"Made in {count} pieces round: in {count - 1}, {reasons[-1]}." if reasons else ""
            )
            return shells, (told,) if told else ()
        reasons.append(reason)
    raise CannotMake(
        column,
        str(wanted or "auto"),
        f"cannot be made: {reasons[-1]}",
        "Stock a larger sheet, split the fitting, ask for more pieces or for narrower ends.",
    )


def cut_evenly(ring: Ring, pieces: int, begin: int = 0) -> Ring:
    """The ring cut into equal pieces."""
    return replace(ring, cuts=even_cuts(len(ring.patches), pieces, begin))


Joint = tuple[str, int, Rim, int, Rim]
"""A seam from shell to shell: its kind, the shell that receives and its rim, and the other's."""


def seams_of(
    shells: Sequence[Shell], joints: Sequence[Joint]
) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """The pieces of shells in a row, and their seams.

    Args:
        shells: in the order their pieces are listed.
        joints: between which of them.
    """
    pieces: list[Piece] = []
    first: list[int] = []
    seams: list[Seam] = []
    for shell in shells:
        first.append(len(pieces))
        seams += shell.seams(len(pieces))
        pieces += shell.pieces
    for kind, mine, rim, other, its_rim in joints:
        seams += joined(
            kind,
            Placed(shells[mine].ring, first[mine], rim),
            Placed(shells[other].ring, first[other], its_rim),
        )
    return tuple(pieces), tuple(seams)


def between_collars(shop: Shop, length: Length, *collars: Length) -> Length:
    """What collars leave of a fitting's length over all; CannotMake when nothing."""
    rest = length - sum(collars)
    if rest <= 0:
        unit = shop.profile.unit
        longer = 1 if collars[0] >= collars[1] else 2
        raise CannotMake(
            f"collar_{longer}",
            show_with_unit(collars[longer - 1], unit),
            f"leaves nothing of a fitting {show_with_unit(length, unit)} long over all",
            f"Collars of less than {show_with_unit(length, unit)} together would be allowed.",
        )
    return rest


def check_slope(shop: Shop, length: Length, collars: Length, run: Length, what: str) -> None:
    """CannotMake when a side leans more from the run than the profile allows.

    Args:
        shop: whose steepest slope counts.
        length: of the fitting over all (in).
        collars: what straight collars take of it (in).
        run: how far the side leans over (in).
        what: the side, for the sentence.
    """
    steepest = shop.profile.slope.steepest
    least = float(run) / math.tan(math.radians(steepest))
    if float(length - collars) < least - 1e-9:
        unit = shop.profile.unit
        angle = math.degrees(math.atan2(float(run), float(length - collars)))
        raise CannotMake(
            "length",
            show_with_unit(length, unit),
            f"is too short: {what} leans {angle:.0f} degrees from the run, the shop profile "
            f"allows {steepest:g}",
            f"{at_least(least + float(collars), unit)} or more would be allowed.",
        )


def check_pieces(
    pieces: Sequence[Piece], shop: Shop, turn: bool, column: str, value: Length
) -> None:
    """CannotMake, for a dimension, when the sheets or the brake cannot take a piece."""
    if (reason := _refused(pieces, shop, turn)) is not None:
        raise CannotMake(
            column,
            show_with_unit(value, shop.profile.unit),
            f"cannot be made: {reason}",
            "Stock a larger sheet or make the fitting smaller.",
        )


def _refused(pieces: Sequence[Piece], shop: Shop, turn: bool) -> str | None:
    for piece in pieces:
        if (refusal := shop.refusal(piece, turn)) is not None:
            return refusal
        if not lies_simple(piece):
            return f"{piece.name} would lie over itself on the sheet"
    return None
