"""The door to the database: every step is one transaction, done whole or not at all.

SQLite: write-ahead log, and a writer takes its place at once (BEGIN IMMEDIATE). PostgreSQL:
SERIALIZABLE, done anew where another was quicker. Readers see the room as it was when they began;
they neither wait nor make others wait.
"""

from __future__ import annotations

import logging
import random
from collections.abc import Callable
from time import sleep
from typing import TypeVar

import sqlalchemy as sa
from sqlalchemy.pool import ConnectionPoolEntry

from . import failures, places
from .errors import RoomBusy, RoomUnreachable

T = TypeVar("T")

SECONDS_TO_WAIT = 20
"""For another writer, or for a server to answer."""
TRIES = 40
FIRST_PAUSE = 0.002
LONGEST_PAUSE = 0.25

READING = "reading"


def connect(url: sa.URL) -> sa.Engine:
    """An engine for the database of a place."""
    return _sqlite(url) if url.get_backend_name() == "sqlite" else _postgres(url)


class Transactions:
    """The transactions of one database; may be used from several threads.

    Attributes:
        engine: of the database.
        place: its name for people.
    """

    def __init__(self, engine: sa.Engine) -> None:
        self.engine = engine
        self.place = places.shown(engine.url)

    def read(self, work: Callable[[sa.Connection], T]) -> T:
        """What `work` returns; all that it reads is of one moment. Raises RoomFailure."""
        return self._once(work, self.engine.execution_options(**self._reading))

    def write(self, work: Callable[[sa.Connection], T]) -> T:
        """What `work` returns, with all that it wrote; nothing is written where it raises.

        Args:
            work: is called again where another writer was quicker.

        Raises:
            RoomFailure: the database did not do it.
        """
        for attempt in range(TRIES):
            try:
                with self.engine.begin() as connection:
                    return work(connection)
            except sa.exc.TimeoutError as error:
                raise _crowded(self.place) from error
            except sa.exc.DBAPIError as error:
                if not failures.worth_another_try(error) or attempt == TRIES - 1:
                    raise failures.told(error, self.place) from error
            pause = min(LONGEST_PAUSE, FIRST_PAUSE * 2**attempt)
            sleep(random.uniform(0, pause))
        raise AssertionError("the last try returns or raises")

    def _once(self, work: Callable[[sa.Connection], T], engine: sa.Engine) -> T:
        try:
            with engine.begin() as connection:
                return work(connection)
        except sa.exc.TimeoutError as error:
            raise _crowded(self.place) from error
        except sa.exc.DBAPIError as error:
            raise failures.told(error, self.place) from error

    @property
    def _reading(self) -> dict[str, object]:
        if self.engine.dialect.name == "sqlite":
            return {READING: True}
        return {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}


def _crowded(place: str) -> RoomBusy:
    """All connections of this program have been in use for too long."""
    return RoomBusy(f"too many are at {place} at once. Nothing was changed: do it again.")


def _sqlite(url: sa.URL) -> sa.Engine:
    engine = sa.create_engine(
        url, connect_args={"isolation_level": None, "timeout": SECONDS_TO_WAIT}
    )
    sa.event.listen(engine, "connect", _set_up)
    sa.event.listen(engine, "begin", _begin)
    return engine


def _set_up(connection: object, _: ConnectionPoolEntry) -> None:
    cursor = connection.cursor()  # type: ignore[attr-defined]
    cursor.execute("PRAGMA foreign_keys = ON")
    cursor.execute("PRAGMA synchronous = FULL")
    cursor.close()


def _begin(connection: sa.Connection) -> None:
    reading = connection.get_execution_options().get(READING, False)
    connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")


def _postgres(url: sa.URL) -> sa.Engine:
    logging.getLogger("psycopg").setLevel(logging.ERROR)  # it warns of what is only done anew
    try:
        return sa.create_engine(
            url,
            isolation_level="SERIALIZABLE",
            pool_pre_ping=True,
            connect_args={
                "connect_timeout": SECONDS_TO_WAIT,
                "options": f"-c lock_timeout={SECONDS_TO_WAIT}s",
            },
        )
    except ModuleNotFoundError as error:
        raise RoomUnreachable(
            "a stock room on a PostgreSQL server needs psycopg: "
            "python -m pip install 'blankwright[postgres]'"
        ) from error
