"""Sets a new stock room up, and brings one of an older version up to date."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from threading import Lock

import sqlalchemy as sa
from sqlalchemy import exc

from . import failures, places
from .errors import NewerRoom, NotARoom
from .migrations import HEAD
from .tables import room

LOCK = 6_402_025
"""Of PostgreSQL: one sets the tables up while others wait. Any number will do."""

_ONE_AT_A_TIME = Lock()
"""Alembic keeps what it is at in one place for the whole process."""


def bring_up_to_date(engine: sa.Engine) -> None:
    """Leave the database with the tables of this version.

    Raises:
        NewerRoom: it has those of a later one.
        NotARoom: it is that of another program.
        RoomFailure: it cannot be opened or written.
    """
    place = places.shown(engine.url)
    try:
        if _revision(engine) == HEAD:
            return
        _keep_a_log(engine)
        with _ONE_AT_A_TIME, _alone(engine) as connection:
            _upgrade(connection, place)
    except exc.DBAPIError as error:
        raise failures.told(error, place) from error


def _revision(engine: sa.Engine) -> str | None:
    """The version of the tables, None where there are none."""
    with engine.connect().execution_options(reading=True) as connection:
        return _read_revision(connection)


def _read_revision(connection: sa.Connection) -> str | None:
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    found = connection.scalar(sa.text("SELECT version_num FROM alembic_version"))
    return None if found is None else str(found)


def _keep_a_log(engine: sa.Engine) -> None:
    """Have SQLite write ahead, so that readers and a writer do not meet; the file remembers it."""
    if engine.dialect.name == "sqlite":
        connection = engine.raw_connection()
        try:
            connection.cursor().execute("PRAGMA journal_mode = WAL").close()
        finally:
            connection.close()


@contextmanager
def _alone(engine: sa.Engine) -> Iterator[sa.Connection]:
    """A transaction while no one else sets the tables up, which sees what others have done."""
    if engine.dialect.name == "postgresql":
        engine = engine.execution_options(isolation_level="READ COMMITTED")
    with engine.begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(sa.select(sa.func.pg_advisory_xact_lock(LOCK)))
        yield connection


def _upgrade(connection: sa.Connection, place: str) -> None:
    revision = _read_revision(connection)
    if revision == HEAD:
        return
    names = set(sa.inspect(connection).get_table_names())
    if (revision is None and names) or (revision is not None and room.name not in names):
        raise NotARoom(f"{place} is a database of another program: name an empty or a new one.")
    if revision is not None and revision not in _known():
        raise NewerRoom(
            f"{place} was set up by a newer blankwright: install the newer version here too."
        )
    _run(connection)
    if revision is None:
        values = {"id": 1, "identity": secrets.token_hex(16), "next_number": 1}
        connection.execute(sa.insert(room).values(values))


def _known() -> set[str]:
    folder = Path(str(files("takeoff.stockroom"))) / "migrations" / "versions"
    return {path.name[1:5] for path in folder.glob("v[0-9]*.py")}


def _run(connection: sa.Connection) -> None:
    from alembic import command  # noqa: PLC0415 - slow to import, and seldom needed
    from alembic.config import Config  # noqa: PLC0415

    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", "takeoff.stockroom:migrations")
    config.set_main_option("path_separator", "os")
    command.upgrade(config, "head")
