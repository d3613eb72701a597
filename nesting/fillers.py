"""Fillers: optional pieces cut from what would else be scrap, the most valuable first."""

from dataclasses import dataclass

from nesting.cuts import Rect
from nesting.dissection import Dissection, dissect, keeps_limits
from nesting.errors import NotGuillotineError
from nesting.model import Blank, Keep, Problem
from nesting.offcuts import claim_offcuts
from nesting.plan import Placement, SheetLayout, Unplaced

NO_ROOM = "filler: no room for it in what would be scrap"


@dataclass(frozen=True, slots=True)
class Filled:
    """Sheets with fillers on them, and the fillers that found no room."""

    sheets: tuple[SheetLayout, ...]
    left_out: tuple[Unplaced, ...]


def add_fillers(problem: Problem, sheets: tuple[SheetLayout, ...]) -> Filled:
    """Put fillers where neither a blank nor an offcut worth keeping is; stock stays as it is."""
    left = {blank: blank.qty for blank in problem.blanks if blank.filler}
    filled = tuple(_fill(problem, sheet, left) if any(left.values()) else sheet for sheet in sheets)
    return Filled(filled, tuple(Unplaced(b, qty, NO_ROOM) for b, qty in left.items() if qty))


def _fill(problem: Problem, sheet: SheetLayout, left: dict[Blank, int]) -> SheetLayout:
    before = dissect(problem, sheet)
    placed = list(sheet.placements)
    for room in _scrap_rooms(problem, sheet, before, left):
        placed += _pack(problem.kerf, room, left)
    candidate = SheetLayout(sheet.stock, placed, sheet.drawn)
    if _offcuts_stay(problem, sheet, before, candidate):
        return candidate
    for placement in placed[len(sheet.placements) :]:
        left[placement.blank] += 1
    return sheet


def _scrap_rooms(
    problem: Problem, sheet: SheetLayout, before: Dissection, left: dict[Blank, int]
) -> list[Rect]:
    """Scrap merged into rectangles as large as the cuts allow, big enough for some filler."""
    wanted = [blank for blank, qty in left.items() if qty]
    smallest = Keep(
        min(min(blank.width, blank.length) for blank in wanted), min(b.area for b in wanted)
    )
    blanks = [Rect(p.x, p.y, p.width, p.length) for p in sheet.placements]
    t = problem.trim
    region = Rect(t, t, sheet.width - 2 * t, sheet.length - 2 * t)
    return claim_offcuts(problem.kerf, region, [*blanks, *before.offcuts], smallest)


def _pack(kerf: int, room: Rect, left: dict[Blank, int]) -> list[Placement]:
    """Fillers in one rectangle, cut by cut; what they use is taken off `left`."""
    placed, rooms = [], [room]
    while rooms:
        x, y, width, length = rooms.pop()
        choice = _choice(width, length, left)
        if choice is None:
            continue
        blank, w, n, turned = choice
        left[blank] -= 1
        placed.append(Placement(blank, x, y, w, n, turned))
        beside_whole = (width - w) * length >= width * (length - n)
        beside = Rect(x + w + kerf, y, width - w - kerf, length if beside_whole else n)
        above = Rect(x, y + n + kerf, w if beside_whole else width, length - n - kerf)
        rooms += [rest for rest in (beside, above) if rest.width > 0 and rest.length > 0]
    return placed


def _choice(width: int, length: int, left: dict[Blank, int]) -> tuple[Blank, int, int, bool] | None:
    """The filler worth most by area that fits, as it should lie."""
    fitting = [
        (blank, w, n, turned)
        for blank, qty in left.items()
        if qty
        for w, n, turned in _turns(blank)
        if w <= width and n <= length
    ]
    return max(
        fitting,
        key=lambda c: ((c[0].value or 0) / c[0].area, c[0].area, -min(width - c[1], length - c[2])),
        default=None,
    )


def _turns(blank: Blank) -> list[tuple[int, int, bool]]:
    upright = [(blank.width, blank.length, False)]
    if blank.turn and blank.width != blank.length:
        return [*upright, (blank.length, blank.width, True)]
    return upright


def _offcuts_stay(
    problem: Problem, sheet: SheetLayout, before: Dissection, candidate: SheetLayout
) -> bool:
    """True when every offcut can still be kept and the shear can still make the cuts."""
    try:
        after = dissect(problem, candidate)
    except NotGuillotineError:
        return False
    kept = [rect.area for rect in after.offcuts] == [rect.area for rect in before.offcuts]
    return kept and (
        keeps_limits(problem, candidate, after) or not keeps_limits(problem, sheet, before)
    )
