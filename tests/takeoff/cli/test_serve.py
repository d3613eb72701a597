"""The page from the command line: where it listens, and what outlasts a restart."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2
import pytest

from takeoff.web.passwords import VARIABLE, fits, hashed

from .command import Command
from .served import served


@contextmanager
def visited(home: Path, *more: str, **variables: str) -> Iterator[httpx2.Client]:
    """A visitor of the command on a free port."""
    with (
        served(home, *more, **variables) as server,
        httpx2.Client(base_url=server.address, follow_redirects=True) as client,
    ):
        yield client


@pytest.mark.slow
def test_jobs_and_sessions_outlast_a_restart(tmp_path: Path) -> None:
    with visited(tmp_path) as client:
        page = client.get("/")
        assert page.status_code == 200
        token = re.findall(r'name="_csrf" value="([^"]+)"', page.text)[0]
        client.post("/jobs", data={"name": "Elm Street", "_csrf": token})
        cookies = dict(client.cookies)
    with visited(tmp_path) as client:
        client.cookies.update(cookies)
        assert "Elm Street" in client.get("/jobs").text
        sent = client.post("/jobs/1/copy", data={"_csrf": token})
        assert "Elm Street, copied" in sent.text
    (key,) = (tmp_path / "data").rglob("sessions.key")
    assert key.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    "beyond", [("--host", "0.0.0.0"), ("--host", "192.168.1.5"), ("--host", "::"),
               ("--host", "example.org"), ("--name", "shop.lan")]
)  # fmt: skip
def test_no_other_computer_reaches_it_without_a_password(
    command: Command, monkeypatch: pytest.MonkeyPatch, beyond: tuple[str, str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(command.folder))
    monkeypatch.delenv(VARIABLE, raising=False)
    outcome = command("serve", *beyond)
    assert outcome.code == 2
    assert "there is no password yet" in " ".join(outcome.err.replace("│", "").split())


def test_a_damaged_hash_opens_nothing(command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(command.folder))
    monkeypatch.setenv(VARIABLE, "scrypt$1$1$1$x$y")
    outcome = command("serve", "--host", "0.0.0.0")
    assert outcome.code == 2
    assert "damaged" in outcome.err


def test_a_password_is_asked_for_twice_and_shown_never(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = "snips brake shear 12"
    asked: list[dict[str, object]] = []

    def prompt(text: str, **how: object) -> str:
        asked.append(how)
        return words

    monkeypatch.setattr("typer.prompt", prompt)
    monkeypatch.setenv("XDG_DATA_HOME", str(command.folder))
    outcome = command("serve", "--set-password")
    assert outcome.code == 0
    assert asked == [{"hide_input": True, "confirmation_prompt": True}]
    assert words not in outcome.out + outcome.err
    (file,) = command.folder.rglob("password")
    assert words not in file.read_text()
    assert fits(words, file.read_text().strip())


@pytest.mark.slow
def test_beyond_this_computer_it_asks_for_the_password(tmp_path: Path) -> None:
    words = "snips brake shear 12"
    environment = {VARIABLE: hashed(words)}
    with visited(tmp_path, "--host", "0.0.0.0", "--name", "shop.lan", **environment) as client:
        page = client.get("/jobs")
        assert page.url.path == "/enter"
        token = re.findall(r'name="_csrf" value="([^"]+)"', page.text)[0]
        sent = {"password": words, "to": "/jobs", "_csrf": token}
        assert client.post("/enter", data=sent).url.path == "/jobs"
        assert client.get("/jobs", headers={"Host": "shop.lan"}).status_code == 200
        assert client.get("/jobs", headers={"Host": "192.168.1.5"}).status_code == 200
        assert client.get("/jobs", headers={"Host": "evil.example"}).status_code == 421
        client.cookies.clear()
        by_proxy = client.get("/enter", headers={"X-Forwarded-Proto": "https"})
        assert "; secure" in by_proxy.headers["set-cookie"]
