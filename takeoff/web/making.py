"""Fittings taken apart and drawn, each worked out once."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

from takeoff.blanks import JobBlank, MadeLine, make_line
from takeoff.drawing.picture import folded_picture
from takeoff.drawing.piece import flat_pattern
from takeoff.fittings import CannotMake, Fitting, Shop
from takeoff.jobs.card_text import filled_in
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, Unit
from takeoff.materials import sheet
from takeoff.papers.piece_words import size_text
from takeoff.papers.svg import svg

from .desk import Desk
from .shop_book import ShopNow
from .turns import Turns

SMALL_ROOM = (120.0, 96.0)
FOLDED_ROOM = (250.0, 200.0)
FLAT_ROOM = (330.0, 250.0)
"""Points for the pictures: of a row, of the fitting being measured, of each of its blanks."""

USUAL_METAL = "galvanized", 26
"""What the pictures of the families are made of; it cannot be seen in them."""


_AT_WORK = Turns()
"""Held while a fitting is taken apart or drawn.

Threads share one core: two fittings at once would be done no sooner than one after the other, and
every page that needs a moment between would have to wait for both.
"""


@dataclass(frozen=True)
class FlatView:
    """A blank: name, copies, size, and the flat pattern as SVG."""

    name: str
    qty: int
    size: str
    drawing: str


@dataclass(frozen=True)
class FittingView:
    """What a fitting comes to.

    Attributes:
        folded: SVG of the fitting.
        flats: its blanks.
        metal: what they are cut from.
        weight: of the blanks of the whole row, lb.
        notes: what was decided for the person, in sentences.
    """

    folded: str
    flats: tuple[FlatView, ...]
    metal: str
    weight: float
    notes: tuple[str, ...]


def made(desk: Desk, shop: ShopNow, line: JobLine, unit: Unit) -> MadeLine:
    """A line's fitting taken apart; CannotMake where the shop cannot make it."""
    found = desk.made.get((shop.version, *_key(line, unit)), lambda: _make(line, shop, unit))
    if isinstance(found, CannotMake):
        raise found
    return found


def view(whole: MadeLine, unit: Unit) -> FittingView:
    """The fitting with its pictures."""
    line = whole.line
    title = f"{line.mark}, {line.fitting.kind}, folded"
    with _AT_WORK:
        folded = svg(folded_picture(whole.made.pieces, FOLDED_ROOM, title))
        flats = tuple(_flats(whole.blanks, unit))
    return FittingView(
        folded=folded,
        flats=flats,
        metal=line.metal.name,
        weight=sum(blank.qty * blank.weight for blank in whole.blanks),
        notes=whole.made.notes,
    )


def small_picture(desk: Desk, shop: ShopNow, line: JobLine, unit: Unit) -> str:
    """SVG of a line's fitting, folded; CannotMake where the shop cannot make it."""

    def draw() -> str:
        return _small(made(desk, shop, line, unit))

    return desk.pictures.get((shop.version, *_key(line, unit)), draw)


def family_picture(desk: Desk, shop: ShopNow, family: type[Fitting]) -> str:
    """SVG of a family, by the first of its examples that the shop as it is set can make."""
    return desk.pictures.get(
        ("family", shop.version, family.kind), lambda: _draw(desk, shop, family)
    )


def _draw(desk: Desk, shop: ShopNow, family: type[Fitting]) -> str:
    for cells in family.examples:
        card = family.model_validate(dict(cells), context={"unit": INCH})
        try:
            whole = made(desk, shop, JobLine(0, family.kind, card, 1, sheet(*USUAL_METAL)), INCH)
        except CannotMake:
            continue
        return _small(whole)
    return ""


def _small(whole: MadeLine) -> str:
    with _AT_WORK:
        return svg(folded_picture(whole.made.pieces, SMALL_ROOM, whole.line.fitting.kind))


def _flats(blanks: tuple[JobBlank, ...], unit: Unit) -> Iterator[FlatView]:
    for blank in blanks:
        drawing = flat_pattern(blank.piece, (), unit, FLAT_ROOM, f"{blank.name}, flat pattern")
        size = size_text(blank.width, blank.length, unit)
        yield FlatView(blank.name, blank.qty, size, svg(drawing))


def _make(line: JobLine, shop: ShopNow, unit: Unit) -> MadeLine | CannotMake:
    told = shop.profile.model_copy(update={"units": unit.name})
    sizes = tuple(shop.sizes(line.metal))
    try:
        if not sizes:
            raise _no_sheet(line)
        with _AT_WORK:
            return make_line(line, Shop(told, line.metal, sizes))
    except CannotMake as error:
        return error


def _no_sheet(line: JobLine) -> CannotMake:
    return CannotMake(
        "gauge",
        str(line.metal.gauge),
        f"has no {line.metal.material} sheet in the stock list",
        "Choose a gauge that is there, or add a sheet to the stock.",
    )


def _key(line: JobLine, unit: Unit) -> tuple[Hashable, ...]:
    """All of a line that its pieces, and the names of its blanks, hang on."""
    card = tuple(sorted(filled_in(line.fitting, INCH).items()))
    metal = line.metal.material, line.metal.gauge
    return line.mark, line.fitting.kind, card, line.qty, metal, unit.name
