"""The answer: sheets with blanks on them, what it costs, and how good that is at best."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from nesting.model import Blank, Stock

Cause = Literal["size", "shear", "room"]


@dataclass(frozen=True, slots=True, order=True)
class Goal:
    """One of the aims a plan was chosen by, with the figure reached.

    Attributes:
        name: what is aimed at, such as "largest single offcut".
        reached: the figure.
        unit: what the figure counts.
    """

    name: str
    reached: float
    unit: str


@dataclass(frozen=True, slots=True)
class Placement:
    """A blank on a sheet: its lower left corner and its size as it lies there, grid units.

    x runs along the sheet's width, y along its length; `turned` means by 90 degrees.
    """

    blank: Blank
    x: int
    y: int
    width: int
    length: int
    turned: bool

    @property
    def area(self) -> int:
        """Square grid units."""
        return self.width * self.length


@dataclass(frozen=True, slots=True)
class Unplaced:
    """Copies of a blank that the plan does not cut, and why.

    Attributes:
        blank: the blank.
        qty: copies.
        reason: a sentence with sizes in grid units.
        cause: the same for programs: larger than all stock; beyond the shear's limits, whatever
            else is cut; no room left on the stock at hand.
    """

    blank: Blank
    qty: int
    reason: str
    cause: Cause = "room"


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """One piece of stock and what is cut from it.

    Attributes:
        stock: the size it is cut from.
        placements: in order of y, then x.
        drawn: length used up, grid units: of a coil the piece cut off, else the whole length.
    """

    stock: Stock
    placements: tuple[Placement, ...]
    drawn: int

    def __init__(
        self, stock: Stock, placements: Iterable[Placement], drawn: int | None = None
    ) -> None:
        ordered = sorted(placements, key=lambda p: (p.y, p.x, p.blank.name))
        object.__setattr__(self, "stock", stock)
        object.__setattr__(self, "placements", tuple(ordered))
        object.__setattr__(self, "drawn", stock.length if drawn is None else drawn)

    @property
    def width(self) -> int:
        """Grid units."""
        return self.stock.width

    @property
    def length(self) -> int:
        """Grid units; of a coil: the drawn length."""
        return self.drawn

    @property
    def area(self) -> int:
        """Of the metal used up, square grid units."""
        return self.stock.width * self.drawn

    @property
    def cost(self) -> float:
        """Of the metal used up."""
        return self.stock.cost_of(self.drawn)

    @property
    def used(self) -> float:
        """Share of the metal that ends in blanks, 0 to 1."""
        return sum(p.area for p in self.placements) / self.area


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole solved job.

    Attributes:
        sheets: every sheet by itself; `grouped()` counts the equal ones.
        cost: sum of the cost of the stock used.
        bound: proved lower bound on the cost of cutting the blanks that are placed.
        unplaced: blanks that must be cut and that the stock could not take.
        left_out: fillers that found no room.
        goals: what the plan was chosen by, in order of importance.
    """

    sheets: tuple[SheetLayout, ...]
    cost: float
    bound: float
    unplaced: tuple[Unplaced, ...] = ()
    left_out: tuple[Unplaced, ...] = ()
    goals: tuple[Goal, ...] = ()

    @property
    def gap(self) -> float:
        """How far the cost can at most be above the best possible, as a share of the cost."""
        return (self.cost - self.bound) / self.cost if self.cost > 0 else 0.0

    @property
    def used(self) -> float:
        """Share of the metal that ends in blanks, 0 to 1; 0 for a plan without sheets."""
        metal = sum(sheet.area for sheet in self.sheets)
        blanks = sum(p.area for sheet in self.sheets for p in sheet.placements)
        return blanks / metal if metal else 0.0

    def grouped(self) -> list[tuple[SheetLayout, int]]:
        """Each different sheet layout with the number of sheets cut that way."""
        return list(Counter(self.sheets).items())
