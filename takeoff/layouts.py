"""The engine's plan back in shop units: every different sheet with its parts, offcuts and cuts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice

from nesting.cuts import Rect, Strip
from nesting.dissection import Dissection, dissect
from nesting.plan import SheetLayout
from takeoff.blanks import JobBlank
from takeoff.lengths import Grid, from_grid
from takeoff.materials import SheetMetal
from takeoff.nest import GroupPlan, JobPlan
from takeoff.plural import many
from takeoff.stock import StockItem
from takeoff.supply import RackPiece, Supply

WHOLE, SCRAP, SLIVER = "sheet", "scrap", "sliver"
"""What the cut order calls metal that is no blank, offcut or strip."""


@dataclass(frozen=True)
class Box:
    """A rectangle on a sheet: lower left corner and size, inches."""

    x: Fraction
    y: Fraction
    width: Fraction
    length: Fraction

    @property
    def area(self) -> Fraction:
        """Square inches."""
        return self.width * self.length


@dataclass(frozen=True)
class Part:
    """A blank on a sheet, its box as it lies there; `turned` means by a quarter."""

    blank: JobBlank
    box: Box
    turned: bool

    @property
    def size(self) -> tuple[Fraction, Fraction]:
        """Width and length to cut, as the blank is named: before it is turned."""
        width, length = self.box.width, self.box.length
        return (length, width) if self.turned else (width, length)


@dataclass(frozen=True)
class Offcut:
    """A leftover worth keeping; its label is unique in the job: `2A`, of the second layout."""

    label: str
    box: Box


@dataclass(frozen=True)
class ShearCut:
    """One stroke of the shear.

    Attributes:
        number: from 1, in the order they are made.
        part: what lies on the table: `sheet`, or a strip cut off before.
        across: the blade runs across the sheet's width, else along its length.
        back_gauge: distance from the blade to the stop, inches.
        length: of the cut, inches.
        falls_off: what drops behind the blade: a blank, an offcut, a strip to cut further, scrap.
        stays: what is left on the table when the part is cut up; "" while more cuts follow.
    """

    number: int
    part: str
    across: bool
    back_gauge: Fraction
    length: Fraction
    falls_off: str
    stays: str


@dataclass(frozen=True)
class Layout:
    """Sheets that are all cut alike.

    Attributes:
        number: of the layout in the job, from 1.
        metal: what it is cut from.
        item: the stock it is cut from.
        count: how many sheets are cut so.
        width: of the sheet, inches.
        length: of the sheet, of a coil the length drawn, inches.
        cost: of one sheet; of what the shop has, its worth.
        pieces: off the rack, one for each time it is cut; none for other stock.
        trim: unusable edge all round, inches.
        lost: area of kerf, trim and what the grid leaves at the sheet's edge, in2.
        parts: from the near end to the far end.
        offcuts: the largest first.
        scrap: leftovers not worth keeping.
        cuts: in the order they are made, the trimming of the sheet's edges not counted.
    """

    number: int
    metal: SheetMetal
    item: StockItem
    count: int
    width: Fraction
    length: Fraction
    cost: float
    pieces: tuple[RackPiece, ...]
    trim: Fraction
    lost: Fraction
    parts: tuple[Part, ...]
    offcuts: tuple[Offcut, ...]
    scrap: tuple[Box, ...]
    cuts: tuple[ShearCut, ...]

    @property
    def whence(self) -> str:
        """Where the shop has it: `off the rack: R12 (bay 3)`, `on hand`; "" where it is bought."""
        if self.pieces:
            return f"off the rack: {', '.join(piece.told for piece in self.pieces)}"
        return "on hand" if self.item.supply is Supply.ON_HAND else ""

    @property
    def times(self) -> str:
        """How many are cut so: `1 sheet`, `3 offcuts`."""
        return many(self.count, "offcut" if self.pieces else "sheet")

    @property
    def area(self) -> Fraction:
        """Of one sheet, in2."""
        return self.width * self.length

    @property
    def parts_area(self) -> Fraction:
        """Of the blanks' rectangles on one sheet, in2."""
        return sum((part.box.area for part in self.parts), Fraction(0))

    @property
    def offcuts_area(self) -> Fraction:
        """Of the offcuts of one sheet, in2."""
        return sum((offcut.box.area for offcut in self.offcuts), Fraction(0))

    @property
    def scrap_area(self) -> Fraction:
        """Of all that is neither blank nor offcut on one sheet, in2."""
        return sum((box.area for box in self.scrap), self.lost)

    @property
    def used(self) -> float:
        """Share of the sheet that ends in blanks, 0 to 1."""
        return float(self.parts_area / self.area)


