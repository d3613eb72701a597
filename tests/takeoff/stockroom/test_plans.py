from fractions import Fraction

import pytest

from takeoff.stockroom import (
    Action,
    Needs,
    NewOffcut,
    NotThere,
    OffcutGone,
    OffcutState,
    PiecesGone,
    PlanState,
    Progress,
    Room,
    SheetNeed,
    SheetsGone,
    Unkeepable,
    WrongState,
)

from .samples import G24, G26, STRIP, needs, stocked


def test_a_commit_reserves_all_of_it(room: Room) -> None:
    one, two, *_ = stocked(room)
    step = room.plans.commit("p", "Bakery", needs(3, one, two), "plan")
    assert (step.action, step.plan) == (Action.COMMIT, "Bakery")
    kind = room.sheets.get(G26)
    assert (kind.on_hand, kind.reserved, kind.free) == (10, 3, 7)
    assert room.rack.get(one).state is OffcutState.RESERVED
    assert {one, two}.isdisjoint(offcut.label for offcut in room.rack.free())
    assert room.plans.reserved("p") == needs(3, one, two)
    plan = room.plans.get("p")
    assert (plan.state, plan.folder) == (PlanState.COMMITTED, "plan")


def test_what_a_plan_left_is_told_apart_from_that_of_its_namesake(room: Room) -> None:
    one, two, *_ = stocked(room)
    with pytest.raises(NotThere):
        room.plans.left("p")
    for key, label in (("p", one), ("q", two)):
        room.plans.commit(key, "Bakery", needs(1, label))
        assert room.plans.left(key) == ()
    mine = room.plans.cut("p", [STRIP, STRIP]).labels
    theirs = room.plans.cut("q", [STRIP]).labels
    assert tuple(each.label for each in room.plans.left("p")) == mine
    assert tuple(each.label for each in room.plans.left("q")) == theirs
    room.rack.scrap(mine[:1])
    assert tuple(each.label for each in room.plans.left("p")) == mine[1:]


def test_what_is_gone_is_told_and_nothing_is_reserved(room: Room) -> None:
    one, two, three, four = stocked(room)
    room.plans.commit("p", "Bakery", needs(8, one))
    room.rack.scrap([two])
    wanted = Needs((SheetNeed(G26, 3), SheetNeed(G24, 1)), (one, two, three, "R-000444", "mine"))
    assert room.plans.missing(wanted) == (gone := room_gone(one, two))
    with pytest.raises(PiecesGone) as caught:
        room.plans.commit("q", "Clinic", wanted)
    assert caught.value.gone == gone
    assert f'{one}: reserved for plan "Bakery"' in str(caught.value)
    assert {offcut.label for offcut in room.rack.free()} == {three, four}
    assert room.sheets.get(G24).free == 10
    with pytest.raises(NotThere):
        room.plans.get("q")


def room_gone(one: str, two: str) -> tuple[SheetsGone | OffcutGone, ...]:
    return (
        SheetsGone(G26, 3, 2),
        OffcutGone(one, OffcutState.RESERVED, "Bakery"),
        OffcutGone(two, OffcutState.SCRAPPED),
        OffcutGone("R-000444", None),
        OffcutGone("MINE", None),
    )


def test_the_same_commit_again_changes_nothing(room: Room) -> None:
    one, *_ = stocked(room)
    first = room.plans.commit("p", "Bakery", needs(3, one))
    assert room.plans.commit("p", "Bakery", needs(3, one.lower(), one)) == first
    assert room.sheets.get(G26).reserved == 3
    with pytest.raises(WrongState, match="other pieces"):
        room.plans.commit("p", "Bakery", needs(4, one))


def test_needs_of_one_kind_are_added_up(room: Room) -> None:
    stocked(room, sheets=3)
    twice = Needs((SheetNeed(G26, 2), SheetNeed(G26, 2)))
    with pytest.raises(PiecesGone) as caught:
        room.plans.commit("p", "Bakery", twice)
    assert caught.value.gone == (SheetsGone(G26, 4, 3),)


@pytest.mark.parametrize("qty", [0, -1])
def test_a_need_of_nothing_is_refused(room: Room, qty: int) -> None:
    stocked(room)
    with pytest.raises(Unkeepable):
        room.plans.commit("p", "Bakery", Needs((SheetNeed(G26, qty),)))


def test_a_release_gives_all_of_it_back(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    room.plans.release("p")
    assert room.sheets.get(G26).free == 10
    assert room.rack.get(one).state is OffcutState.ON_RACK
    assert room.plans.get("p").state is PlanState.RELEASED
    with pytest.raises(WrongState, match="nothing is reserved"):
        room.plans.release("p")
    room.plans.commit("p", "Bakery", needs(3, one))
    assert room.rack.get(one).holder == "Bakery"


def test_a_cut_takes_out_and_puts_on_the_rack(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    kept = NewOffcut("galvanized", 26, Fraction(9), Fraction(40), "bay 3", sheet="sheet 2")
    step = room.plans.cut("p", [kept, STRIP])
    assert step.labels == ("R-000005", "R-000006")
    assert (room.sheets.get(G26).on_hand, room.sheets.get(G26).reserved) == (7, 0)
    assert room.rack.get(one).state is OffcutState.USED
    left = room.rack.get("R-000005")
    assert (left.state, left.plan, left.sheet) == (OffcutState.ON_RACK, "Bakery", "sheet 2")
    for again in (lambda: room.plans.cut("p"), lambda: room.plans.commit("p", "x", needs(3))):
        with pytest.raises(WrongState, match="cut"):
            again()


def test_a_plan_of_bought_metal_may_leave_offcuts_too(room: Room) -> None:
    room.plans.commit("p", "Bakery", Needs())
    assert room.plans.cut("p", [STRIP]).labels == ("R-000001",)


def test_a_plan_must_be_known_and_committed_to_be_cut(room: Room) -> None:
    with pytest.raises(NotThere):
        room.plans.cut("p")
    room.plans.note("p", "Bakery")
    with pytest.raises(WrongState, match="nothing is reserved"):
        room.plans.cut("p")


def test_the_making_of_a_plan_is_followed(room: Room) -> None:
    room.plans.note("p", "Bakery", progress=Progress.QUEUED)
    room.plans.note("q", "Clinic", "folder of q")
    room.plans.follow("p", Progress.FAILED, "no sheet is wide enough")
    assert [plan.key for plan in room.plans.all()] == ["q", "p"]
    plan = room.plans.get("p")
    assert (plan.progress, plan.told) == (Progress.FAILED, "no sheet is wide enough")
    assert plan.state is PlanState.PLANNED
    assert plan.made <= plan.changed


def test_a_note_does_not_touch_what_is_reserved(room: Room) -> None:
    stocked(room)
    room.plans.commit("p", "Bakery", needs(3), "here")
    room.plans.note("p", "Bakery, second floor")
    assert room.plans.get("p").folder == "here"
    assert room.plans.get("p").state is PlanState.COMMITTED
    assert room.plans.reserved("p") == needs(3)
