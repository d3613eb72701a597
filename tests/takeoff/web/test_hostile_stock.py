"""What means harm, typed into the pages of the stock room and of the settings."""

import pytest

from takeoff.stockroom import NewOffcut
from takeoff.web.desk import Desk
from takeoff.web.pages.settings import name_of

from .conftest import Visitor, inputs
from .jobs_kept import DUCT, kept
from .test_hostile_requests import TEXTS

OFFCUT = {"material": "galvanized", "gauge": "26", "width": "17 1/2", "length": "23", "qty": "1"}
SHEET = {**OFFCUT, "stock": "4 x 8", "cost": "36"}
DANGER = ("<script>alert", "<img src=x", "\x1b", "\u202e", "Traceback")

NUMBERS = {
    "a fraction over nothing": "1/0",
    "a mixed number over nothing": "17 1/0",
    "a power": "1e999999999",
    "a small power": "1e-999999999",
    "a thousand digits": "9" * 1000,
    "a thousand decimals": "1." + "3" * 1000,
    "a fraction of a thousand digits": f"{'9' * 1000}/{'7' * 1000}",
    "not a number": "nan",
    "no end": "inf",
    "below nothing": "-1",
    "another base": "0x10",
    "a feast of signs": "--1",
    "a formula": "=1+1",
    "spaces": "\u00a0\u2003",
}
LENGTHS = {
    **NUMBERS,
    "digits of another script": "\u0661\u0662",
    "digits with marks between": "1_000",
}


def harmless(page: str) -> bool:
    return not any(each in page for each in DANGER)


@pytest.mark.parametrize("words", TEXTS.values(), ids=TEXTS)
def test_texts_on_the_rack(visitor: Visitor, desk: Desk, words: str) -> None:
    page = visitor.post("/rack", {**OFFCUT, "place": words, "note": words})
    assert page.status_code in (200, 422)
    assert harmless(page.text)
    desk.room.rack.add([NewOffcut("galvanized", 26, *(2 * [desk.shop().stock.items[0].width]))])
    label = desk.room.rack.all()[-1].label
    pages = [
        visitor.post(f"/rack/{label}", {"place": words, "note": words}),
        visitor.get("/rack"),
        visitor.get(f"/rack/{label}"),
    ]
    now = desk.room.rack.get(label)
    assert "\x1b" not in now.place
    seen = {"_place": now.place, "_note": now.note}
    pages += [
        visitor.post(f"/rack/{label}/scrap", {"reason": words, **seen}),
        visitor.get("/stock/steps"),
    ]
    assert all(page.status_code == 200 and harmless(page.text) for page in pages)


@pytest.mark.parametrize("words", TEXTS.values(), ids=TEXTS)
def test_texts_on_labels_and_pictures(visitor: Visitor, desk: Desk, words: str) -> None:
    visitor.post("/rack", {**OFFCUT, "place": words, "note": words})
    for name in ("labels", "pictures"):
        sent = visitor.get(f"/rack/{name}.pdf")
        assert sent.status_code in (200, 404)
        assert sent.status_code == 404 or sent.content.startswith(b"%PDF")
    assert (sent.status_code == 200) is bool(desk.room.rack.all())


@pytest.mark.parametrize("words", TEXTS.values(), ids=TEXTS)
def test_texts_as_the_name_of_a_sheet(visitor: Visitor, desk: Desk, words: str) -> None:
    pages = [visitor.post("/stock", {**SHEET, "stock": words})]
    for kind in desk.room.sheets.all():
        which = {"material": kind.key.material, "gauge": "26", "name": kind.key.name}
        pages.append(visitor.get("/stock/sheet", params=which))
        pages.append(
            visitor.post(
                "/stock/sheet/count", {**which, "_was": "1", "counted": "2", "note": words}
            )
        )
    pages += [visitor.get("/stock"), visitor.get("/stock/steps")]
    job = kept(desk, DUCT)
    pages += [visitor.get(f"/jobs/{job.id}/compare"), visitor.get(f"/jobs/{job.id}/plan")]
    for page in pages:
        assert page.status_code in (200, 422), page.url
        assert harmless(page.text)


@pytest.mark.parametrize("words", NUMBERS.values(), ids=NUMBERS)
@pytest.mark.parametrize("field", ["width", "length", "qty", "gauge"])
def test_numbers_on_the_rack(visitor: Visitor, desk: Desk, field: str, words: str) -> None:
    page = visitor.post("/rack", {**OFFCUT, field: words})
    assert page.status_code == 422, page.text
    assert f'id="wrong-{field}"></p>' not in page.text
    assert len(page.content) < 300_000
    assert not desk.room.rack.all()


@pytest.mark.parametrize("words", NUMBERS.values(), ids=NUMBERS)
@pytest.mark.parametrize("field", ["width", "length", "qty", "cost"])
def test_numbers_of_sheets(visitor: Visitor, desk: Desk, field: str, words: str) -> None:
    if (field, words) == ("cost", NUMBERS["spaces"]):
        words = "- -"  # a blank cost is one by weight
    page = visitor.post("/stock", {**SHEET, field: words})
    assert page.status_code == 422, page.text
    assert len(page.content) < 300_000
    assert not desk.room.sheets.all()


@pytest.mark.parametrize("words", LENGTHS.values(), ids=LENGTHS)
@pytest.mark.parametrize("field", ["width", "length"])
def test_numbers_of_a_fitting(visitor: Visitor, desk: Desk, field: str, words: str) -> None:
    job = kept(desk)
    page = visitor.post(f"/jobs/{job.id}/add/straight-duct", {**DUCT, field: words})
    assert page.status_code == 422
    assert len(page.content) < 300_000
    preview = visitor.post(f"/jobs/{job.id}/preview/straight-duct", {**DUCT, field: words})
    assert preview.status_code == 200
    assert not desk.jobs.get(job.id).rows


@pytest.mark.parametrize("words", [*TEXTS.values(), *NUMBERS.values()], ids=[*TEXTS, *NUMBERS])
def test_settings(visitor: Visitor, desk: Desk, words: str) -> None:
    before = desk.book.text()
    base = inputs(visitor.get("/settings/machines-and-limits").text)["_base"]
    for path in (("shear", "min_strip"), ("brake", "length")):
        sent = {"_base": base, name_of(path): words}
        page = visitor.post("/settings/machines-and-limits", sent)
        assert page.status_code in (200, 422)
        assert harmless(page.text)
        assert len(page.content) < 300_000
    assert desk.book.text() == before


@pytest.mark.parametrize(
    "query",
    [
        "metal=%00",
        "metal=%ff%fe",
        "metal=<script>alert(1)</script>",
        "label=%00",
        "label=..%2f..%2fx",
        "plan=%00",
        "plan=..%2f..%2fx",
        "plan=%ed%a0%80",
        "name=%00&material=galvanized&gauge=26",
        "name=x&material=%00&gauge=99999999999999999999",
        "step=%00",
    ],
)
def test_queries(visitor: Visitor, desk: Desk, query: str) -> None:
    desk.room.rack.add([NewOffcut("galvanized", 26, *(2 * [desk.shop().stock.items[0].width]))])
    for path in ("/rack", "/rack/labels.pdf", "/rack/pictures.pdf", "/stock/sheet", "/stock/steps"):
        page = visitor.get(f"{path}?{query}")
        assert page.status_code in (200, 404), path
        assert page.content.startswith(b"%PDF") or harmless(page.text)
