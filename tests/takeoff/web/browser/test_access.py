"""For everyone: axe-core on every page, the keyboard alone, visible focus, large letters."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from takeoff.lengths import parse
from takeoff.web.app import build
from takeoff.web.desk import Desk
from takeoff.web.door import Door
from tests.takeoff.web.serving import serving
from tests.takeoff.web.test_door import KEPT, WORDS

from .conftest import DESK
from .filled import fill

AXE = (Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8")
RULES = {"rules": {"target-size": {"enabled": True}}, "resultTypes": ["violations"]}
BAD = ("serious", "critical")
LARGEST = 300_000

FOCUSED = """() => {
  const at = document.activeElement, style = getComputedStyle(at), box = at.getBoundingClientRect();
  const after = getComputedStyle(at, "::after");
  const seen = each => each.outlineStyle !== "none" && parseFloat(each.outlineWidth) >= 2;
  const inside = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  const name = at.tagName + (at.id ? "#" + at.id : "") + " " + at.textContent.trim().slice(0, 30);
  return {name, body: at === document.body, marked: seen(style) || seen(after), inside};
}"""


def faults(page: Page) -> list[str]:
    """What axe-core finds that is serious or worse, each with the first element it found."""
    page.evaluate(AXE)
    found = page.evaluate("rules => axe.run(document, rules)", RULES)["violations"]
    return [
        f"{page.url}: {each['id']}: {each['nodes'][0]['html'][:160]}"
        for each in found
        if each["impact"] in BAD
    ]


@pytest.mark.slow
def test_every_page(page: Page, desk: Desk) -> None:
    told = [fault for path in fill(desk).paths for fault in at(page, path)]
    assert told == []


def at(page: Page, path: str) -> list[str]:
    """What is wrong with a page: by axe, in large letters, and in bytes."""
    answer = page.goto(path)
    assert answer is not None
    told = faults(page)
    if len(answer.body()) > LARGEST:
        told.append(f"{path} is larger than {LARGEST} bytes")
    over = "document.documentElement.scrollWidth - window.innerWidth"
    wide = (page.viewport_size or {"width": 0})["width"]
    if wide == DESK:  # zoom to 200 % leaves half of the width
        page.set_viewport_size({"width": DESK // 2, "height": 450})
    else:
        page.evaluate("document.documentElement.style.fontSize = '200%'")
    if page.evaluate(over) > 0:
        told.append(f"{path} scrolls sideways at 200 %")
    if wide == DESK:
        page.set_viewport_size({"width": DESK, "height": 900})
    return told


def test_the_page_that_asks_for_the_password(page: Page, desk: Desk) -> None:
    with serving(build(desk, "a secret of the tests", Door(KEPT))) as address:
        page.goto(f"{address}/jobs")
        assert faults(page) == []
        page.get_by_label("Password of this shop").fill("not the password")
        page.keyboard.press("Enter")
        page.get_by_text("This is not the password.").wait_for()
        assert faults(page) == []
        page.get_by_label("Password of this shop").fill(WORDS)
        page.keyboard.press("Enter")
        page.get_by_role("heading", name="Jobs").wait_for()
        page.get_by_role("button", name="Log out").click()
        page.get_by_role("heading", name="Log in").wait_for()


def tab_to(page: Page, name: str) -> None:
    """Press Tab until an element of that name has the focus; each one on the way must show it."""
    for _ in range(120):
        page.keyboard.press("Tab")
        now = page.evaluate(FOCUSED)
        if now["body"]:
            continue
        assert now["marked"], f"the focus is not seen on {now['name']}"
        assert now["inside"], f"the focus is out of sight on {now['name']}"
        if name in now["name"]:
            return
    raise AssertionError(f"{name} is not reached by the keyboard")


def test_an_offcut_by_the_keyboard_alone(page: Page, desk: Desk) -> None:
    page.goto("/rack")
    tab_to(page, "#in-gauge")
    page.keyboard.press("2")
    page.keyboard.press("6")
    tab_to(page, "#in-width")
    page.keyboard.type("17 1/2")
    tab_to(page, "#in-length")
    page.keyboard.type("3' 4")
    page.keyboard.press("Enter")
    page.get_by_text("On the rack: R-").wait_for()
    (offcut,) = desk.room.rack.all()
    assert (offcut.gauge, offcut.width, offcut.length) == (26, parse("17 1/2"), 40)


def test_a_setting_by_the_keyboard_alone(page: Page, desk: Desk) -> None:
    page.goto("/settings")
    tab_to(page, "Ends")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Ends").wait_for()
    tab_to(page, "#in-2-1")
    page.keyboard.type("3")
    page.keyboard.press("Enter")
    page.get_by_text("The settings are kept.").wait_for()
    assert "rivets_per_corner = 3" in desk.book.text()
    tab_to(page, "Back to 0")
    page.keyboard.press("Enter")
    page.get_by_text("The settings are kept.").wait_for()
    page.wait_for_load_state()
    assert desk.book.text().strip() == ""
