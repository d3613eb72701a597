"""Readers neither wait nor make others wait; writers wait for one another, and not for ever."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread

import pytest
import sqlalchemy as sa

from takeoff.stockroom import Room, RoomBusy, open_room, transactions
from takeoff.stockroom.tables import kinds

from .samples import G26, needs, stocked

PATIENCE = 20


@contextmanager
def writer(place: str) -> Iterator[None]:
    """Someone who has written and has not come to the end."""
    here, go_on = Event(), Event()

    def work(connection: sa.Connection) -> None:
        connection.execute(sa.update(kinds).values(bought=False))
        here.set()
        assert go_on.wait(PATIENCE)

    def write() -> None:
        with open_room(place) as other:
            other._transactions.write(work)

    thread = Thread(target=write)
    thread.start()
    try:
        assert here.wait(PATIENCE)
        yield
    finally:
        go_on.set()
        thread.join()


def test_readers_do_not_wait_for_a_writer(room: Room, place: str) -> None:
    one, *_ = stocked(room)
    with writer(place):
        assert room.sheets.get(G26).bought
        assert room.rack.get(one).label == one
        assert len(room.steps()) == 3
        with open_room(place) as third:
            assert third.audit() == ()
    assert not room.sheets.get(G26).bought


def test_writers_do_not_wait_for_a_reader(room: Room, place: str) -> None:
    stocked(room)
    query = sa.select(kinds.c.on_hand).order_by(kinds.c.id)

    def read(connection: sa.Connection) -> tuple[int, int]:
        first = connection.scalars(query).all()[0]
        with open_room(place) as other:
            other.sheets.count(G26, 3)
        return first, connection.scalars(query).all()[0]

    assert room._transactions.read(read) == (10, 10)
    assert room.sheets.get(G26).on_hand == 3


def test_a_writer_does_not_wait_for_ever(place: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(transactions, "SECONDS_TO_WAIT", 1)
    monkeypatch.setattr(transactions, "TRIES", 2)
    with open_room(place) as room:
        stocked(room)
        with writer(place), pytest.raises(RoomBusy, match="do it again"):
            room.sheets.buy(G26, True)
        room.plans.commit("p", "Bakery", needs(1))


def test_what_was_overtaken_is_done_anew(room: Room, place: str) -> None:
    """PostgreSQL refuses the one that read what another has changed; it is called again."""
    stocked(room, sheets=10)
    calls = []

    def work(connection: sa.Connection) -> None:
        had = connection.scalars(sa.select(kinds.c.on_hand).order_by(kinds.c.id)).all()[0]
        calls.append(had)
        if len(calls) == 1 and room._engine.dialect.name == "postgresql":
            with open_room(place) as other:
                other.sheets.buy(G26, False)
        connection.execute(sa.update(kinds).where(kinds.c.id == 1).values(price=had))

    room._transactions.write(work)
    assert len(calls) == (2 if room._engine.dialect.name == "postgresql" else 1)
    assert not room.sheets.get(G26).bought or len(calls) == 1
