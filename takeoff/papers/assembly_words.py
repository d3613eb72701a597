"""How a fitting is put together, step by step, and what the bench must watch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from takeoff.bill.counted import EACH, count
from takeoff.bill.hangers import hanger_lines
from takeoff.bill.rivets import corner_rivets
from takeoff.blanks import JobBlank, MadeLine
from takeoff.edges import SLIP_AND_DRIVE
from takeoff.fittings.base import Cutout, OpenEnd
from takeoff.lengths import Length, Unit, show_exactly
from takeoff.pattern.bending import BendStep, Place
from takeoff.pattern.facets import Forming

from .seam_words import closing_text, closings

if TYPE_CHECKING:
    from takeoff.settings import Profile

Bends = Mapping[str, Sequence[BendStep]]
"""The order of bends by the blank's name."""

SEAL = (
    "Seal every seam and joint with a duct sealant or tape listed for it; the bill tells how much "
    "the whole job takes."
)


def steps(made: MadeLine, bends: Bends, profile: Profile) -> Iterator[str]:
    """The order of assembly, in sentences."""
    yield "Shear the blanks, cut notches, slits and cut-outs, mark the bends: see the layout cards."
    locked = [b.piece.name for b in made.blanks if _formed(b, Forming.LOCK_FORMER)]
    if locked:
        yield f"Run the pockets through the lock former: {_names(locked)}."
    rolled = [b.piece.name for b in made.blanks if _rolled(b)]
    if rolled:
        yield f"Roll: {_names(rolled)}."
    bent = [blank.piece.name for blank in made.blanks if bends[blank.name]]
    if bent:
        yield f"Bend in the order on the layout cards: {_names(bent)}."
    for closing in closings(made.made):
        yield closing_text(closing)
    if rivets := corner_rivets(made.made, profile.ends):
        yield f"Rivet the lapped corners of the flange: {rivets} rivets in all."
    for item in made.made.hardware:
        note = f", {item.note}" if item.note else ""
        yield f"Fit {item.qty} x {item.what}{note}."
    if made.made.seams:
        yield SEAL


def hanging(made: MadeLine, profile: Profile, unit: Unit) -> Iterator[str]:
    """What carries all copies of a row: `2 x hanger (...): a run of 142 in, ...`."""
    for line in hanger_lines(count((made,), profile, unit)):
        if line.qty:
            much = f"{line.qty} x" if line.unit == EACH else f"{float(line.qty):.1f} {line.unit} of"
            detail = f" ({line.detail})" if line.detail else ""
            yield f"{much} {line.what}{detail}: {line.why}."


def warnings(made: MadeLine, bends: Bends) -> Iterator[str]:
    """The bends that the brake cannot simply make, by piece."""
    for blank in made.blanks:
        name = blank.name.removeprefix(made.line.mark).strip()
        for place in (Place.END, Place.FINGERS, Place.BY_HAND):
            numbers = [
                str(number)
                for number, step in enumerate(bends[blank.name], 1)
                if step.place == place
            ]
            if numbers:
                bend = "bend" if len(numbers) == 1 else "bends"
                yield f"{name}: {bend} {', '.join(numbers)} {place}."


def end_text(end: OpenEnd, unit: Unit) -> str:
    """An open end, its size, what is done to it and what it is joined with."""
    size = _size(end, unit)
    return f"{end.name}, {size}: {end.treatment}{_joined_with(end, unit)}"


def cutout_text(cutout: Cutout, unit: Unit) -> str:
    """The hole a branch needs, in words."""
    if cutout.diameter is not None:
        size = f"round {show_exactly(cutout.diameter, unit)}"
    else:
        xs, ys = zip(*cutout.points, strict=True)
        width, length = max(xs) - min(xs), max(ys) - min(ys)
        size = f"{show_exactly(width, unit)} x {show_exactly(length, unit)}"
    note = f": {cutout.note}" if cutout.note else ""
    return f"{cutout.name}, {size}{note}"


def _size(end: OpenEnd, unit: Unit) -> str:
    if end.width is None or end.height is None:
        return f"round {show_exactly(end.diameter or Fraction(0), unit)}"
    return f"{show_exactly(end.width, unit)} x {show_exactly(end.height, unit)}"


def _joined_with(end: OpenEnd, unit: Unit) -> str:
    """The cleats of a rectangular joint of the usual kinds."""
    if end.width is None or end.height is None:
        return ""
    short, long = sorted((end.width, end.height))

    def told(length: Length) -> str:
        return f"{show_exactly(length, unit)} {unit.name}"

    match end.treatment:
        case _ if end.treatment == SLIP_AND_DRIVE:
            return (
                f"; join with 2 S slips on the {told(long)} sides, then drive 2 cleats on the "
                f"{told(short)} sides and fold their tails over"
            )
        case "flange out":
            return "; bolt or screw it through the flange, gasket between"
        case "bearing flange":
            feet = float(2 * (short + long)) / 12
            return f"; {feet:.1f} ft of gasket tape on it, under what it carries"
        case _:
            return ""


def _formed(blank: JobBlank, forming: Forming) -> bool:
    return any(hinge.forming is forming for hinge in blank.piece.bends)


def _rolled(blank: JobBlank) -> bool:
    """Whether the piece itself goes through the rolls, not only a strip of it."""
    piece = blank.piece
    return any(h.forming is Forming.ROLL and not piece.facet(h.child).label for h in piece.bends)


def _names(names: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(names))
