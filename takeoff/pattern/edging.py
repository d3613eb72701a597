"""What an edge carries: its strips, and how they give way where two edges meet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from takeoff.lengths import Length

from .allowances import Strip, Trim
from .facets import Role


class Meeting(StrEnum):
    """How the strips of two pieces meet in the corner of an opening."""

    SQUARE = "square"
    MITRE = "mitre"
    LAP = "lap"


@dataclass(frozen=True)
class Edging:
    """The strips of one edge.

    Args:
        strips: outward from the edge; none for a raw edge.
        slope: how steeply the strips are cut back where the edge ends in a bend line: inches of
            the edge for an inch of strip. 1 is the 45 degree cut, 0 leaves the end square.
        meeting: how they meet the strips of another piece in an opening's corner.
        name: the treatment or the half of the seam, as the papers call it.
    """

    strips: tuple[Strip, ...] = ()
    slope: Length = 0
    meeting: Meeting = Meeting.SQUARE
    name: str = "raw"


RAW = Edging()


def flat(edging: Edging, deduction: Callable[[float], Length]) -> Edging:
    """The edging with its finished strip widths turned into flat ones.

    Args:
        edging: strips as they measure when bent.
        deduction: what a brake bend of so many degrees shortens the flat by (in).
    """
    if not edging.strips:
        return edging
    bends = [*(strip_deduction(strip, deduction) for strip in edging.strips), Fraction(0)]
    strips = tuple(
        replace(strip, width=strip.width - (bends[i] + bends[i + 1]) / 2, deduction=bends[i])
        for i, strip in enumerate(edging.strips)
    )
    return replace(edging, strips=strips)


def strip_deduction(strip: Strip, deduction: Callable[[float], Length]) -> Length:
    """The deduction of a strip's bend. A fold-over (hem, drive) is set flat: its width is flat.

    What a seam adds is the shop's own allowance for it, bends and all: nothing is taken off.
    """
    if strip.role is Role.SEAM or abs(strip.angle) == 180:
        return Fraction(0)
    return deduction(abs(strip.angle))


def sloped(strips: Sequence[Strip], slope: Length, begin: Length = 0) -> tuple[Trim, ...]:
    """One slanted cut through all strips, starting `begin` in from the end of the edge."""
    trims: list[Trim] = []
    for strip in strips:
        end = begin + strip.width * slope
        trims.append(Trim(begin, end))
        begin = end
    return tuple(trims)


def trims_at_seam(mine: Edging, other: Edging, on_top: bool) -> tuple[Trim, ...]:
    """The trims where my strips meet another piece's in the corner of an opening.

    Lapped strips lie one on the other, so that the corner can be riveted: the first strip stays
    square on both, the further ones (lips) give way, a whole strip on the piece that lies on top.
    """
    if not other.strips or mine.meeting is Meeting.SQUARE:
        return ()
    if mine.meeting is Meeting.MITRE:
        return sloped(mine.strips, 1)
    begin: Length = other.strips[0].width if on_top else Fraction(0)
    return (Trim(), *sloped(mine.strips[1:], 1, begin))
