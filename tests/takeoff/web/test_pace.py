"""Tokens by address: they run out, and come back with time."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient

from takeoff.web import pace
from takeoff.web.app import build
from takeoff.web.asking import TOKEN
from takeoff.web.desk import Desk
from takeoff.web.pace import Pace, Tokens, asker

from .conftest import HOME, inputs


@given(st.lists(st.floats(0, 5), max_size=60), st.integers(1, 9), st.floats(0.1, 3))
def test_never_more_than_the_pace_allows(pauses: list[float], most: int, a_second: float) -> None:
    now = 0.0
    tokens = Tokens(Pace(most, a_second), lambda: now)
    taken = 0
    for pause in pauses:
        now += pause
        wait = tokens.take("a")
        taken += not wait
        assert taken <= most + now * a_second + 1e-6
        if wait:
            now += wait + 1e-9
            assert tokens.take("a") == 0
            taken += 1


def test_each_address_has_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    tokens = Tokens(Pace(1, 0.1), lambda: 0.0)
    assert tokens.take("a") == 0
    assert tokens.take("a") == 10
    assert tokens.take("b") == 0


def test_so_many_addresses_are_kept_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pace, "MOST_ADDRESSES", 50)
    now = 0.0
    tokens = Tokens(Pace(2, 1), lambda: now)
    for number in range(1000):
        now += 0.001
        tokens.take(str(number))
        assert len(tokens._left) <= 50


def test_who_asks() -> None:
    def who(address: str) -> str:
        return asker({"type": "http", "client": (address, 1)})

    assert who("192.168.1.5") == "192.168.1.5"
    assert who("2001:db8::1") == who("2001:db8::2") != who("2001:db8:0:1::1")
    assert who("::ffff:10.0.0.1") != who("::ffff:10.0.0.2")
    assert asker({"type": "http", "client": None}) == ""


def test_forms_that_come_too_fast_are_refused(desk: Desk) -> None:
    app = build(desk, "a secret of the tests", pace=Pace(3, 0.01))
    with TestClient(app, HOME) as client:
        token = inputs(client.get("/jobs").text)[TOKEN]
        answers = [
            client.post("/jobs", data={"name": "n", TOKEN: token}, follow_redirects=False)
            for _ in range(5)
        ]
        assert client.get("/jobs").status_code == 200
    assert [answer.status_code for answer in answers] == [303, 303, 303, 429, 429]
    assert int(answers[-1].headers["retry-after"]) > 90
    assert len(desk.jobs.all()) == 3
