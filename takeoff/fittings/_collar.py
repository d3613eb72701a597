"""Round ends of cones: a straight collar lapped on, or the cone's own edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from takeoff.lengths import Length
from takeoff.pattern.edging import Edging

from ._circle import Axis
from ._flange import level, lying_on
from ._round import Joint, cut_evenly, fewest, lapped
from ._round_ends import along_rim, end_note, lap_of, rim_edging
from ._shell import Closing, EdgeName, Rim, Ring, Shell, staves
from .base import Shop


@dataclass(frozen=True)
class RoundEnd:
    """A round end of a cone.

    Attributes:
        column: the column that says how its edge is treated.
        where: the end in a sentence: `the small end`.
        treatment: what is done to its edge.
        diameter: in.
        axis: of the end, from where the collar meets the cone.
        rim: of the cone.
        collar: length of its straight collar; 0 without one.
    """

    column: str
    where: str
    treatment: str
    diameter: Length
    axis: Axis
    rim: Rim
    collar: Length


@dataclass(frozen=True)
class Ends:
    """What the round ends of a cone come to.

    Attributes:
        rims: what the cone's own edges carry.
        collars: the collars.
        joints: their seams to the cone.
        notes: sentences.
    """

    rims: Mapping[EdgeName, Edging] = field(default_factory=dict)
    collars: tuple[Shell, ...] = ()
    joints: tuple[Joint, ...] = ()
    notes: tuple[str, ...] = ()


def finish(
    shop: Shop,
    cone: Ring,
    place: int,
    seam: Closing,
    ends: Sequence[RoundEnd],
    turn: bool,
    first: int,
) -> Ends:
    """The cone's round ends, with collars where they are asked for or an end goes into the next.

    Args:
        shop: whose allowances count.
        cone: the ring the ends are on.
        place: the cone's place among the fitting's shells.
        seam: along the collars.
        ends: the round ends.
        turn: whether blanks may be turned on the sheet.
        first: the place of the first collar among the fitting's shells.
    """
    rims: dict[EdgeName, Edging] = {}
    collars: list[Shell] = []
    joints: list[Joint] = []
    notes: list[str] = []
    for end in ends:
        edging = rim_edging(shop, end.column, end.treatment, end.diameter)
        notes += end_note(shop, end.where, end.treatment)
        if not end.collar + lap_of(shop, end.treatment):
            rims |= lying_on(cone, cone.rim(end.rim), edging, level)
            continue
        collar, told = _collar(shop, cone, seam, end, edging, turn)
        joints.append(("lap", first + len(collars), facing(end.rim), place, end.rim))
        collars.append(collar)
        notes += told
    return Ends(rims, tuple(collars), tuple(joints), tuple(notes))


def facing(rim: Rim) -> Rim:
    """The rim that meets it."""
    return "lower" if rim == "upper" else "upper"


def _collar(
    shop: Shop, cone: Ring, seam: Closing, end: RoundEnd, edging: Edging, turn: bool
) -> tuple[Shell, tuple[str, ...]]:
    """A collar that continues the cone beyond its rim, lapped on the cone."""
    length = float(end.collar + lap_of(shop, end.treatment))
    low, high = (0.0, length) if end.rim == "upper" else (-length, 0.0)
    count = len(cone.rim(end.rim))
    ring = staves(
        "collar",
        end.axis.ring(end.diameter, count, low),
        end.axis.ring(end.diameter, count, high),
    )
    met = facing(end.rim)
    rims = {
        **along_rim(ring.rim(end.rim), edging),
        **lapped(shop, ring, met, cone, end.rim),
    }
    (shell,), told = fewest(
        None, lambda pieces: [Shell(cut_evenly(ring, pieces), seam, rims)], shop, turn
    )
    return shell, told
