"""A stock room on each kind of database, sound before and after every test."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from itertools import count
from pathlib import Path

import pytest

from takeoff.stockroom import Room, open_room

from .servers import NoServer, Server, empty, server

Places = Callable[[], str]
"""Gives the place of an empty stock room at every call; the one of the last call is let go."""


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    with ExitStack() as stack:
        try:
            found = stack.enter_context(server())
        except NoServer as error:
            pytest.skip(str(error))
        yield found


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("room") / "empty.db"
    open_room(file).close()
    return file


@pytest.fixture
def file(empty_file: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(empty_file, tmp_path / "room.db"))


@pytest.fixture(scope="session")
def room_on_server(postgres: Server) -> Iterator[str]:
    with postgres.database() as name:
        open_room(postgres.address(name)).close()
        yield postgres.address(name)


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def new_places(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Places:
    if database == "sqlite":
        like = request.getfixturevalue("empty_file")
        numbers = count()

        def file() -> str:
            return str(shutil.copy(like, tmp_path / f"room{next(numbers)}.db"))

        return file
    on_server = str(request.getfixturevalue("room_on_server"))

    def emptied() -> str:
        empty(on_server)
        return on_server

    return emptied


@pytest.fixture
def place(new_places: Places) -> Iterator[str]:
    place = new_places()
    yield place
    with open_room(place) as room:
        assert room.audit() == ()


@pytest.fixture
def room(place: str) -> Iterator[Room]:
    with open_room(place, "Ann") as room:
        yield room