def layouts(plan: JobPlan) -> tuple[Layout, ...]:
    """Every different sheet of the job, numbered through."""
    return tuple(_numbered(plan))


def _numbered(plan: JobPlan) -> Iterator[Layout]:
    number = 0
    for group in plan.groups:
        rack = {item.name: iter(item.pieces) for item in group.stock}
        for sheet, count in group.plan.grouped():
            number += 1
            pieces = tuple(islice(rack[sheet.stock.name], count))
            yield _layout(group, sheet, count, pieces, number, plan.grid)


def _layout(
    group: GroupPlan,
    sheet: SheetLayout,
    count: int,
    pieces: tuple[RackPiece, ...],
    number: int,
    grid: Grid,
) -> Layout:
    item = group.item(sheet.stock.name)
    taken = dissect(group.problem, sheet)
    offcuts = tuple(
        Offcut(f"{number}{_letters(place)}", _box(rect, grid))
        for place, rect in enumerate(taken.offcuts)
    )
    length = item.length
    if sheet.drawn != sheet.stock.length:
        length = from_grid(sheet.drawn, grid)
    squares = grid.per_inch**2
    beyond = item.width * length - sheet.area / squares
    return Layout(
        number=number,
        metal=group.metal,
        item=item,
        count=count,
        width=item.width,
        length=length,
        cost=item.cost if item.supply is Supply.ON_HAND else sheet.cost,
        pieces=pieces,
        trim=from_grid(group.problem.trim, grid),
        lost=(taken.areas.kerf + taken.areas.trim) / squares + beyond,
        parts=tuple(
            Part(
                group.blank(p.blank.name),
                _box(Rect(p.x, p.y, p.width, p.length), grid),
                p.turned,
            )
            for p in sheet.placements
        ),
        offcuts=offcuts,
        scrap=tuple(_box(rect, grid) for rect in taken.scrap),
        cuts=tuple(_cuts(sheet, taken, [offcut.label for offcut in offcuts], grid)),
    )


def _cuts(
    sheet: SheetLayout, taken: Dissection, offcuts: Iterable[str], grid: Grid
) -> Iterator[ShearCut]:
    names = _names(sheet, taken, offcuts)
    inside = {strip.label or WHOLE: strip.parts for strip in _strips(taken.tree)}
    for place, cut in enumerate(taken.cuts):
        later = [other for other in taken.cuts[place + 1 :] if other.piece == cut.piece]
        freed = {other.frees for other in taken.cuts if other.piece == cut.piece}
        rest = [part.label for part in inside[cut.piece] if part.label not in freed]
        # With a kerf a sliver is cut off a part before the part itself is: it is freed twice.
        again = any(other.frees == cut.frees for other in later)
        yield ShearCut(
            cut.number,
            names[cut.piece],
            cut.across,
            from_grid(cut.gauge, grid),
            from_grid(cut.length, grid),
            SLIVER if again else names[cut.frees],
            "" if later else " and ".join(names[label] for label in rest),
        )


def _names(sheet: SheetLayout, taken: Dissection, offcuts: Iterable[str]) -> dict[str, str]:
    """What a person calls each part of the sheet, by the part's label in the tree."""
    finished = {Rect(p.x, p.y, p.width, p.length): p.blank.name for p in sheet.placements}
    finished |= {rect: f"offcut {o}" for rect, o in zip(taken.offcuts, offcuts, strict=True)}
    names = {leaf.label: finished.get(leaf.rect, SCRAP) for leaf in taken.tree.leaves()}
    cut_up = dict.fromkeys(cut.piece for cut in taken.cuts if cut.piece != WHOLE)
    names |= {label: f"strip {number}" for number, label in enumerate(cut_up, 1)}
    return {**names, WHOLE: WHOLE}


def _strips(strip: Strip) -> Iterator[Strip]:
    """The strip and everything in it."""
    yield strip
    for part in strip.parts:
        yield from _strips(part)


def _box(rect: Rect, grid: Grid) -> Box:
    x, y, width, length = (from_grid(steps, grid) for steps in rect)
    return Box(x, y, width, length)


def _letters(place: int) -> str:
    """A, B, ... Z, AA, AB, ... for 0, 1, ..."""
    before, here = divmod(place, 26)
    return (_letters(before - 1) if before else "") + chr(ord("A") + here)
