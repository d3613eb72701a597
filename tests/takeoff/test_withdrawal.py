"""What a plan may take from the stock room."""

import random
import time
from fractions import Fraction

import pytest

from takeoff.blanks import JobBlank, grid_size, make_job
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH
from takeoff.materials import sheet
from takeoff.nest import JobPlan, nest_job, usable_sizes
from takeoff.profile import default, loads
from takeoff.settings import Profile
from takeoff.stock import StockItem, StockList
from takeoff.stock import loads as load_stock
from takeoff.supply import Draw, RackPiece, Supply
from takeoff.withdrawal import (
    MOST_OFFCUTS,
    OnHand,
    OnRack,
    RoomUse,
    Withdrawal,
    choose,
)
from tests.takeoff.fittings.making import card

METAL = sheet("galvanized", 26)
STOCK = "material,gauge,stock,width,length,cost,qty\ngalv,26,4 x 8,48,96,36.00,\n"


def caps(profile: Profile, *sizes: tuple[int, int, int]) -> tuple[Job, list[JobBlank]]:
    """End caps of width, height and number: blanks 2 in larger each way."""
    lines = tuple(
        JobLine(row, f"C{row}", card("end cap", width=width, height=height), many, METAL)
        for row, (width, height, many) in enumerate(sizes, 2)
    )
    job = Job("job", INCH, lines)
    made = make_job(job, profile, usable_sizes(load_stock(STOCK, profile), profile))
    return job, [blank for line in made for blank in line.blanks]


def offcut(label: str, width: object, length: object, gauge: int = 26, place: str = "") -> OnRack:
    piece = RackPiece(label, place)
    return OnRack(piece, "galvanized", gauge, Fraction(str(width)), Fraction(str(length)))


def room(draw: Draw, *offcuts: OnRack, sheets: tuple[OnHand, ...] = ()) -> Withdrawal:
    return Withdrawal(RoomUse("room 1", "stockroom.db", draw), sheets, offcuts)


def planned(
    given: Withdrawal | None, *sizes: tuple[int, int, int], profile_text: str = ""
) -> JobPlan:
    profile = loads(profile_text)
    job, _ = caps(profile, *sizes)
    stock = load_stock(STOCK, profile)
    made = make_job(job, profile, usable_sizes(stock, profile))
    return nest_job(job, made, stock, profile, 0.5, room=given)


def test_a_blank_that_fits_nowhere_brings_no_offcut() -> None:
    # a cap of 20 x 8 is cut from 22 x 10
    job, blanks = caps(default(), (20, 8, 1))
    rack = [offcut("A", "21.9", 60), offcut("B", 22, 10), offcut("C", "9.9", 60)]
    assert [one.piece.label for one in choose(rack, blanks, job, default())] == ["A", "B"]
    # A takes it turned; where it may not be turned only B does
    fixed = loads("[grain]\nturn = false")
    job, blanks = caps(fixed, (20, 8, 1))
    assert [one.piece.label for one in choose(rack, blanks, job, fixed)] == ["B"]
    job, blanks = caps(default(), (20, 8, 1))
    trimmed = loads('[cut]\ntrim = "1/4"')
    assert [one.piece.label for one in choose(rack, blanks, job, trimmed)] == ["A"]


def test_of_a_large_rack_the_best_fits_and_the_largest_are_offered() -> None:
    job, blanks = caps(default(), (20, 8, 3), (30, 30, 2))
    loose = [offcut(f"L{n}", 40, 40 + Fraction(n, 16)) for n in range(400)]
    snug = [offcut("snug small", 22, 10), offcut("snug large", 32, 32), offcut("huge", 48, 118)]
    chosen = choose([*loose, *snug], blanks, job, default())
    assert len(chosen) == MOST_OFFCUTS
    assert {"snug small", "snug large", "huge"} <= {one.piece.label for one in chosen}


