"""A fitting measured as on the site: by the tape keys, and by the keyboard alone."""

from playwright.sync_api import Page, expect

from takeoff.lengths import INCH
from takeoff.web.desk import Desk


def start(page: Page, name: str = "Elm Street 4") -> None:
    page.goto("/")
    page.get_by_label("Name").fill(name)
    page.get_by_role("button", name="Start").click()
    page.get_by_role("link", name="Add a fitting").first.click()


def test_a_fitting_by_the_tape_keys(page: Page, desk: Desk) -> None:
    start(page)
    page.get_by_role("link", name="straight duct", exact=True).click()
    seen = page.locator("#seen")
    expect(seen).to_contain_text("Still needed: Width, Height, Length, Gauge")

    keys = page.get_by_role("group", name="Tape keys")
    expect(keys).to_be_hidden()
    page.get_by_label("Width (needed)").click()
    expect(keys).to_be_visible()
    page.keyboard.type("20")
    keys.get_by_role("button", name="1/2").click()
    expect(page.get_by_label("Width (needed)")).to_have_value("20 1/2")
    keys.get_by_role("button", name="next").click()
    expect(page.get_by_label("Height (needed)")).to_be_focused()
    page.keyboard.type("8")
    keys.get_by_role("button", name="space").click()
    page.keyboard.type("5")
    keys.get_by_role("button", name="/16").click()
    expect(page.get_by_label("Height (needed)")).to_have_value("8 5/16")
    keys.get_by_role("button", name="next").click()
    page.keyboard.type("3")
    keys.get_by_role("button", name="feet").click()
    page.keyboard.type("11x")
    keys.get_by_role("button", name="delete the last character").click()
    expect(page.get_by_label("Length (needed)")).to_have_value("3'11")

    gauge = page.get_by_label("Gauge (needed)")
    gauge.focus()  # choosing alone does not, when it is done for one
    gauge.select_option("26")
    expect(keys).to_be_hidden()
    expect(seen.locator("svg").first).to_be_visible()
    expect(page.locator("#flats")).to_contain_text("SD1 wrap")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("SD1 is kept.")
    (head,) = desk.jobs.all()
    (row,) = desk.jobs.get(head.id).rows
    assert row.cells == {
        "mark": "SD1",
        "fitting": "straight duct",
        "gauge": "26",
        "width": "20 1/2",
        "height": "8 5/16",
        "length": "3'11",
    }


def test_a_fault_stands_beside_its_field_while_one_types(page: Page, desk: Desk) -> None:
    job = desk.jobs.create("Elm", INCH)
    page.goto(f"/jobs/{job.id}/add/end-cap")
    width = page.get_by_label("Width (needed)")
    width.fill("20 1/")
    wrong = page.locator("#wrong-width")
    expect(wrong).to_contain_text("20 1/ is not a length")
    expect(width).to_have_attribute("aria-invalid", "true")
    expect(width).to_be_focused()
    width.fill("20 1/4")
    expect(wrong).to_be_hidden()
    expect(width).not_to_have_attribute("aria-invalid", "true")
    width.fill("601")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(width).to_have_value("601")
    expect(wrong).to_contain_text("Give more than 0, up to 600 in")


def test_a_fault_in_the_fold_opens_it_and_is_led_to(page: Page, desk: Desk) -> None:
    job = desk.jobs.create("Elm", INCH)
    page.goto(f"/jobs/{job.id}/add/plenum")
    expect(page.get_by_label("Arrangement")).to_be_hidden()
    page.get_by_label("Gauge (needed)").select_option("26")
    for name, size in (("Width", "380"), ("Depth", "100"), ("Height", "44")):
        page.get_by_label(f"{name} (needed)").fill(size)
    expect(page.locator("#wrong-arrangement")).to_contain_text("larger than every sheet in stock")
    page.locator("#seen").get_by_role("link", name="Arrangement").click()
    expect(page.get_by_label("Arrangement")).to_be_in_viewport()


def test_by_the_keyboard_alone(page: Page, desk: Desk) -> None:
    desk.jobs.create("Elm", INCH)
    page.goto("/jobs")
    until(page, "Elm")
    page.keyboard.press("Enter")
    page.wait_for_url("**/jobs/1")
    until(page, "Add a fitting")
    page.keyboard.press("Enter")
    page.wait_for_url("**/add")
    until(page, "end cap")
    page.keyboard.press("Enter")
    page.wait_for_url("**/end-cap")
    until(page, "Width")
    page.keyboard.type("14")
    page.keyboard.press("Tab")
    page.keyboard.type("9 1/4")
    until(page, "Gauge")
    page.keyboard.type("24")
    until(page, "Add")
    page.keyboard.press("Enter")
    page.wait_for_url("**/jobs/1*")
    (row,) = desk.jobs.get(1).rows
    assert (row.cells["width"], row.cells["height"], row.cells["gauge"]) == ("14", "9 1/4", "24")


def until(page: Page, words: str) -> None:
    """Press Tab until what has the focus is called so, and can be seen to have it."""
    for _ in range(120):
        page.keyboard.press("Tab")
        name = page.evaluate(
            "(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim()"
        )
        if name.startswith(words):
            drawn = page.evaluate(
                "[null, '::after'].map(part =>"
                " getComputedStyle(document.activeElement, part).outlineStyle)"
            )
            assert set(drawn) != {"none"}, f"the focus on {words} cannot be seen"
            return
    raise AssertionError(f"no way to {words} by the keyboard")
