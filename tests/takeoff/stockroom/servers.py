"""A PostgreSQL server for the tests: a private one in a folder of its own, or one by URL."""

from __future__ import annotations

import os
import secrets
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path

import sqlalchemy as sa

from takeoff.stockroom.tables import metadata, room

VARIABLE = "BLANKWRIGHT_TEST_POSTGRES"
"""URL of a server on which the tests may make databases."""

USER = "postgres"
DEBIAN = Path("/usr/lib/postgresql")


class NoServer(Exception):
    """There is no PostgreSQL here; the text says what to do."""


class Server:
    """A server that databases can be made on.

    Attributes:
        url: of the database that is there from the start.
    """

    def __init__(self, url: sa.URL) -> None:
        self.url = url
        self._numbers = count()
        self._engine = sa.create_engine(
            url.set(drivername="postgresql+psycopg"),
            isolation_level="AUTOCOMMIT",
            poolclass=sa.NullPool,
        )

    @contextmanager
    def database(self, more: str = "") -> Iterator[str]:
        """The name of a new, empty database, which is gone afterwards."""
        name = self.make(more)
        try:
            yield name
        finally:
            self.drop(name)

    def make(self, more: str = "") -> str:
        """A new, empty database; its name."""
        name = f"room_{os.getpid()}_{next(self._numbers)}"
        self.run(f'CREATE DATABASE "{name}" {more}')
        return name

    def drop(self, name: str) -> None:
        """Take a database away, whoever is connected."""
        self.run(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')

    def run(self, statement: str) -> None:
        with self._engine.connect() as connection:
            connection.exec_driver_sql(statement)

    def address(self, name: str, **parts: object) -> str:
        """The URL of a database as a person would write it."""
        url = self.url.set(drivername="postgresql", database=name, **parts)
        return url.render_as_string(hide_password=False)


def empty(place: str) -> None:
    """Make a stock room on a server as good as new: quicker than a new database."""
    url = sa.make_url(place).set(drivername="postgresql+psycopg")
    engine = sa.create_engine(url, poolclass=sa.NullPool)
    try:
        with engine.begin() as connection:
            connection.exec_driver_sql("SET session_replication_role = replica")  # movements stay
            names = ", ".join(f'"{name}"' for name in metadata.tables)
            connection.exec_driver_sql(f"TRUNCATE {names} RESTART IDENTITY")
            first = {"id": 1, "identity": secrets.token_hex(16), "next_number": 1}
            connection.execute(sa.insert(room).values(first))
    finally:
        engine.dispose()


@contextmanager
def server() -> Iterator[Server]:
    """A server, for as long as it is needed. Raises NoServer."""
    if given := os.environ.get(VARIABLE):
        yield Server(sa.make_url(given))
        return
    programs = _programs()
    folder = Path(tempfile.mkdtemp(prefix="bwpg"))  # a short path: it holds the socket
    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    user = ("runuser", "-u", USER, "--") if as_root else ()
    try:
        if as_root:
            shutil.chown(folder, USER)
        _run(*user, programs / "initdb", "-D", folder / "data", *_WORDS, f"--username={USER}")
        control = (*user, programs / "pg_ctl", "-D", folder / "data", "-w")
        options = f"-F -k {folder} -c listen_addresses="
        _run(*control, "-l", folder / "log", "-o", options, "start")
        try:
            query = {"host": str(folder)}
            yield Server(sa.URL.create("postgresql", username=USER, database=USER, query=query))
        finally:
            _run(*control, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


_WORDS = ("--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync", "--no-instructions")


def _programs() -> Path:
    """The folder with initdb and pg_ctl. Debian keeps them off the path, by version."""
    if found := shutil.which("pg_ctl"):
        return Path(found).parent
    with suppress(OSError):
        for folder in sorted(DEBIAN.iterdir(), reverse=True):
            if (folder / "bin" / "pg_ctl").exists():
                return folder / "bin"
    raise NoServer(f"no PostgreSQL here: apt-get install postgresql, or set {VARIABLE}")


def _run(*words: str | Path) -> None:
    command: Sequence[str] = [str(word) for word in words]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False, cwd="/", stdin=subprocess.DEVNULL
    )
    if done.returncode:
        raise NoServer(f"{command} failed: {done.stdout}{done.stderr}")
