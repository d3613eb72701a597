from fractions import Fraction

import pytest

from takeoff.stockroom import (
    Action,
    CannotUndo,
    Kind,
    NotThere,
    OffcutState,
    PlanState,
    Room,
)

from .samples import G24, G26, STRIP, needs, stocked


def test_undo_goes_back_step_by_step(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    room.plans.cut("p", [STRIP])
    undone = room.undo(note="wrong plan")
    assert (undone.action, undone.undoes, undone.note) == (Action.UNDO, 5, "wrong plan")
    assert room.plans.get("p").state is PlanState.COMMITTED
    assert room.plans.reserved("p") == needs(3, one)
    assert room.rack.get("R-000005").state is OffcutState.TAKEN_BACK
    room.undo()
    assert room.plans.get("p").state is PlanState.PLANNED
    assert room.sheets.get(G26).free == 10
    assert room.rack.get(one).state is OffcutState.ON_RACK
    assert [step.undone for step in room.steps()] == [False, False, True, True, *[False] * 3]


def test_a_release_that_is_undone_holds_the_pieces_again(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    room.plans.release("p")
    room.undo()
    assert room.plans.reserved("p") == needs(3, one)
    room.plans.cut("p")
    assert room.sheets.get(G26).on_hand == 7


def test_history_only_grows(room: Room) -> None:
    one, *_ = stocked(room)
    room.rack.scrap([one])
    before = room.rack.history(one)
    room.undo()
    after = room.rack.history(one)
    assert [move.count for move in after] == [1, -1, 1]
    assert [move.step.number for move in after[:2]] == [move.step.number for move in before]


def test_a_step_names_what_it_changed(room: Room) -> None:
    one, two, three, four = stocked(room)
    room.rack.scrap([four, one])
    room.rack.scrap([three])
    room.plans.commit("p", "Bakery", needs(3, two))
    room.plans.commit("q", "Nothing of ours", needs())
    counted = Kind(G26, Fraction(48), Fraction(96), on_hand=5)
    room.sheets.take_stock([counted, Kind(G24, Fraction(48), Fraction(120))])
    room.undo()
    told = [step.pieces for step in room.steps()][::-1]
    assert told == [
        'galvanized 26 ga "4 x 8"',
        'galvanized 24 ga "4 x 10"',
        "R-000001 to R-000004",
        "2 offcuts from R-000001 to R-000004",
        "R-000003",
        'galvanized 26 ga "4 x 8", R-000002',
        "",
        'galvanized 26 ga "4 x 8" and 1 more kind',
        'galvanized 26 ga "4 x 8" and 1 more kind',
    ]
    assert [room.step(number).pieces for number in range(1, len(told) + 1)] == told


def test_there_may_be_nothing_to_undo(room: Room) -> None:
    with pytest.raises(NotThere, match="no step to undo"):
        room.undo()
    room.rack.add([STRIP])
    room.undo()
    with pytest.raises(NotThere, match="no step to undo"):
        room.undo()
    with pytest.raises(NotThere, match="no step 77"):
        room.undo(77)


def test_a_step_is_undone_once_and_an_undo_never(room: Room) -> None:
    room.rack.add([STRIP])
    undone = room.undo()
    with pytest.raises(CannotUndo, match="undone already"):
        room.undo(undone.undoes)
    with pytest.raises(CannotUndo, match="is an undo"):
        room.undo(undone.number)


def test_an_earlier_step_is_undone_where_nothing_stands_on_it(room: Room) -> None:
    one, two, *_ = stocked(room)
    scrapped = room.rack.scrap([one])
    room.plans.commit("p", "Bakery", needs(3, two))
    room.undo(scrapped.number)
    assert room.rack.get(one).state is OffcutState.ON_RACK
    assert room.plans.reserved("p") == needs(3, two)


def test_offcuts_that_went_on_stand_in_the_way(room: Room) -> None:
    step = room.rack.add([STRIP] * 2)
    room.plans.commit("p", "Bakery", needs(0, step.labels[0]))
    with pytest.raises(CannotUndo, match="R-000001 was changed later, it is reserved"):
        room.undo(step.number)
    assert len(room.rack.all()) == 2


def test_many_offcuts_in_the_way_are_told_in_few_words(room: Room) -> None:
    step = room.rack.add([STRIP] * 30)
    room.rack.scrap(step.labels)
    with pytest.raises(CannotUndo, match="and 25 more"):
        room.undo(step.number)


def test_sheets_that_are_promised_stand_in_the_way(room: Room) -> None:
    step = room.sheets.add(G26, Fraction(48), Fraction(96), 5)
    room.sheets.add(G26, Fraction(48), Fraction(96), 2)
    room.plans.commit("p", "Bakery", needs(4))
    with pytest.raises(CannotUndo, match="2 would be left, and 4 are reserved"):
        room.undo(step.number)


def test_a_plan_that_went_on_stands_in_the_way(room: Room) -> None:
    stocked(room)
    step = room.plans.commit("p", "Bakery", needs(4))
    room.plans.cut("p")
    with pytest.raises(CannotUndo, match='"Bakery" went on with step 5 and is cut'):
        room.undo(step.number)


def test_a_plan_that_came_back_to_the_same_state_stands_in_the_way(room: Room) -> None:
    one, *_ = stocked(room)
    step = room.plans.commit("p", "Bakery", needs(4, one))
    room.plans.release("p")
    room.plans.commit("p", "Bakery", needs(4, one))
    with pytest.raises(CannotUndo, match="went on with step 5"):
        room.undo(step.number)
    assert room.plans.reserved("p") == needs(4, one)
    room.undo()
    room.undo()
    room.undo(step.number)
    assert room.sheets.get(G26).free == 10


def test_a_released_offcut_that_another_plan_holds_stands_in_the_way(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(0, one))
    step = room.plans.release("p")
    room.plans.commit("q", "Clinic", needs(0, one))
    with pytest.raises(CannotUndo, match=one):
        room.undo(step.number)


def test_a_price_set_later_stands_in_the_way(room: Room) -> None:
    stocked(room)
    first = room.sheets.price(G26, None)
    room.sheets.take_stock([Kind(G26, Fraction(48), Fraction(96), on_hand=10)])
    room.undo(first.number)
    second = room.sheets.price(G26, None)
    room.undo()
    with pytest.raises(CannotUndo):
        room.undo(second.number)
