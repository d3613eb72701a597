"""The audit finds what is wrong: each invariant is broken once, behind the program's back."""

import pytest
import sqlalchemy as sa

from takeoff.stockroom import Room, open_room
from takeoff.stockroom.invariants import INVARIANTS, audit

from .conftest import Places
from .samples import STRIP, needs, stocked

BROKEN = {
    "sheets on hand": "UPDATE kinds SET on_hand = on_hand + 1 WHERE id = 2",
    "sheets promised": "UPDATE reservations SET qty = 2 WHERE kind_id = 1 AND state = 'live'",
    "more sheets": None,
    "an offcut's state": "UPDATE offcuts SET state = 'used' WHERE number = 2",
    "an offcut is reserved without": (
        "UPDATE reservations SET state = 'used', ended_by = 1 WHERE offcut = 1 AND state = 'live'"
    ),
    "a plan that is not": "UPDATE plans SET state = 'released' WHERE key = 'p'",
    "a plan's state": "UPDATE plans SET state = 'cut' WHERE key = 'q'",
    "a number above": "UPDATE room SET next_number = 2",
    "an undo": "UPDATE steps SET undoes = 1 WHERE undoes IS NOT NULL",
    "the rows of a job": "UPDATE job_rows SET position = 7",
}
"""By the start of the sentence that tells it; the checks of the tables forbid the one of None."""


def test_each_invariant_is_tried() -> None:
    assert [told for told in INVARIANTS if not told.startswith(tuple(BROKEN))] == []
    assert len(BROKEN) == len(INVARIANTS)


@pytest.mark.parametrize("told", BROKEN)
def test_what_is_wrong_is_found(new_places: Places, told: str) -> None:
    statement = BROKEN[told]
    if statement is None:
        statement = "ALTER TABLE kinds DROP CONSTRAINT ck_kinds_counts"
    with open_room(new_places()) as room:
        _used(room)
        assert room.audit() == ()
        if told == "more sheets":
            _hold_by_a_query(room)
            return
        with room._engine.connect() as connection:
            connection.exec_driver_sql(statement)
            found = audit(connection)
            connection.rollback()
        assert any(line.startswith(told) for line in found), found


def _used(room: Room) -> None:
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    room.plans.note("q", "Clinic")
    room.rack.add([STRIP])
    room.undo()
    from takeoff.lengths import INCH  # noqa: PLC0415

    job = room.jobs.create("Bakery", INCH)
    room.jobs.add_row(job.id, {"mark": "T1"})


def _hold_by_a_query(room: Room) -> None:
    """More promised than there are cannot be written, so the query is asked the other way round."""
    (query,) = (each for told, each in INVARIANTS.items() if told.startswith("more sheets"))
    other = query.replace("reserved < 0 OR on_hand < reserved", "reserved < 4 AND on_hand < 11")
    assert other != query
    with room._engine.connect() as connection:
        assert len(connection.execute(sa.text(query)).all()) == 0
        assert len(connection.execute(sa.text(other)).all()) == 2
