"""Two browsers on one job: the later one is told, and both can be kept."""

from playwright.sync_api import Browser, Page, expect

from takeoff.web.desk import Desk
from tests.takeoff.web.jobs_kept import DUCT, cells, kept


def test_both_are_kept(page: Page, browser: Browser, server: str, desk: Desk) -> None:
    job = kept(desk, DUCT)
    path = f"/jobs/{job.id}/rows/{job.rows[0].key}"
    page.goto(path)
    other = browser.new_context(base_url=server).new_page()
    other.goto(path)
    other.get_by_label("Width (needed)").fill("22 1/2")
    other.get_by_role("button", name="Keep", exact=True).click()
    expect(other.get_by_role("status")).to_contain_text("D1 is kept.")
    other.context.close()

    page.get_by_label("Width (needed)").fill("24")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("D1 was changed by someone else")
    row = page.get_by_role("row", name="Width")
    expect(row).to_contain_text("22 1/2")
    expect(row).to_contain_text("24")
    page.get_by_role("button", name="Keep both, yours as D2").click()
    expect(page.get_by_role("status")).to_contain_text("D2 is kept.")
    assert cells(desk, job) == [
        {**DUCT, "width": "22 1/2"},
        {**DUCT, "width": "24", "mark": "D2"},
    ]
