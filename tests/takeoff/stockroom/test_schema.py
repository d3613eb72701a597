"""What the database itself refuses, whatever program asks; and that tables and migrations agree."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from takeoff.stockroom import Room, migrations
from takeoff.stockroom.tables import kinds, metadata, movements, offcuts, reservations, room, steps

from .samples import needs, stocked


@pytest.fixture
def program(room: Room) -> Iterator[sa.Connection]:
    """A program that goes to the tables directly; the room has one plan committed."""
    one, *_ = stocked(room)
    room.plans.commit("p", "Bakery", needs(3, one))
    room.plans.note("q", "Clinic")
    with room._engine.connect() as connection:
        yield connection
        connection.rollback()


def _reserve(**what: object) -> sa.Insert:
    common = {"plan_id": 2, "state": "live", "made_by": 1, "qty": 1}
    return sa.insert(reservations).values({**common, **what})


WRONG = {
    "an offcut promised twice": _reserve(offcut=1),
    "a kind promised twice to one plan": _reserve(plan_id=1, kind_id=1),
    "an offcut promised to nobody": _reserve(plan_id=99, offcut=2),
    "an offcut that is not there": _reserve(offcut=99),
    "two of one offcut": _reserve(offcut=2, qty=2),
    "a reservation of nothing": _reserve(),
    "a reservation of two things": _reserve(offcut=2, kind_id=2),
    "a live reservation that has ended": _reserve(offcut=2, ended_by=1),
    "an unknown state": sa.update(offcuts).values(state="lent"),
    "more promised than there is": sa.update(kinds).values(reserved=11),
    "less than nothing promised": sa.update(kinds).values(reserved=-1),
    "fewer than are promised": sa.insert(movements).values(
        step_id=1, kind_id=1, qty=-8, promised=0
    ),
    "a movement of nothing": sa.insert(movements).values(step_id=1, qty=1, promised=0),
    "two of an offcut in": sa.insert(movements).values(step_id=1, offcut=2, qty=2, promised=0),
    "a movement without a step": sa.insert(movements).values(
        step_id=99, kind_id=1, qty=1, promised=0
    ),
    "a movement written anew": sa.update(movements).values(qty=0),
    "a movement deleted": sa.delete(movements),
    "a step undone twice": sa.insert(steps).values(
        [{"action": "undo", "at": datetime.now(UTC), "undoes": 1}] * 2
    ),
    "a second room": sa.insert(room).values(id=2, identity="x", next_number=1),
    "an offcut without a size": sa.update(offcuts).values(width=0),
}


@pytest.mark.parametrize("statement", WRONG.values(), ids=WRONG.keys())
def test_a_wrong_program_is_refused(program: sa.Connection, statement: sa.Executable) -> None:
    with pytest.raises(sa.exc.DBAPIError) as caught:
        program.execute(statement)
    assert isinstance(caught.value, sa.exc.IntegrityError | sa.exc.ProgrammingError) or (
        "movements are never" in str(caught.value)
    )


def test_the_same_program_may_do_what_is_right(program: sa.Connection) -> None:
    program.execute(_reserve(offcut=2))
    program.execute(_reserve(kind_id=2))
    program.execute(sa.insert(movements).values(step_id=1, kind_id=1, qty=-7, promised=0))
    assert program.scalar(sa.select(kinds.c.on_hand).where(kinds.c.id == 1)) == 3


def test_the_tables_are_those_that_the_migrations_make(room: Room) -> None:
    with room._engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, metadata) == []


@pytest.fixture
def blank(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[sa.Engine]:
    """A database without tables."""
    if database == "sqlite":
        engine = sa.create_engine(sa.URL.create("sqlite", database=str(tmp_path / "blank.db")))
        yield engine
        engine.dispose()
        return
    server = request.getfixturevalue("postgres")
    with server.database() as name:
        engine = sa.create_engine(server.url.set(drivername="postgresql+psycopg", database=name))
        yield engine
        engine.dispose()


def test_checks_and_defaults_are_those_that_the_migrations_make(
    room: Room, blank: sa.Engine
) -> None:
    """Alembic does not compare them."""
    metadata.create_all(blank)
    as_migrated = _rules(room._engine)
    assert as_migrated == _rules(blank)
    assert len(as_migrated) > 90


def _rules(engine: sa.Engine) -> set[tuple[str, str, str]]:
    """Every constraint, index and column: table, name, rule."""
    found = set()
    inspector = sa.inspect(engine)
    for table in metadata.tables:
        for check in inspector.get_check_constraints(table):
            found.add((table, str(check["name"]), " ".join(check["sqltext"].split())))
        for index in inspector.get_indexes(table):
            options = index.get("dialect_options", {})
            where = {name: str(option) for name, option in options.items()}
            rule = f"{index['column_names']} {index['unique']} {where}"
            found.add((table, str(index["name"]), rule))
        for column in inspector.get_columns(table):
            rule = f"{column['type']} {column['nullable']} {column['default']}"
            found.add((table, column["name"], rule))
        for key in inspector.get_foreign_keys(table):
            found.add((table, str(key["name"]), f"{key['referred_table']} {key['options']}"))
    return found


def test_the_last_migration_is_named() -> None:
    scripts = ScriptDirectory(str(migrations.__path__[0]))
    assert scripts.get_heads() == [migrations.HEAD]
