from fractions import Fraction

import pytest

from takeoff.stockroom import (
    Action,
    ListRefused,
    NewOffcut,
    NotAsSeen,
    NotThere,
    OffcutState,
    Room,
    Unkeepable,
    WrongState,
)

from .samples import PLATE, STRIP, needs, stocked


def test_offcuts_get_labels_in_their_order(room: Room) -> None:
    step = room.rack.add([STRIP, PLATE])
    assert step.labels == ("R-000001", "R-000002")
    strip, plate = room.rack.free()
    assert (strip.width, strip.length, strip.place) == (Fraction(35, 2), Fraction(61), "bay 1")
    assert (plate.width, plate.note) == (Fraction(2000, 127), "one corner bent")
    assert room.rack.get("r-000002 ") == plate


def test_a_size_between_two_steps_is_kept_as_the_smaller(room: Room) -> None:
    (label,) = room.rack.add([NewOffcut("galvanized", 26, Fraction(52, 3), Fraction(61))]).labels
    kept = room.rack.get(label).width
    assert 0 < Fraction(52, 3) - kept < Fraction(1, 1_000_000)


def test_an_offcut_is_changed_and_scrapped_only_as_it_was_seen(room: Room) -> None:
    (label,) = room.rack.add([STRIP]).labels
    seen = room.rack.get(label)
    room.rack.change(label, "bay 9", seen=seen)
    for late in (
        lambda: room.rack.change(label, "bay 4", seen=seen),
        lambda: room.rack.scrap([label], seen=[seen]),
    ):
        with pytest.raises(NotAsSeen, match=label):
            late()
    room.rack.scrap([label], seen=[room.rack.get(label)])
    assert room.rack.all() == ()


def test_no_offcut_is_kept_when_one_cannot_be(room: Room) -> None:
    bad = NewOffcut("galvanized", 26, Fraction(0), Fraction(61))
    with pytest.raises(Unkeepable, match="width"):
        room.rack.add([STRIP, bad])
    assert room.rack.all() == ()
    assert room.rack.add([STRIP]).labels == ("R-000001",)


def test_labels_are_never_given_twice(room: Room) -> None:
    first = room.rack.add([STRIP] * 2).labels
    room.undo()
    assert not set(first) & set(room.rack.add([STRIP] * 2).labels)


def test_scrapped_offcuts_are_gone_and_known(room: Room) -> None:
    one, two, *_ = stocked(room)
    room.rack.scrap([one], "rust")
    assert room.rack.get(one).state is OffcutState.SCRAPPED
    assert one not in {offcut.label for offcut in room.rack.all()}
    assert [movement.count for movement in room.rack.history(one)] == [1, -1]
    with pytest.raises(WrongState, match="scrapped"):
        room.rack.scrap([two, one])
    assert room.rack.get(two).state is OffcutState.ON_RACK


def test_promised_offcuts_are_not_scrapped(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(0, one))
    with pytest.raises(WrongState, match='"Bakery"'):
        room.rack.scrap([one])
    assert room.rack.get(one).holder == "Bakery"


def test_an_offcut_moves_to_another_place(room: Room) -> None:
    one, *_ = stocked(room)
    room.rack.change(one, place="bay 9")
    assert (room.rack.get(one).place, room.rack.get(one).note) == ("bay 9", "")
    last = room.rack.history(one)[-1]
    assert (last.step.action, last.before, last.after) == (
        Action.CHANGE_OFFCUT,
        {"place": "bay 1"},
        {"place": "bay 9"},
    )
    room.undo()
    assert room.rack.get(one).place == "bay 1"


def test_what_is_thrown_away_has_no_place(room: Room) -> None:
    one, *_ = stocked(room)
    room.rack.scrap([one])
    with pytest.raises(WrongState, match="not on the rack any more"):
        room.rack.change(one, place="bay 9")
    assert room.rack.get(one).place == "bay 1"


@pytest.mark.parametrize("label", ["R-000099", "R-99", "12", "", "R-0000001"])
def test_a_label_that_is_not_there_is_told(room: Room, label: str) -> None:
    for ask in (room.rack.get, room.rack.history, lambda each: room.rack.scrap([each])):
        with pytest.raises(NotThere):
            ask(label)


def test_labels_of_an_import_stay_and_new_ones_come_after(room: Room) -> None:
    room.rack.import_labelled([("R-000007", STRIP), ("", PLATE), ("R-000003", STRIP)])
    kept = {offcut.label: offcut.gauge for offcut in room.rack.all()}
    assert kept == {"R-000003": 26, "R-000007": 26, "R-000008": 24}
    assert room.rack.add([STRIP]).labels == ("R-000009",)


def test_all_that_is_wrong_with_an_import_is_told_and_nothing_kept(room: Room) -> None:
    stocked(room, strips=2)
    bad = NewOffcut("galvanized", 26, Fraction(0), Fraction(700), "a\0b")
    with pytest.raises(ListRefused) as caught:
        room.rack.import_labelled(
            [("R-000001", STRIP), ("R-000009", STRIP), ("R-000009", STRIP), ("9", STRIP), ("", bad)]
        )
    found = [(each.index, each.fault.column) for each in caught.value.refused]
    assert found == [
        (0, "label"),
        (2, "label"),
        (3, "label"),
        (4, "width"),
        (4, "length"),
        (4, "place"),
    ]
    assert len(room.rack.all()) == 2
    assert room.rack.used_labels() == {"R-000001", "R-000002"}


@pytest.mark.slow
def test_fifty_thousand_offcuts_are_taken_in_at_once(room: Room) -> None:
    pieces = [
        (
            "",
            NewOffcut("galvanized", 26, Fraction(width, 64), Fraction(length), f"bay {width % 40}"),
        )
        for width in range(320, 820)
        for length in range(10, 110)
    ]
    step = room.rack.import_labelled(pieces)
    free = room.rack.free()
    assert len(step.labels) == len(free) == 50_000
    assert [(offcut.width, offcut.length) for offcut in free[:2]] == [(5, 10), (5, 11)]


def test_a_label_that_leaves_room_for_others_is_taken_and_a_higher_one_refused(room: Room) -> None:
    assert room.rack.import_labelled([("R-999999", STRIP)]).labels == ("R-999999",)
    assert room.rack.add([STRIP]).labels == ("R-1000000",)
    assert room.rack.get("r-1000000").label == "R-1000000"
    assert room.rack.import_labelled([("R-9999999", STRIP)]).labels == ("R-9999999",)
    for label in ("R-10000000", "R-999999999"):
        with pytest.raises(ListRefused, match="Give up to R-9999999"):
            room.rack.import_labelled([(label, STRIP)])
    assert room.rack.add([STRIP]).labels == ("R-10000000",)