def test_fifty_thousand_offcuts_are_sifted_in_a_moment() -> None:
    rng = random.Random(5)
    rack = [
        offcut(str(n), Fraction(rng.randint(64, 768), 16), Fraction(rng.randint(64, 1500), 16))
        for n in range(50_000)
    ]
    job, blanks = caps(default(), *[(8 + n, 5 + n % 7, 1 + n % 3) for n in range(30)])
    started = time.monotonic()
    chosen = choose(rack, blanks, job, default())
    assert time.monotonic() - started < 5
    assert len(chosen) == MOST_OFFCUTS
    steps = [grid_size(blank, default(), job) for blank in blanks]
    for one in chosen:
        sides = sorted((one.width * 64, one.length * 64))
        assert any(min(size) <= sides[0] and max(size) <= sides[1] for size in steps)


def test_the_plan_names_every_piece_once_and_buys_the_rest() -> None:
    rack = [offcut(f"R{n}", 33, 33, place=f"bay {n}") for n in range(4)]
    plan = planned(room(Draw.OFFCUTS, *rack, offcut("other", 40, 40, gauge=24)), (30, 30, 7))
    (group,) = plan.groups
    # 32 x 32: one on an offcut, three on a sheet
    bought = [s for s in group.plan.sheets if s.stock.kind == "sheet"]
    assert (len(bought), group.plan.cost, group.plan.unplaced) == (1, 36.0, ())
    (item,) = [item for item in group.stock if item.supply is Supply.RACK]
    assert (item.qty, [piece.label for piece in item.pieces]) == (4, ["R0", "R1", "R2", "R3"])
    assert item.cost == 0
    assert plan.room == RoomUse("room 1", "stockroom.db", Draw.OFFCUTS)


@pytest.mark.parametrize("draw", [Draw.NOTHING, None])
def test_nothing_is_taken_unasked(draw: Draw | None) -> None:
    given = None if draw is None else room(draw, offcut("R1", 40, 40))
    plan = planned(given, (30, 30, 1))
    assert {item.supply for item in plan.groups[0].stock} == {Supply.BUY}


def test_an_offcut_costs_the_share_of_new_metal_that_the_shop_sets() -> None:
    # 36.00 for 48 x 96: 33 x 64 in is 2112 of 4608 in2, 16.50; half of it 8.25
    half = "[room]\noffcut_value = 50"
    plan = planned(room(Draw.OFFCUTS, offcut("R1", 33, 64)), (30, 30, 2), profile_text=half)
    (item,) = [item for item in plan.groups[0].stock if item.supply is Supply.RACK]
    assert item.cost == 8.25
    assert plan.groups[0].plan.cost == 8.25
    whole = "[room]\noffcut_value = 100"
    dear = planned(room(Draw.OFFCUTS, offcut("R1", 48, 110)), (30, 30, 3), profile_text=whole)
    assert [sheet.stock.name for sheet in dear.groups[0].plan.sheets] == ["4 x 8"]


def test_sheets_on_hand_come_first_when_they_may_be_taken() -> None:
    mine = (OnHand("galvanized", 26, "4 x 8", Fraction(48), Fraction(96), 35.0, 2),)
    plan = planned(room(Draw.ALL, sheets=mine), (30, 30, 9))
    names = sorted(sheet.stock.name for sheet in plan.groups[0].plan.sheets)
    assert names == ["4 x 8", "4 x 8 (on hand)", "4 x 8 (on hand)"]
    # 1 % of 35.00 twice, and one to buy
    assert plan.groups[0].plan.cost == pytest.approx(36.0 + 0.70)
    rack_only = planned(room(Draw.OFFCUTS, sheets=mine), (30, 30, 9))
    assert {item.supply for item in rack_only.groups[0].stock} == {Supply.BUY}


def test_names_differ_whatever_the_shop_calls_its_sheets() -> None:
    odd = (OnHand("galvanized", 26, "rack R1", Fraction(48), Fraction(96), None, 1),)
    given = room(Draw.ALL, offcut("R1", 40, 40), sheets=odd)
    bought = StockItem(
        "galvanized", 26, "rack R1 (on hand)", Fraction(48), Fraction(96), 1.0, None, "list"
    )
    job, blanks = caps(default(), (20, 8, 1))
    items = given.items(METAL, blanks, [bought], job, default())
    assert len({item.name for item in (*items, bought)}) == 3
    (on_hand,) = [item for item in items if item.supply is Supply.ON_HAND]
    assert (on_hand.key, on_hand.cost) == ("rack R1", 31.89)  # 28.992 lb at 1.10
    assert StockList((bought, *items)).for_group("galvanized", 26) == (bought, *items)
