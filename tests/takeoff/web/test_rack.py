"""The rack, as the page shows it to scale and lets it be filled, moved and emptied."""

import io
import re

import pytest
from pypdf import PdfReader

from takeoff.lengths import parse
from takeoff.stockroom import NewOffcut, OffcutState
from takeoff.web.desk import Desk
from takeoff.web.pages import rack

from .conftest import Visitor, inputs

PIECE = {"material": "galvanized", "gauge": "26", "width": "17 1/2", "length": "1' 11", "qty": "1"}
LARGEST = 300_000


def add(visitor: Visitor, **more: str) -> str:
    page = visitor.post("/rack", {**PIECE, **more})
    assert page.status_code == 200, page.text
    return str(re.findall(r"R-\d+", page.text)[0])


def test_measured_and_to_scale(visitor: Visitor, desk: Desk) -> None:
    assert "Nothing stands here yet" in visitor.get("/rack").text
    label = add(visitor, place="bay <3>", note="<i>bent</i>")
    offcut = desk.room.rack.get(label)
    assert (offcut.width, offcut.length) == (parse("17 1/2"), 23)
    add(visitor, width="35", length="46")
    page = visitor.get("/rack").text
    assert "bay &lt;3&gt;" in page
    drawn = [
        tuple(map(float, each))
        for each in re.findall(r'<rect width="([\d.]+)" height="([\d.]+)"', page)
    ]
    assert drawn[1] == pytest.approx([2 * side for side in drawn[0]], abs=0.2)
    one = visitor.get(f"/rack/{label}").text
    assert "&lt;i&gt;bent" in one
    assert "17 1/2 x 23 in" in one


def test_a_piece_is_never_told_larger_than_it_is(visitor: Visitor, desk: Desk) -> None:
    label = add(visitor, width="17.51")
    assert "17 1/2 x 23 in" in visitor.get(f"/rack/{label}").text


def test_what_is_wrong_stands_beside_its_field(visitor: Visitor, desk: Desk) -> None:
    page = visitor.post("/rack", {**PIECE, "width": "0", "length": "1/", "qty": "9999999"})
    assert page.status_code == 422
    for name in ("width", "length", "qty"):
        assert f'id="wrong-{name}"></p>' not in page.text, name
    assert inputs(page.text)["length"] == "1/"
    assert not desk.room.rack.all()


def test_several_alike_and_their_labels(visitor: Visitor, desk: Desk) -> None:
    add(visitor, qty="3")
    offcuts = desk.room.rack.all()
    assert len(offcuts) == 3
    assert "add offcuts</b> R-000001 to R-000003" in visitor.get("/stock/steps").text
    page = visitor.get("/rack/labels.pdf")
    assert page.headers["content-type"] == "application/pdf"
    words = "".join(each.extract_text() for each in PdfReader(io.BytesIO(page.content)).pages)
    assert all(each.label in words for each in offcuts)
    one = visitor.get(f"/rack/labels.pdf?label={offcuts[0].label}")
    words = PdfReader(io.BytesIO(one.content)).pages[0].extract_text()
    assert offcuts[0].label in words
    assert offcuts[1].label not in words
    pictures = visitor.get("/rack/pictures.pdf").content
    assert offcuts[2].label in PdfReader(io.BytesIO(pictures)).pages[0].extract_text()


def test_moved_and_scrapped(visitor: Visitor, desk: Desk) -> None:
    label = add(visitor)
    visitor.post(f"/rack/{label}", {"place": "bay 9", "note": ""})
    assert desk.room.rack.get(label).place == "bay 9"
    late = visitor.post(f"/rack/{label}", {"place": "bay 4", "note": "mine"})
    assert late.status_code == 409
    assert "Someone else changed it meanwhile: place bay 9" in late.text
    shown = inputs(late.text)
    assert (shown["place"], shown["note"], shown["_place"]) == ("bay 4", "mine", "bay 9")
    stale = visitor.post(f"/rack/{label}/scrap", {"reason": "bent", "_place": "", "_note": ""})
    assert stale.status_code == 409
    assert "It was not scrapped" in stale.text
    assert desk.room.rack.get(label).place == "bay 9"
    assert desk.room.rack.get(label).state is OffcutState.ON_RACK
    seen = {"_place": "bay 9", "_note": ""}
    page = visitor.post(f"/rack/{label}/scrap", {"reason": "bent", **seen})
    assert "is off the rack" in page.text
    assert desk.room.rack.get(label).state is OffcutState.SCRAPPED
    assert visitor.post(f"/rack/{label}/scrap", seen).status_code == 400
    gone = visitor.get(f"/rack/{label}").text
    assert "scrap offcuts" in gone
    assert "/scrap" not in gone


@pytest.mark.parametrize(
    "label", ["R-999999", "x", "%00", "..%2f..", "R-" + "9" * 30, "'%20OR%201"]
)
def test_labels_that_are_none(visitor: Visitor, label: str) -> None:
    for page in (
        visitor.get(f"/rack/{label}"),
        visitor.post(f"/rack/{label}", {"place": "x"}),
        visitor.post(f"/rack/{label}/scrap"),
        visitor.get(f"/rack/labels.pdf?label={label}"),
    ):
        assert page.status_code in (400, 404), page.text


def test_every_label_that_is_asked_for_is_printed(
    visitor: Visitor, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    labels = desk.room.rack.add(
        [NewOffcut("galvanized", 26, parse("10"), parse("20"))] * 103
    ).labels
    asked = "&".join(f"label={label}" for label in (*labels, labels[0]))
    for query in (asked, ""):
        pdf = PdfReader(io.BytesIO(visitor.get(f"/rack/labels.pdf?{query}").content))
        words = "".join(page.extract_text() for page in pdf.pages)
        assert sorted(re.findall(r"R-\d{6}", words)) == list(labels)
    monkeypatch.setattr(rack, "MOST_LABELS", 102)
    refused = visitor.get("/rack/labels.pdf")
    assert refused.status_code == 400
    assert "These are 103 labels, and one file has 102 at most" in refused.text
    assert visitor.get("/rack/labels.pdf?plan=..%2f..").status_code == 404


def test_a_full_rack_is_shown_in_pages_by_metal(visitor: Visitor, desk: Desk) -> None:
    desk.room.rack.add(
        [NewOffcut("galvanized", 26, parse("10"), parse("20"), "p" * 60, "n" * 60)] * 260
    )
    desk.room.rack.add([NewOffcut("aluminium", 24, parse("90"), parse("20"))])
    page = visitor.get("/rack?page=2")
    assert len(page.content) < LARGEST
    assert page.text.count("<rect") == 100
    assert visitor.get("/rack?metal=aluminium%2024").text.count("<rect") == 1
    assert "Nothing stands here" in visitor.get("/rack?metal=gold").text
    for odd in ("-1", "0", "x", "9" * 40):
        assert visitor.get(f"/rack?page={odd}").status_code == 200
