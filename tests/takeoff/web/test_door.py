"""The password: what is kept of it, who gets in with it, and how often one may try."""

import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from takeoff.web import passwords
from takeoff.web.app import build
from takeoff.web.asking import TOKEN
from takeoff.web.desk import Desk
from takeoff.web.door import WORK_WEEK, Door
from takeoff.web.passwords import BadPassword, fits, hashed, keep, kept_in

from .conftest import HOME, inputs

WORDS = "snips brake shear 12"
with pytest.MonkeyPatch.context() as patch:
    patch.setattr(passwords, "COST", 2**10)
    KEPT = hashed(WORDS)
"""Cheap to try, for these tests."""


class Clock:
    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def client(desk: Desk, clock: Clock) -> Iterator[TestClient]:
    with TestClient(build(desk, "a secret of the tests", Door(KEPT, clock)), HOME) as opened:
        yield opened


def enter(client: TestClient, password: str = WORDS, to: str = "/jobs") -> int:
    token = inputs(client.get(f"/enter?to={to}").text)[TOKEN]
    sent = {"password": password, "to": to, TOKEN: token}
    return client.post("/enter", data=sent).status_code


def test_only_a_hash_is_kept_and_no_two_are_alike() -> None:
    other = hashed(WORDS)
    assert other != KEPT
    assert WORDS not in KEPT
    assert fits(WORDS, KEPT)
    assert fits(WORDS, other)
    assert not fits(WORDS.upper(), KEPT)
    assert not fits("", KEPT)
    assert not fits("\ud800", KEPT)
    assert not fits("x" * 5_000_000, KEPT)


@pytest.mark.parametrize("password", ["", "short", "x" * 201])
def test_passwords_that_will_not_do(password: str) -> None:
    with pytest.raises(BadPassword):
        hashed(password)


@pytest.mark.parametrize(
    "kept",
    [
        "",
        "plain words",
        "scrypt$32768$8$3$AAAA",
        "scrypt$32768$8$3$!!$!!",
        "scrypt$1073741824$8$3$AAAA$AAAA",
        "scrypt$-2$8$3$AAAA$AAAA",
        "scrypt$32767$8$3$AAAA$AAAA",
        "scrypt$2$8$3$AAAA$AAAA",
        "scrypt$32768$8$3000000$AAAA$AAAA",
        "md5$1$1$1$AAAA$AAAA",
    ],
)
def test_hashes_that_are_none(kept: str, tmp_path: Path) -> None:
    with pytest.raises(BadPassword, match="damaged"):
        fits(WORDS, kept)
    (tmp_path / passwords.FILE).write_text(kept)
    with pytest.raises(BadPassword, match="damaged"):
        kept_in(tmp_path)


def test_the_hash_is_kept_for_the_user_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(passwords.VARIABLE, raising=False)
    assert kept_in(tmp_path / "none") == ""
    file = keep(WORDS, tmp_path / "new")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert fits(WORDS, kept_in(tmp_path / "new"))
    assert [path.name for path in file.parent.iterdir()] == [passwords.FILE]
    monkeypatch.setenv(passwords.VARIABLE, KEPT)
    assert kept_in(tmp_path / "none") == KEPT


@pytest.mark.parametrize("path", ["/", "/jobs", "/jobs/1", "/jobs/1/job.csv", "/nothing", "/leave"])
def test_outside_nothing_is_shown(client: TestClient, desk: Desk, path: str) -> None:
    desk.jobs.create("Elm", desk.shop().profile.unit)
    page = client.get(path)
    assert page.url.path == "/enter"
    assert "Elm" not in page.text
    assert client.get(path, headers={"HX-Request": "true"}).headers["HX-Redirect"] == "/enter"


def test_outside_nothing_is_changed(client: TestClient, desk: Desk) -> None:
    token = inputs(client.get("/enter").text)[TOKEN]
    page = client.post("/jobs", data={"name": "theirs", TOKEN: token})
    assert page.status_code == 401
    assert "You are logged out" in page.text
    assert not desk.jobs.all()


def test_in_and_out(client: TestClient) -> None:
    outside = client.cookies.get("blankwright")
    assert enter(client) == 200
    page = client.get("/jobs")
    assert page.url.path == "/jobs"
    assert "Log out" in page.text
    assert client.cookies.get("blankwright") != outside
    copied = client.cookies.get("blankwright")
    client.post("/leave", data={TOKEN: inputs(page.text)[TOKEN]})
    assert client.get("/jobs").url.path == "/enter"
    client.cookies.set("blankwright", str(copied))  # worth nothing any more
    assert client.get("/jobs").url.path == "/enter"


def test_the_token_of_before_is_worth_nothing_inside(client: TestClient, desk: Desk) -> None:
    token = inputs(client.get("/enter").text)[TOKEN]
    enter(client)
    assert client.post("/jobs", data={"name": "theirs", TOKEN: token}).status_code == 403
    assert not desk.jobs.all()


def test_a_session_ends(client: TestClient, clock: Clock) -> None:
    enter(client)
    clock.now += WORK_WEEK - 1
    assert client.get("/jobs").url.path == "/jobs"
    clock.now += 2
    assert client.get("/jobs").url.path == "/enter"


def test_a_restart_asks_again(client: TestClient, desk: Desk) -> None:
    enter(client)
    with TestClient(build(desk, "a secret of the tests", Door(KEPT)), HOME) as after:
        after.cookies.update(client.cookies)
        assert after.get("/jobs").url.path == "/enter"


def test_wrong_passwords_and_how_often(client: TestClient, clock: Clock) -> None:
    told = [enter(client, "not the password") for _ in range(5)]
    assert told == [403] * 5
    token = inputs(client.get("/enter").text)[TOKEN]
    sent = {"password": WORDS, "to": "/", TOKEN: token}
    page = client.post("/enter", data=sent)
    assert page.status_code == 403
    assert "Too many tries. Wait 10 seconds." in page.text
    assert client.get("/jobs").url.path == "/enter"
    clock.now += 11
    assert enter(client) == 200
    assert client.get("/jobs").url.path == "/jobs"


@pytest.mark.parametrize(
    "to",
    ["//evil.example", "https://evil.example", "/\\evil.example", "javascript:alert(1)", "", "x"]
)  # fmt: skip
def test_it_leads_nowhere_else(client: TestClient, to: str) -> None:
    token = inputs(client.get("/enter", params={"to": to}).text)[TOKEN]
    sent = {"password": WORDS, "to": to, TOKEN: token}
    page = client.post("/enter", data=sent, follow_redirects=False)
    assert page.headers["location"] == "/"


def test_it_leads_back_to_where_one_wanted_to_go(client: TestClient) -> None:
    page = client.get("/jobs?page=2")
    assert inputs(page.text)["to"] == "/jobs?page=2"


def test_without_a_password_nobody_is_asked(desk: Desk) -> None:
    with TestClient(build(desk), HOME) as client:
        assert client.get("/enter").url.path == "/jobs"
        assert "Log out" not in client.get("/jobs").text


def test_behind_https_the_cookie_goes_nowhere_else(desk: Desk) -> None:
    with TestClient(build(desk), "https://localhost") as client:
        cookie = client.get("/jobs").headers["set-cookie"].casefold()
    for word in ("secure", "httponly", "samesite=strict"):
        assert word in cookie
