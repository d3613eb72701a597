"""A stock room on a PostgreSQL server: the same commands, and its password stays unseen."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from takeoff.stockroom import open_room
from tests.takeoff.stockroom.servers import NoServer, server

from .command import Command
from .test_commit import QUICK, Shop

PASSWORD = "S3cret"


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Of an empty database, with a password that a server trusting all does not ask for."""
    try:
        with server() as running:
            name = running.make()
            yield running.address(name, password=PASSWORD)
            running.drop(name)
    except NoServer as error:
        pytest.skip(str(error))


def test_plan_commit_and_cut_on_a_server(
    command: Command, address: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("BLANKWRIGHT_ROOM", raising=False)
    shop = Shop(command, tmp_path)
    here = ("--room", address)
    said = []
    for folder in ("mine", "theirs"):
        if folder == "mine":
            said.append(command("rack", "add", "galv", 26, 33, 66, *here))
        asked = ("plan", shop.job, "--stock", shop.stock, "--draw", "offcuts", *QUICK)
        said.append(command(*asked, "--out", folder, *here))
    said.append(command("commit", "theirs", *here))
    assert all(outcome.code == 0 for outcome in said), said
    refused = command("commit", "mine", *here)
    assert refused.code == 2
    assert "R-000001: reserved for plan" in refused.err
    assert "Plan again with your --room:\n  blankwright plan " in refused.err
    assert "***" not in refused.err
    again = command("commit", "mine", "--replan", *here)
    assert again.code == 0, again.err
    said.append(again)
    said += [refused, command("cut", "theirs", *here), command("rack", "list", *here)]
    said.append(command("rack", "history", "R-000001", *here))
    assert said[-1].code == 0
    with open_room(address) as room:
        assert room.audit() == ()
        assert len(room.rack.all()) > 0
    for outcome in said:
        assert PASSWORD not in outcome.out + outcome.err
    for name in command.files():
        path = command.folder / name
        assert path.is_dir() or PASSWORD.encode() not in path.read_bytes()
