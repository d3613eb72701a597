"""What holds for every page: whose form it is, headers, and errors without a traceback."""

from collections.abc import Callable

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from takeoff.errors import TakeoffError
from takeoff.web import pages
from takeoff.web.app import build
from takeoff.web.asking import Ask, get
from takeoff.web.desk import Desk

from .conftest import HOME, Visitor
from .jobs_kept import DUCT, kept

FORMS = [route for route in pages.routes() if "POST" in (route.methods or ())]


@pytest.mark.parametrize("route", FORMS, ids=lambda route: route.path)
def test_no_form_is_taken_without_its_token(visitor: Visitor, desk: Desk, route: Route) -> None:
    job = kept(desk, DUCT)
    path = (
        route.path.replace("{job:int}", str(job.id))
        .replace("{row}", job.rows[0].key)
        .replace("{family}", "end-cap")
    )
    for token in ({}, {"_csrf": ""}, {"_csrf": "x" * 32}):
        page = visitor.client.post(path, data={"name": "theirs", "_do": "keep", **token})
        assert page.status_code == 403, path
    assert desk.jobs.get(job.id) == job
    assert len(desk.jobs.all()) == 1


def test_headers(visitor: Visitor) -> None:
    page = visitor.get("/jobs")
    assert "default-src 'self'" in page.headers["content-security-policy"]
    assert page.headers["cache-control"] == "no-store"
    assert "SameSite=strict".casefold() in page.headers["set-cookie"].casefold()
    assert "httponly" in page.headers["set-cookie"].casefold()
    for name in ("htmx.min.js", "page.js", "page.css", "icon.svg"):
        assert f"/static/{name}?" in page.text
        file = visitor.get(f"/static/{name}")
        assert file.status_code == 200
        assert "immutable" in file.headers["cache-control"]
    assert visitor.get("/static/../app.py").status_code == 404
    assert visitor.get("/static/%2e%2e/app.py").status_code == 404


def test_the_licence_of_what_is_not_ours_is_shipped(visitor: Visitor) -> None:
    assert "Zero-Clause BSD" in visitor.get("/static/htmx.LICENSE.txt").text


def _raising(error: Exception) -> Callable[[Ask], object]:
    def page(ask: Ask) -> object:
        raise error

    return page


@pytest.mark.parametrize(
    ("error", "status", "told"),
    [
        (TakeoffError("the <b> sentence"), 400, "the &lt;b&gt; sentence"),
        (RuntimeError("secret"), 500, "An error in this program, not in your job"),
    ],
)
def test_errors(desk: Desk, error: Exception, status: int, told: str) -> None:
    app = build(desk)
    app.router.routes.insert(0, get("/broken", _raising(error)))  # type: ignore[arg-type]
    with TestClient(app, HOME, raise_server_exceptions=False) as client:
        page = client.get("/broken")
        part = client.get("/broken", headers={"HX-Request": "true"})
    assert page.status_code == part.status_code == status
    assert told in page.text
    assert told in part.text
    assert "secret" not in page.text
    assert "<html" not in part.text
