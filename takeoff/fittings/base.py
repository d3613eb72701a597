"""What every fitting is: a card of trade dimensions, and the way from them to pieces.

A family is one file in this folder with one class derived from `Fitting`; the decorator
`register` makes it known.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, ClassVar, Literal, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from takeoff.errors import InvalidLength, TakeoffError
from takeoff.lengths import ACCEPTED, INCH, Length, parse, show_with_unit
from takeoff.materials import SheetMetal
from takeoff.pattern.facets import Forming, Piece, Point
from takeoff.pattern.mating import Seam
from takeoff.pattern.outline import outline
from takeoff.pattern.plane import distance
from takeoff.settings import Profile

LONGEST = 600
"""Inches; a dimension above 50 feet is a slip of the pen or of the unit."""


def read_size(value: object, info: ValidationInfo) -> Fraction:
    """A length in the job's unit (validation context `unit`, inches without one)."""
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, str | int | float):
        raise InvalidLength(value, f"write it as {ACCEPTED}.")
    return parse(value, (info.context or {}).get("unit", INCH))


Size = Annotated[Fraction, BeforeValidator(read_size), Field(gt=0, le=LONGEST)]
"""A dimension of a fitting: more than zero, held in inches."""


def plain(text: str) -> str:
    """A name as people type it, made plain: case, hyphens and underscores don't matter."""
    return " ".join(text.replace("_", " ").replace("-", " ").casefold().split())


def read_choice(value: object) -> object:
    """A named choice made plain; what is no text is left for the field to refuse."""
    return plain(value) if isinstance(value, str) else value


def read_marks(value: object) -> object:
    """The marks that a cell lists, parted by commas or semicolons."""
    if not isinstance(value, str):
        return value
    marks = (mark.strip() for mark in value.replace(",", ";").split(";"))
    return tuple(dict.fromkeys(mark for mark in marks if mark))


class CannotMake(TakeoffError, ValueError):
    """Dimensions that are each allowed and together make no fitting.

    Attributes:
        column: the dimension or option that must change.
        value: what it is now.
        problem: the rest of a sentence: "is wider than the opening".
        allowed: what would be allowed, as a sentence.
    """

    def __init__(self, column: str, value: str, problem: str, allowed: str) -> None:
        self.column = column
        self.value = value
        self.problem = problem
        self.allowed = allowed
        super().__init__(f'"{column}": {value} {problem}. {allowed}')


@dataclass(frozen=True)
class Shop:
    """What a fitting must know of the shop that makes it.

    Attributes:
        profile: its allowances and machines.
        metal: the sheet it is made of.
        sheets: usable sizes of the stock in that metal, width by length (in); trim taken off.
    """

    profile: Profile
    metal: SheetMetal
    sheets: tuple[tuple[Length, Length], ...]

    def deduction(self, angle: float) -> Length:
        """What a bend of so many degrees shortens the flat by (in)."""
        return self.profile.bend.deduction(angle, self.metal.thickness)

    def refusal(self, piece: Piece, turn: bool) -> str | None:
        """Why the stock or the brake cannot take a piece; None when they can."""
        shape = outline(piece)
        unit = self.profile.unit
        size = f"{show_with_unit(shape.width, unit)} x {show_with_unit(shape.length, unit)}"
        ways = [(shape.width, shape.length)]
        if turn:
            ways.append((shape.length, shape.width))
        if not any(w <= sw and n <= sl for w, n in ways for sw, sl in self.sheets):
            return f"{piece.name} is {size} flat, larger than every sheet in stock"
        brake = self.profile.brake.length
        for hinge in piece.hinges:
            bend = distance(hinge.start, hinge.end)
            if hinge.forming is Forming.BRAKE and bend > brake:
                return (
                    f"{piece.name} has a bend {show_with_unit(bend, unit)} long, "
                    f"the brake takes {show_with_unit(brake, unit)}"
                )
        return None


@dataclass(frozen=True)
class Hardware:
    """Something bought or made beside the sheet metal: how many of what, and where it goes."""

    what: str
    qty: int
    note: str = ""


@dataclass(frozen=True)
class Cutout:
    """The hole that a branch needs in the fitting it goes into.

    Attributes:
        name: what goes in.
        points: its boundary on the parent's flat sheet, centred on the branch's axis (in).
        diameter: of a round hole (in).
        note: how to place it.
    """

    name: str
    points: tuple[Point, ...]
    diameter: Length | None = None
    note: str = ""


