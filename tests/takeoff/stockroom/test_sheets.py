from decimal import Decimal
from fractions import Fraction

import pytest

from takeoff.errors import UnknownGauge
from takeoff.stockroom import (
    Action,
    Kind,
    KindKey,
    ListRefused,
    NotAsSeen,
    NotThere,
    Room,
    TooFew,
    Unkeepable,
    WrongState,
)

from .samples import G24, G26, needs, stocked


def test_sheets_that_are_put_in_are_on_hand(room: Room) -> None:
    room.sheets.add(G26, Fraction(48), Fraction(96), 5, Decimal("36.40"))
    room.sheets.add(G26, Fraction(48), Fraction(96), 2)
    kind = room.sheets.get(G26)
    assert kind == Kind(G26, Fraction(48), Fraction(96), Decimal("36.40"), True, 7, 0)
    assert room.sheets.all() == (kind,)


def test_a_metal_may_be_called_by_its_short_name(room: Room) -> None:
    room.sheets.add(KindKey("galv", 26, "4 x 8"), Fraction(48), Fraction(96), 1)
    assert room.sheets.get(G26).on_hand == 1


@pytest.mark.parametrize(
    "width",
    [Fraction(47, 64), Fraction(1, 1000), Fraction(5, 127) / 10, Fraction(5, 127) / 1000, 600],
)
def test_sizes_come_back_exactly(room: Room, width: Fraction) -> None:
    room.sheets.add(G26, Fraction(width), Fraction(96), 1)
    assert room.sheets.get(G26).width == width


@pytest.mark.parametrize("width", [Fraction(1, 3), Fraction(1, 128), Fraction(0), Fraction(601)])
def test_sizes_that_cannot_be_kept_are_refused(room: Room, width: Fraction) -> None:
    with pytest.raises(Unkeepable, match="width"):
        room.sheets.add(G26, width, Fraction(96), 1)
    assert room.sheets.all() == ()


@pytest.mark.parametrize("price", ["0", "36.4", "57.2525", "1000000"])
def test_prices_come_back_exactly(room: Room, price: str) -> None:
    room.sheets.add(G26, Fraction(48), Fraction(96), 1, Decimal(price))
    assert room.sheets.get(G26).price == Decimal(price)


@pytest.mark.parametrize("price", ["-1", "0.00001", "1000001", "NaN", "Infinity"])
def test_prices_that_cannot_be_kept_are_refused(room: Room, price: str) -> None:
    with pytest.raises(Unkeepable, match="cost"):
        room.sheets.add(G26, Fraction(48), Fraction(96), 1, Decimal(price))


def test_an_unknown_gauge_is_refused(room: Room) -> None:
    with pytest.raises(UnknownGauge):
        room.sheets.add(KindKey("galvanized", 77, "x"), Fraction(48), Fraction(96), 1)


def test_another_size_needs_another_name(room: Room) -> None:
    stocked(room)
    with pytest.raises(WrongState, match="another name"):
        room.sheets.add(G26, Fraction(36), Fraction(96), 1)


def test_a_size_that_hardly_differs_is_told_so_that_it_differs(room: Room) -> None:
    room.sheets.add(G26, Fraction("48.01"), Fraction(96), 1)
    told = "is kept as 48.01 in x 96 in"
    with pytest.raises(WrongState, match=f"{told}, not as 48 in x 96 in: give another"):
        room.sheets.add(G26, Fraction(48), Fraction(96), 1)
    with pytest.raises(ListRefused) as caught:
        room.sheets.take_stock([Kind(G26, Fraction(48), Fraction(96), on_hand=1)])
    (refused,) = caught.value.refused
    assert f"{told} in the same metal and gauge, not as 48 in x 96 in" in str(refused.fault)


@pytest.mark.parametrize("counted", [0, 3, 10, 14])
def test_a_count_writes_the_difference(room: Room, counted: int) -> None:
    stocked(room, sheets=10)
    room.sheets.count(G26, counted, "counted by hand")
    last = room.sheets.history(G26)[-1]
    assert (last.count, last.step.action) == (counted - 10, Action.COUNT_SHEETS)
    assert (last.step.who, last.step.note) == ("Ann", "counted by hand")
    assert room.sheets.get(G26).on_hand == counted


