"""Tokens and sessions that are forged, of another, or old: nothing is done for them."""

import time

import pytest
from starlette.testclient import TestClient

from takeoff.web.app import build
from takeoff.web.asking import TOKEN
from takeoff.web.desk import Desk
from takeoff.web.door import WORK_WEEK

from .conftest import HOME, Visitor, inputs

TOKEN_LIKE = {"a list": "x", "nothing": "", "letters beyond ASCII": "é" * 32, "long": "x" * 10_000}


@pytest.mark.parametrize("token", TOKEN_LIKE.values(), ids=TOKEN_LIKE)
def test_tokens_that_are_none(visitor: Visitor, desk: Desk, token: str) -> None:
    visitor.get("/jobs")
    assert visitor.client.post("/jobs", data={"name": "x", TOKEN: token}).status_code == 403
    sent = visitor.client.post(
        "/jobs", data={"name": "x"}, headers={"X-CSRF-Token": token.encode()}
    )  # type: ignore[dict-item]
    assert sent.status_code == 403
    assert not desk.jobs.all()


COOKIES = {
    "nothing": "",
    "no signature": "eyJfY3NyZiI6ICJ4In0=",
    "the signature of another": "eyJfY3NyZiI6ICJ4In0=.aaaaaa.bbbbbbbbbbbbbbbbbbbbbbbbbbb",
    "dots": "." * 50,
    "beyond ASCII": "\u00e9\u00ff",
    "long": "A" * 7000,
    "null": "null",
}


@pytest.mark.parametrize("cookie", COOKIES.values(), ids=COOKIES)
def test_cookies_that_are_not_ours(visitor: Visitor, cookie: str) -> None:
    raw = {"Cookie": f"blankwright={cookie}".encode("latin-1")}
    assert visitor.client.get("/jobs", headers=raw).status_code == 200  # type: ignore[arg-type]


def test_a_token_of_another_session(visitor: Visitor, desk: Desk) -> None:
    with TestClient(build(desk, "a secret of the tests"), HOME) as other:
        theirs = inputs(other.get("/jobs").text)[TOKEN]
    visitor.get("/jobs")
    assert visitor.client.post("/jobs", data={"name": "x", TOKEN: theirs}).status_code == 403
    assert not desk.jobs.all()


def test_a_session_that_another_secret_signed_or_that_is_old(
    visitor: Visitor, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with TestClient(build(desk, "a guessed secret"), HOME) as forger:
        forged = inputs(forger.get("/jobs").text)[TOKEN]
        visitor.client.cookies.update(forger.cookies)
    assert visitor.client.post("/jobs", data={"name": "x", TOKEN: forged}).status_code == 403
    visitor.client.cookies.clear()
    token = visitor.token()
    sent = {"name": "in time", TOKEN: token}
    assert visitor.client.post("/jobs", data=sent).status_code == 200
    late = time.time() + WORK_WEEK + 60
    monkeypatch.setattr(time, "time", lambda: late)
    assert visitor.client.post("/jobs", data=sent).status_code == 403
    assert [head.name for head in desk.jobs.all()] == ["in time"]
