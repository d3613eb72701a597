"""The question: blanks to cut, stock to cut them from, and the rules of the cutting.

All lengths are integers in grid units (1/64 in or 0.1 mm; the engine doesn't care which).
Everything is checked here once, on construction; the rest of the package trusts it.
"""

import math
import operator
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, SupportsIndex, cast, get_args

from nesting.errors import InvalidProblemError

Kind = Literal["sheet", "coil", "offcut"]


MOST = 10_000_000  # keeps sums of areas within 64 bits


def _whole(where: str, value: object, least: int, most: int = MOST) -> int:
    allowed = f"it must be a whole number, {least} to {most:,}"
    if isinstance(value, bool):
        raise InvalidProblemError(where, value, allowed)
    try:
        number = operator.index(cast(SupportsIndex, value))
    except TypeError:
        raise InvalidProblemError(where, value, allowed) from None
    if not least <= number <= most:
        raise InvalidProblemError(where, value, allowed)
    return number


def _money(where: str, value: object) -> float:
    allowed = "it must be a number, 0 or more"
    try:
        number = float(cast(float, value))
    except (TypeError, ValueError):
        raise InvalidProblemError(where, value, allowed) from None
    if not math.isfinite(number) or number < 0:
        raise InvalidProblemError(where, value, allowed)
    return number


def _set(target: object, **values: object) -> None:
    for name, value in values.items():
        object.__setattr__(target, name, value)


def _name(where: str, value: object) -> str:
    if not isinstance(value, str) or not value.strip():
        raise InvalidProblemError(where, value, "it must have a name")
    return value


@dataclass(frozen=True, slots=True)
class Blank:
    """A rectangle to be cut.

    Attributes:
        name: unique within a problem.
        width: size along the stock's width, grid units.
        length: size along the stock's length, grid units.
        qty: copies wanted (of a filler: at most).
        turn: may be turned by 90 degrees; False where the grain matters.
        value: None for a blank that must be cut. A number makes it a filler: optional, cut only
            from room that would else be scrap, the most valuable first.
    """

    name: str
    width: int
    length: int
    qty: int = 1
    turn: bool = True
    value: float | None = None

    def __post_init__(self) -> None:
        name = _name("name of a blank", self.name)
        _set(
            self,
            width=_whole(f'blank "{name}", width', self.width, 1),
            length=_whole(f'blank "{name}", length', self.length, 1),
            qty=_whole(f'blank "{name}", qty', self.qty, 1),
            turn=bool(self.turn),
        )
        if self.value is not None:
            _set(self, value=_money(f'blank "{name}", value', self.value))

    def __str__(self) -> str:
        return self.name

    @property
    def filler(self) -> bool:
        """True for an optional piece."""
        return self.value is not None

    @property
    def area(self) -> int:
        """Area of one copy, square grid units."""
        return self.width * self.length


@dataclass(frozen=True, slots=True)
class Stock:
    """Metal to cut from.

    Attributes:
        name: unique within a problem.
        width: grid units.
        length: grid units; of a coil: the longest piece that may be cut off it.
        cost: of one copy; of a coil: of a piece of the full `length`, a shorter one costs in
            proportion. An offcut that is already paid for costs 0.
        qty: copies at hand; None: as many as needed. Of a coil: pieces of full `length` left on it.
        kind: "sheet", "coil" (a piece is drawn only as long as its blanks need) or "offcut"
            (from the rack: used first at equal cost).
    """

    name: str
    width: int
    length: int
    cost: float
    qty: int | None = None
    kind: Kind = "sheet"

    def __post_init__(self) -> None:
        name = _name("name of a stock size", self.name)
        _set(
            self,
            width=_whole(f'stock "{name}", width', self.width, 1),
            length=_whole(f'stock "{name}", length', self.length, 1),
            cost=_money(f'stock "{name}", cost', self.cost),
        )
        if self.qty is not None:
            _set(self, qty=_whole(f'stock "{name}", qty', self.qty, 0))
        if self.kind not in get_args(Kind):
            allowed = "it must be one of " + ", ".join(get_args(Kind))
            raise InvalidProblemError(f'stock "{name}", kind', self.kind, allowed)

    def __str__(self) -> str:
        return self.name

    @property
    def area(self) -> int:
        """Area of one copy, square grid units."""
        return self.width * self.length

    def cost_of(self, drawn: int) -> float:
        """Cost of one copy of which `drawn` grid units of length are used up."""
        return self.cost * drawn / self.length if self.kind == "coil" else self.cost