def test_sheets_are_counted_and_priced_only_as_they_were_seen(room: Room) -> None:
    stocked(room, sheets=10)
    seen = room.sheets.get(G26)
    room.sheets.price(G26, Decimal("40"), seen=seen)
    room.sheets.count(G26, 9, seen=seen)
    for late in (
        lambda: room.sheets.price(G26, Decimal("41"), seen=seen),
        lambda: room.sheets.count(G26, 8, seen=seen),
    ):
        with pytest.raises(NotAsSeen, match="26 ga"):
            late()
    assert (room.sheets.get(G26).on_hand, room.sheets.get(G26).price) == (9, Decimal("40"))


def test_no_fewer_can_be_counted_than_are_promised(room: Room) -> None:
    stocked(room, sheets=10)
    room.plans.commit("p", "Bakery", needs(4))
    with pytest.raises(TooFew, match="4 are reserved"):
        room.sheets.count(G26, 3)
    room.sheets.count(G26, 4)
    assert room.sheets.get(G26).free == 0


def test_price_and_buying_are_changed_and_changed_back(room: Room) -> None:
    stocked(room)
    room.sheets.price(G26, Decimal("40.05"))
    room.sheets.buy(G26, False)
    kind = room.sheets.get(G26)
    assert (kind.price, kind.bought) == (Decimal("40.05"), False)
    room.undo()
    room.undo()
    kind = room.sheets.get(G26)
    assert (kind.price, kind.bought) == (Decimal("36.40"), True)
    room.sheets.price(G26, None)
    assert room.sheets.get(G26).price is None


def test_a_kind_that_is_not_there_is_told(room: Room) -> None:
    for ask in (room.sheets.get, room.sheets.history):
        with pytest.raises(NotThere, match='26 ga "4 x 8"'):
            ask(G26)
    with pytest.raises(NotThere):
        room.sheets.count(G26, 1)


def test_a_whole_count_sets_what_it_names_and_no_more(room: Room) -> None:
    stocked(room, sheets=10)
    new = KindKey("galvanized", 22, "4 x 8")
    size = Fraction(48), Fraction(96)
    room.sheets.take_stock(
        [Kind(G26, *size, on_hand=3), Kind(new, *size, Decimal("58"), on_hand=2)]
    )
    counts = {kind.key: (kind.on_hand, kind.price) for kind in room.sheets.all()}
    assert counts == {
        G26: (3, Decimal("36.40")),
        G24: (10, None),
        new: (2, Decimal("58.00")),
    }
    room.undo()
    counts = {kind.key: (kind.on_hand, kind.price) for kind in room.sheets.all()}
    assert (counts[G26][0], counts[new][0]) == (10, 0)
    assert not room.sheets.get(new).bought


def test_all_that_is_wrong_with_a_whole_count_is_told_and_nothing_done(room: Room) -> None:
    stocked(room, sheets=10)
    room.plans.commit("p", "Bakery", needs(4))
    size = Fraction(48), Fraction(96)
    with pytest.raises(ListRefused) as caught:
        room.sheets.take_stock(
            [
                Kind(KindKey("galvanized", 22, "a"), *size, on_hand=1),
                Kind(G26, *size, on_hand=3),
                Kind(G24, *size, on_hand=1),
                Kind(KindKey("galvanized", 22, "a"), *size, on_hand=1),
                Kind(KindKey("galvanized", 22, " "), Fraction(1, 3), Fraction(96), Decimal(-1)),
            ]
        )
    found = [(each.index, each.fault.column) for each in caught.value.refused]
    assert found == [
        (1, "qty"),
        (2, "stock"),
        (3, "stock"),
        (4, "stock"),
        (4, "width"),
        (4, "cost"),
    ]
    assert {kind.key: kind.on_hand for kind in room.sheets.all()} == {G26: 10, G24: 10}
