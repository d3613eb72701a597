"""The checker finds each kind of fault wherever it is planted: first, middle, last, only pair."""

from dataclasses import replace

import pytest

from nesting import (
    Blank,
    Placement,
    Plan,
    PlanFaultError,
    Problem,
    ShearLimits,
    SheetLayout,
    Stock,
    Unplaced,
    verify,
)

TALL = Blank("tall", 4, 6, qty=9)
GRAIN = Blank("grain", 4, 2, qty=9, turn=False)
SHEET = Stock("sheet", 14, 10, 7.0, qty=4)
EVERY_PLACE = pytest.mark.parametrize("place", [0, 4, 8], ids=["first", "middle", "last"])
EVERY_SHEET = pytest.mark.parametrize("sheet", [0, 1, 2], ids=["first", "middle", "last"])


def problem(**rules) -> Problem:
    return Problem([TALL, GRAIN], [SHEET], **rules)


def layout() -> SheetLayout:
    # three columns of 4 with gaps of 1: x = 0, 5, 10; tall at y 0 to 6, grain at y 7 to 9
    talls = [Placement(TALL, x, 0, 4, 6, turned=False) for x in (0, 5, 10)]
    grains = [Placement(GRAIN, x, 7, 4, 2, turned=False) for x in (0, 5, 10)]
    return SheetLayout(SHEET, talls + grains)


def plan() -> Plan:
    return Plan((layout(),) * 3, cost=21.0, bound=14.0)


def with_placement(place: int, blank: Blank, **changes) -> Plan:
    """The plan with one placement of a kind of blank changed, counted over all sheets."""
    sheets, count = [], 0
    for sheet in plan().sheets:
        placements = []
        for p in sheet.placements:
            hit = p.blank is blank and count == place
            count += p.blank is blank
            placements.append(replace(p, **changes) if hit else p)
        sheets.append(SheetLayout(sheet.stock, placements))
    return replace(plan(), sheets=tuple(sheets))


def with_sheet(number: int, sheet: SheetLayout) -> Plan:
    sheets = list(plan().sheets)
    sheets[number] = sheet
    return replace(plan(), sheets=tuple(sheets))


def assert_fault(faulty: Plan, words: str, **rules) -> None:
    with pytest.raises(PlanFaultError, match=words):
        verify(problem(**rules), faulty)


def test_a_plan_without_fault_passes():
    verify(problem(), plan())
    verify(problem(kerf=1), plan())


@EVERY_PLACE
def test_outside_the_sheet(place):
    assert_fault(with_placement(place, TALL, y=5), "outside")
    assert_fault(with_placement(place, TALL, x=-1), "outside")


@EVERY_PLACE
def test_inside_the_trim(place):
    # with a trim of 1 the sheet ends at 13 and starts at 1: both ends of the plan reach into it
    assert_fault(plan(), "outside", trim=1)
    # only one blank out of place: all others moved in by one
    moved = [
        [replace(p, x=p.x + 1, y=p.y + 1) for p in sheet.placements] for sheet in plan().sheets
    ]
    wide = replace(SHEET, width=16, length=12)
    count = -1
    for placements in moved:
        for i, p in enumerate(placements):
            count += p.blank is GRAIN
            if p.blank is GRAIN and count == place:
                placements[i] = replace(p, y=10)
                count += 100
    sheets = tuple(SheetLayout(wide, placements) for placements in moved)
    with pytest.raises(PlanFaultError, match="outside"):
        verify(Problem([TALL, GRAIN], [wide], trim=1), replace(plan(), sheets=sheets))


@EVERY_PLACE
def test_overlap(place):
    assert_fault(with_placement(place, GRAIN, y=5), "tall .* and grain .* overlap")


@EVERY_PLACE
def test_exact_copy_on_top_of_another(place):
    onto = 0 if place % 3 else 5
    assert_fault(with_placement(place, TALL, x=onto), "tall .* and tall .* overlap")


def test_overlap_of_the_only_pair():
    two = Blank("two", 3, 3, qty=2)
    sheet = SheetLayout(SHEET, [Placement(two, x, 0, 3, 3, turned=False) for x in (0, 2)])
    with pytest.raises(PlanFaultError, match="overlap"):
        verify(Problem([two], [SHEET]), Plan((sheet,), 7.0, 7.0))


@EVERY_PLACE
def test_closer_than_the_kerf(place):
    assert_fault(with_placement(place, GRAIN, y=6), "closer than the kerf", kerf=1)
    verify(problem(), with_placement(place, GRAIN, y=6))


@EVERY_PLACE
def test_turned_without_permission(place):
    faulty = with_placement(place, GRAIN, width=2, length=4, turned=True, y=6)
    assert_fault(faulty, "turned and may not be")


@EVERY_PLACE
def test_wrong_size(place):
    assert_fault(with_placement(place, TALL, length=5), "lies as 4 x 5")
    assert_fault(with_placement(place, TALL, turned=True), "lies as 4 x 6")


@EVERY_SHEET
def test_unknown_stock_and_blank(sheet):
    strange = replace(SHEET, cost=6.0)
    assert_fault(with_sheet(sheet, SheetLayout(strange, layout().placements)), "unknown stock")
    other = Placement(replace(TALL, name="other"), 0, 0, 4, 6, turned=False)
    assert_fault(with_sheet(sheet, SheetLayout(SHEET, [other])), "unknown blank")


@EVERY_SHEET
def test_a_sheet_is_not_drawn_short(sheet):
    assert_fault(with_sheet(sheet, SheetLayout(SHEET, layout().placements, drawn=9)), "not a coil")


