"""By what names the page lets itself be called, and whose forms it takes."""

import pytest

from takeoff.web.desk import Desk
from takeoff.web.names import Names

from .conftest import Visitor

OURS = ("localhost", "localhost:8765", "127.0.0.1:80", "[::1]:8765", "127.8.8.8", "LOCALHOST.")
FOREIGN = (
    "",
    "evil.example",
    "localhost.evil.example",
    "evil.example:8765",
    "127.0.0.1.evil.example",
    "localhost@evil.example",
    "evil.example/localhost",
    "192.168.1.5",
    "[::1",
    "0x7f.1",
    "local host",
    "localhost:1:2",
    "localhost:80\r\nX: 1",
)


@pytest.mark.parametrize("host", OURS)
def test_names_of_loopback(host: str) -> None:
    assert Names().know(host)


@pytest.mark.parametrize("host", FOREIGN)
def test_foreign_names(host: str) -> None:
    assert not Names().know(host)


def test_names_that_were_given() -> None:
    names = Names(frozenset({"shop.lan"}), any_address=True)
    for host in ("shop.lan", "SHOP.lan:8765", "192.168.1.5:8765", "[fe80::1]"):
        assert names.know(host)
    assert not names.know("evil.example")
    assert not Names(frozenset({"shop.lan"})).know("192.168.1.5")


def test_a_page_that_lends_its_name_to_this_computer_gets_nothing(visitor: Visitor) -> None:
    page = visitor.get("/jobs", headers={"Host": "evil.example:8765"})
    assert page.status_code == 421
    assert "set-cookie" not in page.headers
    assert "evil" not in page.text
    assert page.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://localhost:9999"},
        {"Origin": ""},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_forms_of_foreign_pages_even_with_the_token(
    visitor: Visitor, desk: Desk, headers: dict[str, str]
) -> None:
    page = visitor.post("/jobs", {"name": "theirs"}, headers=headers)
    assert page.status_code == 403
    assert not desk.jobs.all()


def test_forms_of_our_own(visitor: Visitor, desk: Desk) -> None:
    headers = {"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}
    visitor.post("/jobs", {"name": "ours"}, headers=headers)
    assert [head.name for head in desk.jobs.all()] == ["ours"]
