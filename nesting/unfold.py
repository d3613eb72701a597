"""From the engine's arrays back to blanks on sheets: kerf and trim come off, blanks get names."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from nesting.layouts import Layouts
from nesting.model import Blank, Problem, ShearLimits
from nesting.plan import Placement, SheetLayout, Unplaced
from nesting.reduce import Bin, Reduction

USED_UP = "the stock at hand is used up"
BEYOND_SHEAR = "no room for it was found within the limits of the shear and the stock at hand"
Place = tuple[int, int, int, int, int]  # y, x, item type, width, length: kerf still in


def unfold(reduction: Reduction, layouts: Layouts) -> tuple[SheetLayout, ...]:
    """The sheets of a plan, equal ones side by side, in the order of the stock list.

    A coil's piece is drawn no longer than its blanks need.
    """
    waiting = [_copies(members) for members in reduction.members]
    stock_place = {stock: place for place, stock in enumerate(reduction.problem.stock)}
    rows = [
        (stock_place[reduction.bins[kind].stock], -_area(places), kind, places)
        for kind, places in _by_sheet(reduction, layouts)
    ]
    return tuple(
        _sheet(reduction.problem, reduction.bins[kind], places, waiting)
        for _, _, kind, places in sorted(rows)
    )


def missing(reduction: Reduction, sheets: tuple[SheetLayout, ...]) -> tuple[Unplaced, ...]:
    """Blanks that must be cut and aren't on the sheets, each with a reason."""
    placed = Counter(p.blank for sheet in sheets for p in sheet.placements)
    merged = [blank for members in reduction.members for blank in members]
    reason = USED_UP if reduction.problem.shear == ShearLimits() else BEYOND_SHEAR
    short = [
        Unplaced(blank, blank.qty - placed[blank], reason)
        for blank in merged
        if placed[blank] < blank.qty
    ]
    order = {blank: place for place, blank in enumerate(reduction.problem.blanks)}
    return tuple(sorted([*reduction.unplaced, *short], key=lambda entry: order[entry.blank]))


def _copies(members: tuple[Blank, ...]) -> Iterator[Blank]:
    return (blank for blank in members for _ in range(blank.qty))


def _area(places: list[Place]) -> int:
    return sum(width * length for *_, width, length in places)


def _by_sheet(reduction: Reduction, layouts: Layouts) -> Iterator[tuple[int, list[Place]]]:
    width, length = layouts.sizes(reduction.reduced)
    columns = (layouts.y, layouts.x, layouts.item, width, length)
    on_sheet: dict[int, list[Place]] = defaultdict(list)
    rows = zip(*(column.tolist() for column in columns), strict=True)
    for sheet, place in zip(layouts.sheet.tolist(), rows, strict=True):
        on_sheet[sheet].append(place)
    for sheet, kind in enumerate(layouts.stock.tolist()):
        if on_sheet[sheet]:
            yield kind, sorted(on_sheet[sheet])


def _sheet(
    problem: Problem, room: Bin, places: list[Place], waiting: list[Iterator[Blank]]
) -> SheetLayout:
    kerf, trim = problem.kerf, problem.trim
    placements = []
    for y, x, item, width, length in places:
        blank = next(waiting[item])
        size = (width - kerf, length - kerf)
        turned = size != (blank.width, blank.length)
        placements.append(Placement(blank, x + trim, y + trim, *size, turned))
    drawn = room.drawn
    if room.stock.kind == "coil":
        drawn = max(p.y + p.length for p in placements) + trim
    return SheetLayout(room.stock, placements, drawn)