def test_a_coil_is_not_drawn_beyond_its_length():
    coil = Stock("coil", 14, 10, 7.0, kind="coil")
    one = Blank("one", 4, 6)
    sheet = SheetLayout(coil, [Placement(one, 0, 0, 4, 6, turned=False)], drawn=6)
    verify(Problem([one], [coil]), Plan((sheet,), cost=4.2, bound=1.0))
    for drawn, words in ((11, "longest piece"), (5, "outside")):
        long = SheetLayout(coil, sheet.placements, drawn)
        with pytest.raises(PlanFaultError, match=words):
            verify(Problem([one], [coil]), Plan((long,), cost=0.7 * drawn, bound=1.0))


def test_more_stock_than_at_hand():
    scarce = Problem([TALL, GRAIN], [replace(SHEET, qty=2)])
    sheets = tuple(SheetLayout(replace(SHEET, qty=2), s.placements) for s in plan().sheets)
    with pytest.raises(PlanFaultError, match="3 of sheet are used, only 2"):
        verify(scarce, replace(plan(), sheets=sheets))


@EVERY_SHEET
@pytest.mark.parametrize("place", [0, 3, 5], ids=["first", "middle", "last"])
def test_a_copy_is_missing_or_too_many(sheet, place):
    placements = list(layout().placements)
    gone = placements.pop(place)
    short = with_sheet(sheet, SheetLayout(SHEET, placements))
    assert_fault(short, f"{gone.blank.name}: 9 wanted, 8 placed")
    # listed as missing, but the fourth sheet could take it
    excused = replace(short, unplaced=(Unplaced(gone.blank, 1, "no room"),))
    assert_fault(excused, "left out, yet sheet could take it")


def test_missing_is_right_when_the_stock_is_used_up():
    scarce = replace(SHEET, qty=3)
    more = replace(TALL, qty=10)
    swap = {TALL: more, GRAIN: GRAIN}
    sheets = tuple(
        SheetLayout(scarce, [replace(p, blank=swap[p.blank]) for p in s.placements])
        for s in plan().sheets
    )
    short = replace(plan(), sheets=sheets, unplaced=(Unplaced(more, 1, "used up"),))
    verify(Problem([more, GRAIN], [scarce]), short)
    for entry in (Unplaced(more, 2, "used up"), Unplaced(more, 0, "used up")):
        with pytest.raises(PlanFaultError):
            verify(Problem([more, GRAIN], [scarce]), replace(short, unplaced=(entry,)))


def test_unknown_blank_listed_as_missing():
    stranger = Unplaced(Blank("stranger", 1, 1), 1, "no room")
    assert_fault(replace(plan(), unplaced=(stranger,)), "stranger")


@pytest.mark.parametrize("cost", [20.0, 22.0, 0.0])
def test_wrong_cost(cost):
    assert_fault(replace(plan(), cost=cost, bound=0.0), "sheets cost 21")


@pytest.mark.parametrize("bound", [21.1, -1.0, float("nan"), float("inf")])
def test_wrong_bound(bound):
    assert_fault(replace(plan(), bound=bound), "bound")


def pinwheel(at: int) -> list[Placement]:
    """Four blanks around a hole: no cut from edge to edge separates them."""
    lying, standing = Blank("lying", 3, 2, 6, turn=False), Blank("standing", 2, 3, 6, turn=False)
    spots = [(lying, 0, 0), (standing, 3, 0), (lying, 2, 3), (standing, 0, 2)]
    return [Placement(b, x + at, y, b.width, b.length, turned=False) for b, x, y in spots]


@EVERY_SHEET
def test_not_a_guillotine_layout(sheet):
    stock = Stock("s", 20, 5, 1.0)
    rows = [Placement(p.blank, 2 * p.x, p.y, p.width, p.length, turned=False) for p in pinwheel(0)]
    rows[3] = replace(rows[3], x=10)
    sheets = [SheetLayout(stock, rows)] * 3
    blanks = [replace(p.blank, qty=6) for p in rows[:2]]
    sane = Plan(tuple(sheets), cost=3.0, bound=1.0)
    verify(Problem(blanks, [stock]), sane)
    sheets[sheet] = SheetLayout(stock, pinwheel(at=15))
    faulty = Plan(tuple(sheets), cost=3.0, bound=1.0)
    verify(Problem(blanks, [stock], guillotine=False), faulty)
    with pytest.raises(PlanFaultError, match=f"sheet {sheet + 1}.*no cut from edge to edge"):
        verify(Problem(blanks, [stock]), faulty)


@pytest.mark.parametrize(
    ("limits", "fine"),
    [
        # rows across (y 6..7), then columns: after the first cuts at y the rows are 6 and 2 long
        (ShearLimits(first_across=True), True),
        (ShearLimits(stages=2), True),
        (ShearLimits(stages=1), False),
        (ShearLimits(max_cut=14), True),
        (ShearLimits(max_cut=9), False),  # across is 14 long, along is 10 long
        (ShearLimits(max_cut=10), True),  # columns first: 10 long, then 4 across
        (ShearLimits(max_cut=10, first_across=True), False),
        (ShearLimits(min_strip=4), True),
        (ShearLimits(min_strip=7), False),
    ],
)
def test_limits_of_the_shear(limits, fine):
    if fine:
        verify(problem(shear=limits), plan())
    else:
        assert_fault(plan(), "shear", shear=limits)