@dataclass(frozen=True)
class OpenEnd:
    """An open end of a fitting, where another fitting can be joined to it.

    Attributes:
        name: what the family calls it: `end 1`, `branch`, `top`.
        treatment: what is done to its edge: the name of an end in the shop profile (with blanks,
            not underscores), or "slip and drive".
        width: of a rectangular end (in).
        height: of a rectangular end (in).
        diameter: of a round end (in), and then no width and height.
    """

    name: str
    treatment: str
    width: Length | None = None
    height: Length | None = None
    diameter: Length | None = None


@dataclass(frozen=True)
class AirWay:
    """Where air passes beside the open ends: an opening cut in a side, or a filter held inside.

    Attributes:
        name: what the family calls it: `front opening`, `filter`.
        kind: which of the two it is.
        width: of a rectangular one (in); of a filter its nominal width.
        height: of a rectangular one (in).
        diameter: of a round one (in), and then no width and height.
    """

    name: str
    kind: Literal["opening", "filter"]
    width: Length | None = None
    height: Length | None = None
    diameter: Length | None = None


@dataclass(frozen=True)
class Made:
    """A fitting taken apart.

    Attributes:
        pieces: every piece of metal, equal ones each for itself.
        seams: where they are joined.
        notes: what was decided for the person, in sentences.
        hardware: what else one copy needs.
        cutouts: the holes its branches need in other fittings.
        joints: the joints inside it, between sections of one run.
    """

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    notes: tuple[str, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    cutouts: tuple[Cutout, ...] = ()
    joints: tuple[OpenEnd, ...] = ()


class Fitting(BaseModel, ABC):
    """A fitting's card: its fields are the dimensions and options of the job list.

    Every field has a description (one sentence) and limits; they feed the job reader, the
    catalogue and the forms.

    Attributes:
        kind: its name on the job list.
        also: other names people write.
        summary: one sentence for the catalogue.
        examples: rows as people write them, each a valid fitting.
        air_side: of the air handler that it is on, unless a job list says otherwise.
        measured: fields that may be left blank and make it what it is all the same; a form has
            them among the sizes.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: ClassVar[str]
    also: ClassVar[tuple[str, ...]] = ()
    summary: ClassVar[str]
    examples: ClassVar[tuple[Mapping[str, str], ...]]
    air_side: ClassVar[Literal["supply", "return"]] = "supply"
    measured: ClassVar[tuple[str, ...]] = ()

    turn: bool | None = Field(
        default=None,
        description="Whether its blanks may be turned a quarter on the sheet (yes or no); "
        "the shop profile decides where this is blank.",
    )
    connects_to: Annotated[tuple[str, ...], BeforeValidator(read_marks)] = Field(
        default=(),
        description="Marks of the fittings that its open ends join, such as: D1; D2.",
    )

    @abstractmethod
    def make(self, shop: Shop) -> Made:
        """The pieces and seams of one copy.

        Raises:
            CannotMake: the dimensions do not go together, or nothing in the shop can take a piece.
        """

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """Its open ends, for the check of `connects_to` and the count of joints; none by default.

        A family with open ends states each once, with the finished inside size of the opening
        and the treatment of its edge as the card has it.
        """
        return ()

    def air_ways(self) -> tuple[AirWay, ...]:
        """Its openings and filters, for the air check; none by default."""
        return ()

    def doubts(self) -> tuple[str, ...]:
        """What is odd about it though it can be made: clauses without a full stop."""
        return ()

    def may_turn(self, shop: Shop) -> bool:
        """Whether its blanks may be turned on the sheet."""
        return shop.profile.grain.turn if self.turn is None else self.turn


REGISTRY: dict[str, type[Fitting]] = {}
"""Families by name; filled as their files are imported (see `takeoff.fittings.families`)."""

_Family = TypeVar("_Family", bound=type[Fitting])


def register(family: _Family) -> _Family:
    """Class decorator: makes a family known under its name; ValueError for a name given twice."""
    if family.kind in REGISTRY:
        raise ValueError(f"there are two fittings called {family.kind!r}")
    REGISTRY[family.kind] = family
    return family
