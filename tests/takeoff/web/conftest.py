"""A desk with a stock room of its own, and a visitor who keeps cookies and sends forms."""

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import httpx2
import pytest
from starlette.testclient import TestClient

from takeoff.web.app import build
from takeoff.web.asking import TOKEN
from takeoff.web.desk import Desk

from .desks import desk_in

HOME = "http://localhost"
"""A name of ours; the page knows itself by no other."""


class _Inputs(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.values: dict[str, str] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "input" and given.get("name"):
            self.values[str(given["name"])] = given.get("value") or ""


class Visitor:
    """A browser without a script."""

    def __init__(self, client: TestClient) -> None:
        self.client = client

    def get(self, path: str, **more: object) -> httpx2.Response:
        return self.client.get(path, **more)  # type: ignore[arg-type]

    def post(
        self, path: str, values: dict[str, str] | None = None, **more: object
    ) -> httpx2.Response:
        """Send a form with the token that every form carries; redirects are followed."""
        sent = {TOKEN: self.token(), **(values or {})}
        return self.client.post(path, data=sent, **more)  # type: ignore[arg-type]

    def token(self) -> str:
        return inputs(self.client.get("/jobs").text)[TOKEN]


def inputs(page: str) -> dict[str, str]:
    """What stands in the input fields of a page, by name."""
    parser = _Inputs()
    parser.feed(page)
    return parser.values


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with desk_in(tmp_path) as desk:
        yield desk


@pytest.fixture
def visitor(desk: Desk) -> Iterator[Visitor]:
    with TestClient(build(desk, "a secret of the tests"), base_url=HOME) as client:
        yield Visitor(client)
