"""Parts of a sheet put in another order: equal ones side by side, what nobody gauges last.

The parts of a strip may be permuted freely. Equal sizes next to each other are cut at one setting
of the back gauge; the last part stays on the table and needs none, so offcuts and scrap go there,
else the size that occurs least.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from nesting.cuts import Strip
from nesting.dissection import Dissection, dissect
from nesting.goals import Known, figures_of
from nesting.model import Problem
from nesting.plan import Placement, SheetLayout

LARGEST_JOB = 200  # different layouts; beyond it a plan is left as it is


def tidy(
    problem: Problem, sheets: tuple[SheetLayout, ...], known: Known
) -> tuple[SheetLayout, ...]:
    """The sheets with their parts put in order, where the goals get no worse by it.

    Args:
        problem: the rules.
        sheets: of the plan.
        known: sheets taken apart before; those looked at are added to it.
    """
    different = list(dict.fromkeys(sheets))
    if len(different) > LARGEST_JOB:
        return sheets
    better = {sheet: _better(problem, sheet, known) for sheet in different}
    found = tuple(better[sheet] for sheet in sheets)
    before, after = figures_of(problem, sheets, known), figures_of(problem, found, known)
    return found if after.order() < before.order() else sheets


def tidied(problem: Problem, sheet: SheetLayout, way: Dissection) -> SheetLayout:
    """The sheet laid out anew by its cut order, the parts of each strip sorted."""
    corner = problem.trim
    placed = _lay(problem.kerf, sheet.placements, way.tree, corner, corner)
    return SheetLayout(sheet.stock, placed, sheet.drawn)


def _better(problem: Problem, sheet: SheetLayout, known: Known) -> SheetLayout:
    if sheet not in known:
        known[sheet] = dissect(problem, sheet)
    before = known[sheet]
    found = tidied(problem, sheet, before)
    after = known[found] = dissect(problem, found)
    kept = [rect.area for rect in after.offcuts] >= [rect.area for rect in before.offcuts]
    fewer = (len(after.cuts), after.settings) < (len(before.cuts), before.settings)
    return found if kept and fewer else sheet


def _lay(
    kerf: int, blanks: Sequence[Placement], strip: Strip, x: int, y: int
) -> Iterator[Placement]:
    """Everything in a strip whose corner comes to lie at x, y."""
    if strip.wanted is not None and strip.wanted < len(blanks):
        one = blanks[strip.wanted]
        yield Placement(one.blank, x, y, one.width, one.length, one.turned)
    for part in _sorted(strip, len(blanks)):
        yield from _lay(kerf, blanks, part, x, y)
        start, end = part.rect.span(bool(strip.across))
        if strip.across:
            y += end - start + kerf
        else:
            x += end - start + kerf


def _sorted(strip: Strip, blanks: int) -> list[Strip]:
    """Its parts: the most frequent size first, then what holds no blank, scrap at the end."""
    sizes = {part.label: _size(strip, part) for part in strip.parts}
    count = Counter(sizes.values())

    def order(part: Strip) -> tuple[bool, bool, int, int]:
        empty = not any(leaf.wanted is not None and leaf.wanted < blanks for leaf in part.leaves())
        return empty, part.scrap, -count[sizes[part.label]], -sizes[part.label]

    return sorted(strip.parts, key=order)


def _size(strip: Strip, part: Strip) -> int:
    start, end = part.rect.span(bool(strip.across))
    return end - start