@dataclass(frozen=True, slots=True)
class ShearLimits:
    """What the shear can do; every default means no limit.

    Attributes:
        stages: most turns of the cutting direction plus one; trimming a blank free counts too,
            parting a piece from a coil does not.
        first_across: the first cuts run across the width; of a coil the cut that parts the piece
            from it is the first.
        min_strip: least size of the part that lies under the hold-down during a cut.
        max_cut: longest cut.
    """

    stages: int | None = None
    first_across: bool = False
    min_strip: int = 0
    max_cut: int | None = None

    def __post_init__(self) -> None:
        _set(self, min_strip=_whole("shear, min_strip", self.min_strip, 0))
        if self.stages is not None:
            _set(self, stages=_whole("shear, stages", self.stages, 1))
        if self.max_cut is not None:
            _set(self, max_cut=_whole("shear, max_cut", self.max_cut, 1))


@dataclass(frozen=True, slots=True)
class Keep:
    """Which leftover rectangles are offcuts worth keeping; the others are scrap.

    Attributes:
        min_side: least shorter side, grid units.
        min_area: least area, square grid units.
    """

    min_side: int = 1
    min_area: int = 1

    def __post_init__(self) -> None:
        _set(
            self,
            min_side=_whole("keep, min_side", self.min_side, 1),
            min_area=_whole("keep, min_area", self.min_area, 1, MOST**2),
        )

    def worth(self, width: int, length: int) -> bool:
        """True when a leftover of this size goes to the rack."""
        return min(width, length) >= self.min_side and width * length >= self.min_area


@dataclass(frozen=True, slots=True)
class Problem:
    """Blanks, stock and rules; checked as a whole.

    Attributes:
        blanks: at least one; names differ.
        stock: at least one; names differ.
        kerf: width of metal that a cut destroys (0 for a shear).
        trim: unusable edge on all four sides of every stock.
        guillotine: every cut must run from edge to edge. False: the cuts may also end inside, as
            on a plasma table. Layouts of through cuts are allowed then as well, and they are what
            the engine makes; the bound of the plan holds for all layouts.
        shear: limits of the machine.
        keep: which leftovers are worth keeping.
    """

    blanks: Sequence[Blank]
    stock: Sequence[Stock]
    kerf: int = 0
    trim: int = 0
    guillotine: bool = True
    shear: ShearLimits = field(default_factory=ShearLimits)
    keep: Keep = field(default_factory=Keep)

    def __post_init__(self) -> None:
        _set(
            self,
            blanks=tuple(self.blanks),
            stock=tuple(self.stock),
            kerf=_whole("kerf", self.kerf, 0),
            trim=_whole("trim", self.trim, 0),
            guillotine=bool(self.guillotine),
        )
        _members("blanks", self.blanks, Blank)
        _members("stock", self.stock, Stock)
        if self.shear != ShearLimits() and not self.guillotine:
            raise InvalidProblemError("shear", self.shear, "limits of a shear need guillotine=True")


def _members(where: str, members: Sequence[Blank | Stock], wanted: type) -> None:
    if not members:
        raise InvalidProblemError(where, [], "at least one is needed")
    for place, member in enumerate(members, start=1):
        if not isinstance(member, wanted):
            raise InvalidProblemError(f"{where}, no. {place}", member, f"use {wanted.__name__}")
    names = Counter(member.name for member in members)
    doubles = [name for name, count in names.items() if count > 1]
    if doubles:
        allowed = f"the name is used {names[doubles[0]]} times, each must have its own (use qty)"
        raise InvalidProblemError(f"{where}, name", doubles[0], allowed)
