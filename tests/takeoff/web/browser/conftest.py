"""A real browser: Debian's chromium, driven by playwright, as wide as a phone and as a desk."""

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from takeoff.web.app import build
from takeoff.web.desk import Desk
from tests.takeoff.web.serving import serving

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
EXPECTED = (
    "Failed to load resource: the server responded with a status of 4",  # a form that is refused
    "Failed to load resource: net::",  # the network that a test takes away
    "htmx:afterRequest, ",  # a preview that a newer one, or another page, has made idle
    "htmx:send",
)
PHONE, DESK = 360, 1200
HEIGHTS = {PHONE: 740, DESK: 900}


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        pytest.skip("no chromium on this machine (on Debian: apt-get install chromium)")
    with sync_playwright() as driver:
        # each launch has a new, empty profile of its own
        opened = driver.chromium.launch(executable_path=path, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture
def server(desk: Desk) -> Iterator[str]:
    """The address of the application over `desk`."""
    with serving(build(desk, "a secret of the tests")) as address:
        yield address


@pytest.fixture(params=[PHONE, DESK], ids=["phone", "desk"])
def page(request: pytest.FixtureRequest, browser: Browser, server: str) -> Iterator[Page]:
    """A page at either width; a fault in its console, or sideways scrolling, fails the test."""
    wide: int = request.param
    context = browser.new_context(
        base_url=server,
        viewport={"width": wide, "height": HEIGHTS[wide]},
        has_touch=wide == PHONE,
        is_mobile=wide == PHONE,
    )
    context.set_default_timeout(15_000)
    page = context.new_page()
    told: list[str] = []
    page.on("pageerror", lambda error: told.append(str(error)))
    page.on("console", lambda said: told.append(said.text) if said.type == "error" else None)
    yield page
    over = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    context.close()
    assert [words for words in told if not words.startswith(EXPECTED)] == []
    assert over <= 0, "the page scrolls sideways"
