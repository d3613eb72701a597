"""The flat pattern of one piece: flat facets joined at bend lines, with strips for seams and ends.

The sheet lies with the inside of the finished fitting up, x to the right and y away from the
reader. A positive bend angle lifts the metal up, towards the inside; a negative one presses it
down, towards the outside. Lengths are inches.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from takeoff.lengths import Length

if TYPE_CHECKING:
    from .outline import Outline

Point = tuple[Length, Length]
Point3 = tuple[Length, Length, Length]


class Role(StrEnum):
    """What the metal of a facet is for in the finished fitting."""

    FACE = "face"
    SEAM = "seam"
    END = "end"


class Forming(StrEnum):
    """How a bend line is formed."""

    BRAKE = "brake"
    LOCK_FORMER = "lock former"
    ROLL = "roll"
    HAND = "hand"


class NotchKind(StrEnum):
    """The shapes of metal cut away before bending."""

    CORNER = "corner notch"
    V = "V notch"
    TRIM = "45 degree trim"
    STEP = "step notch"
    SLANT = "slant notch"


@dataclass(frozen=True)
class Facet:
    """A flat polygon of the pattern; corners run counter-clockwise, in sheet coordinates."""

    name: str
    corners: tuple[Point, ...]
    role: Role = Role.FACE
    label: str = ""


@dataclass(frozen=True)
class Hinge:
    """A bend line from `start` to `end`, counter-clockwise along the parent's boundary.

    Args:
        parent: name of the facet nearer the root.
        child: name of the facet that turns about the line.
        start: one end of the line, on the sheet.
        end: the other end.
        angle: degrees from flat, positive towards the inside of the fitting.
        deduction: what the bend shortens the flat by against the sum of the mould lines; half of
            it is taken from the facet on either side.
        forming: the tool that makes the bend.
    """

    parent: str
    child: str
    start: Point
    end: Point
    angle: float
    deduction: Length = 0.0
    forming: Forming = Forming.BRAKE


@dataclass(frozen=True)
class Hole:
    """A cut-out in a facet: its boundary, and the exact circle where it is round.

    Args:
        facet: the facet it is cut in.
        points: boundary in sheet coordinates (for a circle, points on it).
        label: what goes in, for the papers.
        centre: centre of a round hole.
        diameter: of a round hole.
    """

    facet: str
    points: tuple[Point, ...]
    label: str = "opening"
    centre: Point | None = None
    diameter: Length | None = None


@dataclass(frozen=True)
class Notch:
    """Metal cut away from the blank's rectangle: its boundary and how the papers call it."""

    kind: NotchKind
    points: tuple[Point, ...]
    facet: str


@dataclass(frozen=True)
class Piece:
    """One piece of metal: its flat pattern and where its faces must end up when folded.

    The first facet is the root, the hinges form a tree over the facets.

    Args:
        name: what the bench calls it: `wrap`, `end`, `cheek`.
        facets: root first.
        hinges: the bend lines, parents before children.
        holes: cut-outs.
        notches: what is cut away at strip corners before bending.
        finished: for each face facet the corners it must reach in the fitting's own space,
            in the order of the facet's corners.
        cross_break: names of the faces to be cross-broken.
        closing: bend lines between facets that the tree has placed already, as in a folded corner;
            they are bent like the others and the metal is not cut there.

    Attributes:
        kept: its outline, once `outline` has worked it out: everything asks for it, and exact
            arithmetic takes its time.
    """

    name: str
    facets: tuple[Facet, ...]
    hinges: tuple[Hinge, ...] = ()
    holes: tuple[Hole, ...] = ()
    notches: tuple[Notch, ...] = ()
    finished: Mapping[str, tuple[Point3, ...]] = field(default_factory=dict)
    cross_break: tuple[str, ...] = ()
    closing: tuple[Hinge, ...] = ()
    kept: list[Outline] = field(default_factory=list, init=False, compare=False, repr=False)

    @property
    def root(self) -> Facet:
        """The facet that stays on the table when the piece is folded."""
        return self.facets[0]

    @property
    def bends(self) -> tuple[Hinge, ...]:
        """Every bend line: those of the tree and those that close it."""
        return self.hinges + self.closing

    def called(self, name: str) -> Piece:
        """The piece under another name."""
        renamed = replace(self, name=name)
        renamed.kept.extend(self.kept)
        return renamed

    def facet(self, name: str) -> Facet:
        """The facet of that name; KeyError when there is none."""
        for facet in self.facets:
            if facet.name == name:
                return facet
        raise KeyError(name)
