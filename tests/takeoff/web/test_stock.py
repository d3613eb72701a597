"""Sheets on hand, as the page lets them be written down, counted and priced."""

from decimal import Decimal
from urllib.parse import urlencode

import pytest

from takeoff.stockroom import Kind, KindKey
from takeoff.web.desk import Desk

from .conftest import Visitor, inputs

SHEET = {
    "material": "galvanized",
    "gauge": "26",
    "stock": '4 x 8 <b>"',
    "width": "4'",
    "length": "8'",
    "qty": "12",
    "cost": "36.40",
}
KEY = KindKey("galvanized", 26, '4 x 8 <b>"')
WHICH = {"material": "galvanized", "gauge": "26", "name": KEY.name}
HERE = f"/stock/sheet?{urlencode(WHICH)}"


def put_in(visitor: Visitor) -> None:
    assert "12 put in" in visitor.post("/stock", SHEET).text


def kind(desk: Desk) -> Kind:
    return desk.room.sheets.get(KEY)


def test_put_in_and_listed(visitor: Visitor, desk: Desk) -> None:
    assert "No sheet is written down yet" in visitor.get("/stock").text
    before = desk.shop()
    put_in(visitor)
    assert kind(desk) == Kind(KEY, 48, 96, Decimal("36.40"), True, 12, 0)  # type: ignore[arg-type]
    page = visitor.get("/stock").text
    assert "4 x 8 &lt;b&gt;" in page
    assert "<b>12</b> on hand" in page
    assert "48 x 96 in" in page
    assert "4 x 8 &lt;b&gt;" in visitor.get(HERE).text
    assert desk.shop().version > before.version
    bought = desk.shop().stock.for_group("galvanized", 26)
    assert [(item.name, item.cost) for item in bought] == [(KEY.name, 36.4)]


def test_all_that_is_wrong_stands_beside_its_field(visitor: Visitor, desk: Desk) -> None:
    unknown = visitor.post("/stock", {**SHEET, "gauge": "99"}).text
    assert 'id="wrong-gauge"></p>' not in unknown
    wrong = {**SHEET, "gauge": "x", "width": "17 1/", "qty": "-1", "cost": "dear"}
    page = visitor.post("/stock", wrong)
    assert page.status_code == 422
    for name in ("gauge", "width", "qty", "cost"):
        assert f'id="wrong-{name}"></p>' not in page.text, name
    assert inputs(page.text)["width"] == "17 1/"
    assert not desk.room.sheets.all()


def test_count(visitor: Visitor, desk: Desk) -> None:
    put_in(visitor)
    sent = {**WHICH, "_was": "12", "counted": "11", "note": "by hand"}
    assert "11 on hand" in visitor.post("/stock/sheet/count", sent).text
    assert kind(desk).on_hand == 11
    late = visitor.post("/stock/sheet/count", {**sent, "counted": "9"})
    assert late.status_code == 409
    assert "Someone else changed the number meanwhile: 11 by now" in late.text
    assert inputs(late.text)["counted"] == "9"
    assert kind(desk).on_hand == 11
    for wrong in ("", "-1", "many", "9" * 50, "1.5", "\u0661"):
        page = visitor.post("/stock/sheet/count", {**sent, "_was": "11", "counted": wrong})
        assert page.status_code == 422, wrong
    assert kind(desk).on_hand == 11


def test_price(visitor: Visitor, desk: Desk) -> None:
    put_in(visitor)
    was = {**WHICH, "_was": inputs(visitor.get(HERE).text)["_was"]}
    assert was["_was"] == "36.40"
    visitor.post("/stock/sheet/price", {**was, "price": "40"})
    assert kind(desk).price == 40
    for stale in (was, WHICH, {**WHICH, "_was": ""}, {**WHICH, "_was": "x"}):
        late = visitor.post("/stock/sheet/price", {**stale, "price": "41"})
        assert late.status_code == 409
        assert "Someone else changed it meanwhile: 40.00 by now" in late.text
        assert inputs(late.text)["price"] == "41"
    now = {**WHICH, "_was": "40.00"}
    for wrong in ("dear", "-1", "NaN", "Infinity", "1e99", "1,5"):
        page = visitor.post("/stock/sheet/price", {**now, "price": wrong})
        assert page.status_code == 422, wrong
    assert kind(desk).price == 40
    visitor.post("/stock/sheet/price", {**now, "price": ""})
    assert kind(desk).price is None


def test_bought_no_more(visitor: Visitor, desk: Desk) -> None:
    put_in(visitor)
    visitor.post("/stock/sheet/buy", {**WHICH, "bought": "no"})
    assert not kind(desk).bought
    assert "Buy it again" in visitor.get(HERE).text


@pytest.mark.parametrize("name", ["nothing", "", "x" * 3000, "\ufffd"])
def test_a_sheet_that_is_not_there(visitor: Visitor, desk: Desk, name: str) -> None:
    which = {**WHICH, "name": name, "_was": "0", "counted": "1", "price": "1"}
    assert visitor.get(f"/stock/sheet?{urlencode(which)}").status_code == 404
    for what in ("count", "price", "buy"):
        assert visitor.post(f"/stock/sheet/{what}", which).status_code == 404


def test_steps_and_undo(visitor: Visitor, desk: Desk) -> None:
    assert "Nothing yet" in visitor.get("/stock/steps").text
    put_in(visitor)
    page = visitor.get("/stock/steps")
    step = inputs(page.text)["step"]
    assert page.text.count("add sheets</b> galvanized 26 ga &#34;4 x 8 &lt;b&gt;&#34;") == 2
    assert "is undone by step" in visitor.post("/stock/undo", {"step": step}).text
    assert not any(each.on_hand for each in desk.room.sheets.all())
    for number in (step, "0", "", "99999999999999999999", "x"):
        assert visitor.post("/stock/undo", {"step": number}).status_code in (400, 404), number
