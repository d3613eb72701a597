"""Whatever a person writes comes back as it went in."""

from fractions import Fraction
from itertools import count

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from takeoff.stockroom import KindKey, Needs, NewOffcut, Room, SheetNeed, Unkeepable

from .samples import needs, stocked

NAMES = st.text(
    st.characters(exclude_characters="\0", exclude_categories=("Cs",)), min_size=1, max_size=40
).filter(str.strip)
MANY = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)

_numbers = count()


@MANY
@given(name=NAMES, note=NAMES)
@example(name="'; DROP TABLE kinds; --", note='"); DELETE FROM offcuts; --')
@example(name="x' OR '1'='1", note="1; UPDATE kinds SET on_hand = 0")
@example(name="%s %(name)s :name ? $1 {0} \\", note="\\'; SELECT pg_sleep(9); --")
@example(name="a\r\nb\tc", note="\u202e\u200d\ufeff\U0001f6e0 İıß\u0301")
def test_names_come_back(room: Room, name: str, note: str) -> None:
    key = KindKey("galvanized", 26, name)
    plan = f"{next(_numbers)}{note}"
    step = room.sheets.add(key, Fraction(48), Fraction(96), 1, note=note)
    assert room.sheets.get(key).key == key
    piece = NewOffcut("galvanized", 26, Fraction(9), Fraction(9), name, note)
    (label,) = room.rack.add([piece], note).labels
    room.plans.commit(plan, name, Needs((SheetNeed(key, 1),), (label,)), note)
    offcut = room.rack.get(label)
    assert (offcut.place, offcut.note, offcut.holder) == (name, note, name)
    assert (room.plans.get(plan).name, room.plans.get(plan).folder) == (name, note)
    assert room.step(step.number).note == note
    room.plans.cut(plan, [NewOffcut("galvanized", 26, Fraction(9), Fraction(9), sheet=name)])
    assert room.rack.history(label)[-1].step.plan == name
    assert room.audit() == ()


@pytest.mark.parametrize("bad", ["a\0b", "\ud800", "", "  ", "x" * 10_001])
def test_names_that_no_database_keeps_are_refused(room: Room, bad: str) -> None:
    one, *_ = stocked(room)
    with pytest.raises(Unkeepable):
        room.sheets.add(KindKey("galvanized", 26, bad), Fraction(48), Fraction(96), 1)
    with pytest.raises(Unkeepable):
        room.plans.commit("p", bad, needs(1))
    assert len(room.sheets.all()) == 2
    assert room.plans.all() == ()
    if bad.strip():
        with pytest.raises(Unkeepable):
            room.rack.change(one, note=bad)


def test_a_label_is_not_taken_for_sql(room: Room) -> None:
    one, *_ = stocked(room)
    asked = (one, "R-000002' OR '1'='1", "R-000002; DROP TABLE offcuts")
    assert [gone.label for gone in room.plans.missing(Needs((), asked))] == [
        each.upper() for each in asked[1:]
    ]
