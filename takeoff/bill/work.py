"""Shop time: operations counted from the patterns and the cut order, at the shop's rates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from takeoff.blanks import JobBlank, MadeLine
from takeoff.layouts import Layout
from takeoff.lengths import Length
from takeoff.pattern.bending import BendStep, Place
from takeoff.pattern.facets import Forming, Hinge, Notch, Piece, Point, Role
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import NEAR, distance, on_segment, size
from takeoff.settings import Profile

from .cleats import to_make
from .counted import EACH, FOOT, Counted, HardwareLine
from .fasteners import RIVET
from .money import exactly
from .seams import exact, seams

Bends = Mapping[str, Sequence[BendStep]]
"""The order of bends by the blank's name."""
Quantities = dict[str, Fraction]
"""How many of each operation, by its rate; feet for those counted in feet."""

OPERATIONS: Mapping[str, tuple[str, str]] = {
    "sheet": ("sheet brought to the shear", EACH),
    "cut": ("cut of the cut order", EACH),
    "blank": ("blank marked", EACH),
    "notch": ("notch", EACH),
    "slit": ("slit", EACH),
    "contour_ft": ("curve or slant cut with snips", FOOT),
    "opening": ("opening cut", EACH),
    "hole": ("hole drilled or punched", EACH),
    "cross_break": ("side cross-broken", EACH),
    "bend": ("stroke of the brake", EACH),
    "hand_bend": ("bend by hand", EACH),
    "lock_ft": ("edge through the lock former", FOOT),
    "roll": ("piece rolled", EACH),
    "turned_ft": ("edge turned along a curve", FOOT),
    "seam_ft": ("seam closed", FOOT),
    "rivet": ("rivet set", EACH),
    "fitting": ("fitting or joint of duct put together", EACH),
    "cleat": ("cleat or corner angle made", EACH),
}
"""By its rate in the shop profile: what it is called and what it is counted in."""

LARGEST_DRILLED = 1
"""Inches; a larger hole is an opening."""


@dataclass(frozen=True)
class WorkLine:
    """One kind of operation.

    Attributes:
        rate: its name in the shop profile, `rates.minutes`.
        what: what it is.
        qty: how many, or how many feet.
        unit: "each" or "ft".
        each: minutes for one; None where the shop does not know.
    """

    rate: str
    what: str
    qty: Fraction
    unit: str
    each: Fraction | None

    @property
    def minutes(self) -> Fraction | None:
        """For all of them; None where the shop does not know."""
        return None if self.each is None else self.qty * self.each


def work(quantities: Mapping[str, Fraction], profile: Profile) -> tuple[WorkLine, ...]:
    """The operations at the shop's rates, those that do not occur left out."""
    minutes = profile.rates.minutes
    return tuple(
        WorkLine(rate, what, quantities[rate], unit, _exactly(getattr(minutes, rate)))
        for rate, (what, unit) in OPERATIONS.items()
        if quantities.get(rate)
    )


def added(parts: Iterable[Mapping[str, Fraction]]) -> Quantities:
    """The quantities of several counts together."""
    total: Quantities = {}
    for part in parts:
        for rate, qty in part.items():
            total[rate] = total.get(rate, Fraction(0)) + qty
    return total


def at_the_shear(layouts: Iterable[Layout]) -> Quantities:
    """Sheets and cuts of the cut order; trimming all round is four cuts more."""
    sheets, cuts = 0, 0
    for layout in layouts:
        sheets += layout.count
        cuts += layout.count * (len(layout.cuts) + (4 if layout.trim else 0))
    return {"sheet": Fraction(sheets), "cut": Fraction(cuts)}


def at_the_bench(made: MadeLine, bends: Bends) -> Quantities:
    """What all copies of a row take from the cut blank to the finished fitting."""
    qty = made.line.qty
    closed = sum((sum(each, Fraction(0)) for each in seams(made.made).values()), Fraction(0))
    together = 1 + len(made.made.joints) if len(made.made.pieces) > 1 or closed else 0
    whole = {"seam_ft": closed / 12 * qty, "fitting": Fraction(together * qty)}
    return added([whole, *(_of_blank(blank, bends[blank.name]) for blank in made.blanks)])


def beside(job: Counted, hardware: Iterable[HardwareLine]) -> Quantities:
    """Rivets to set, and the cleats to make that no row of the job makes."""
    rivets = sum((line.qty for line in hardware if line.what == RIVET), Fraction(0))
    cleats = sum(each.qty - ready for each, ready in to_make(job))
    return {"rivet": rivets, "cleat": Fraction(cleats)}


def _exactly(minutes: float | None) -> Fraction | None:
    return None if minutes is None else exactly(minutes)


def _of_blank(blank: JobBlank, order: Sequence[BendStep]) -> Quantities:
    """What all copies of a blank take."""
    piece, shape = blank.piece, outline(blank.piece)
    by_hand = [step for step in order if step.place is Place.BY_HAND]
    curves = [hinge for step in by_hand if step.curved for hinge in step.hinges]
    drilled = sum(
        hole.diameter is not None and float(hole.diameter) <= LARGEST_DRILLED
        for hole in piece.holes
    )
    one = {
        "blank": 1,
        "notch": len(piece.notches),
        "slit": len(shape.slits),
        "opening": len(piece.holes) - drilled,
        "hole": drilled,
        "cross_break": len(piece.cross_break),
        "bend": sum(step.place is not Place.BY_HAND for step in order),
        "hand_bend": sum(len(step.lines) for step in by_hand if not step.curved),
        "roll": int(any(_rolled(piece, hinge, Role.FACE) for hinge in piece.hinges)),
    }
    lengths = {
        "contour_ft": _contour(piece),
        "lock_ft": _length(h for h in piece.hinges if h.forming is Forming.LOCK_FORMER),
        "turned_ft": _length([*curves, *(h for h in piece.hinges if _turned(piece, h))]),
    }
    return {
        **{rate: Fraction(count * blank.qty) for rate, count in one.items()},
        **{rate: inches / 12 * blank.qty for rate, inches in lengths.items()},
    }


def _rolled(piece: Piece, hinge: Hinge, role: Role) -> bool:
    return hinge.forming is Forming.ROLL and piece.facet(hinge.child).role is role


def _turned(piece: Piece, hinge: Hinge) -> bool:
    return _rolled(piece, hinge, Role.END) or _rolled(piece, hinge, Role.SEAM)


def _length(hinges: Iterable[Hinge]) -> Fraction:
    """Of bend lines together (in)."""
    return sum((exact(distance(hinge.start, hinge.end)) for hinge in hinges), Fraction(0))


def _contour(piece: Piece) -> Fraction:
    """What is left to cut of the outline when the rectangle is sheared and the notches are out."""
    shape = outline(piece)
    left, low = shape.corner
    walls: tuple[tuple[int, Length], ...] = (
        *((0, at) for at in (left, left + shape.width)),
        *((1, at) for at in (low, low + shape.length)),
    )
    cut = Fraction(0)
    for a, b in _sides(shape.points):
        sheared = any(size(a[way] - at) < NEAR and size(b[way] - at) < NEAR for way, at in walls)
        if not sheared and not any(_on(notch, a, b) for notch in piece.notches):
            cut += exact(distance(a, b))
    return cut


def _on(notch: Notch, a: Point, b: Point) -> bool:
    """Whether the middle of an edge lies on the boundary of a notch."""
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    return any(distance(p, q) > NEAR and on_segment(middle, p, q) for p, q in _sides(notch.points))


def _sides(points: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(points, (*points[1:], points[0]), strict=True)
