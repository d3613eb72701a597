"""From the tape to the packet in one go, with the page loaded anew while the plan is made."""

import re
from pathlib import Path

from playwright.sync_api import Page, expect
from pypdf import PdfReader

from takeoff.web.desk import Desk
from takeoff.web.runs import State
from tests.takeoff.web.jobs_kept import DUCT, kept

LONG = 120_000
"""Milliseconds for a process that does a plan beside other work."""


def measure(page: Page, family: str, **sizes: str) -> None:
    page.get_by_role("link", name="Add a fitting").first.click()
    page.get_by_role("link", name=family, exact=True).click()
    for name, size in sizes.items():
        page.get_by_label(f"{name.capitalize()} (needed)").fill(size)
    page.get_by_label("Gauge (needed)").focus()  # the tape keys go, as they do for a hand
    page.get_by_label("Gauge (needed)").select_option("26")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("is kept.")


def test_from_the_tape_to_the_packet(page: Page, desk: Desk, tmp_path: Path) -> None:
    page.goto("/")
    page.get_by_label("Name").fill("Elm Street 4")
    page.get_by_role("button", name="Start").click()
    measure(page, "straight duct", width="20 1/2", height="8", length="3' 11\"")
    measure(page, "end cap", width="20 1/2", height="8")

    page.get_by_role("link", name="Plan", exact=True).click()
    page.get_by_label("Seconds").fill("3")
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/runs/*")
    page.reload()
    expect(page.get_by_role("heading", name="Sheets to cut")).to_be_visible(timeout=LONG)
    (run,) = desk.runs.of_job(1)
    assert run.state is State.DONE
    expect(page.locator("main")).to_contain_text(run.told)

    page.get_by_role("link", name=re.compile("^Layout 1")).click()
    drawing = page.get_by_role("region", name="Drawing of the sheet")
    whole = drawing.locator("svg").bounding_box()
    page.get_by_label("twice").check()
    twice = drawing.locator("svg").bounding_box()
    assert whole is not None
    assert twice is not None
    assert twice["height"] > 1.5 * whole["height"]
    page.get_by_label("whole").check()
    drawing.locator("a").first.click()
    expect(page.get_by_role("heading", name="Running marks")).to_be_visible()
    page.locator(".crumb").get_by_role("link", name=re.compile("SD1, |EC1, ")).click()
    expect(page.get_by_role("heading", name="Put together in this order")).to_be_visible()
    page.locator(".crumb").get_by_role("link", name="Plan").click()

    with page.expect_download() as waiting:
        page.get_by_role("link", name="Packet for the bench (PDF)").click()
    packet = waiting.value
    assert packet.suggested_filename == "elm-street-4-packet.pdf"
    packet.save_as(tmp_path / "packet.pdf")
    text = PdfReader(tmp_path / "packet.pdf").pages[0].extract_text()
    assert "Elm Street 4" in text


def test_watching_a_plan_and_keeping_what_is_found(page: Page, desk: Desk) -> None:
    rows = [
        {**DUCT, "mark": f"D{n}", "width": str(13 + n), "length": str(31 + 3 * n), "qty": "7"}
        for n in range(12)
    ]
    job = kept(desk, *rows)
    page.goto(f"/jobs/{job.id}/plan")
    page.get_by_label("Seconds").fill("1800")
    page.get_by_role("button", name="Start").click()
    news = page.locator("#news")
    expect(news).to_contain_text("Best so far", timeout=LONG)
    expect(news).to_have_attribute("aria-live", "polite")
    before = page.locator("#clock").text_content()
    expect(page.locator("#clock")).not_to_have_text(before or "", timeout=10_000)
    page.context.set_offline(True)
    expect(page.get_by_text("does not answer. Trying again.")).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_text("does not answer. Trying again.")).to_be_hidden()
    page.reload()
    expect(news).to_contain_text("Best so far")
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("heading", name="Sheets to cut")).to_be_visible(timeout=LONG)
    expect(page.locator("main")).to_contain_text("taken before its time was up")


def test_comparing(page: Page, desk: Desk) -> None:
    job = kept(desk, DUCT)
    page.goto(f"/jobs/{job.id}")
    page.get_by_role("link", name="Compare").click()
    page.get_by_label("24", exact=True).check()
    page.get_by_label("48x96", exact=True).check()
    page.get_by_label("Seconds").fill("0.5")
    page.get_by_role("button", name="Compare").click()
    chart = page.get_by_role("img", name="Cost of Elm")
    expect(chart).to_be_visible(timeout=LONG)
    expect(page.get_by_role("row", name=re.compile("24 ga, 48x96"))).to_be_visible()
