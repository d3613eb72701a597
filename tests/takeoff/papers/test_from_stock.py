"""A plan that draws on the stock room: every paper tells what is bought from what the shop has."""

import csv
import io
import json
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from rich.console import Console

from takeoff.bill.money import show
from takeoff.bill.order import from_stock, order
from takeoff.bill.weight import weights
from takeoff.drawing.primitives import Text
from takeoff.drawing.sheet_page import sheet_pages
from takeoff.layouts import layouts
from takeoff.lengths import INCH
from takeoff.papers import Contents, contents, write_all
from takeoff.papers.assumed import assumed
from takeoff.papers.from_stock_csv import from_stock_csv
from takeoff.papers.order_csv import COLUMNS, order_csv
from takeoff.papers.plan_json import plan_json
from takeoff.papers.plan_schema import VERSION
from takeoff.papers.report_html import report_html
from takeoff.papers.sheet_view import sheet_view
from takeoff.papers.terminal import summary
from takeoff.sizes import size
from takeoff.supply import Draw, Supply
from takeoff.withdrawal import OnHand, OnRack
from tests.takeoff.papers.plans import planned as planned_rows
from tests.takeoff.test_withdrawal import offcut, planned, room

NASTY = "<b>bay & 3</b>"
RACK: tuple[OnRack, ...] = (
    *(offcut(f"R{n}", 33, 33, place=NASTY) for n in range(2)),
    offcut("=R9", 33, 66),
)
SHEETS = (OnHand("galvanized", 26, "4 x 8", Fraction(48), Fraction(96), 35.0, 1),)


@cache
def told() -> Contents:
    """Ten blanks of 32 x 32: two and two on offcuts, three on the sheet on hand, three bought."""
    half = "[room]\noffcut_value = 50"
    plan = planned(room(Draw.ALL, *RACK, sheets=SHEETS), (30, 30, 10), profile_text=half)
    return contents(plan)


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_the_order_lists_what_must_be_bought_and_nothing_else() -> None:
    (row,) = read(order_csv(told()))
    assert tuple(row) == COLUMNS
    assert (row["stock"], row["qty"], row["cost"]) == ("4 x 8", "1", "36")


def test_what_the_shop_has_is_listed_piece_by_piece() -> None:
    rows = read(from_stock_csv(told()))
    assert {(row["from"], row["label"], row["qty"]) for row in rows} == {
        ("on hand", "", "1"),
        ("rack", "R0", "1"),
        ("rack", "R1", "1"),
        ("rack", "'=R9", "1"),
    }
    # 36.00 for 4608 in2; half of it for 33 x 33 = 1089 is 4.25, for 33 x 66 8.51
    cost = {row["label"]: row["cost"] for row in rows}
    assert cost == {"": "35", "R0": "4.25", "R1": "4.25", "'=R9": "8.51"}
    assert {row["place"] for row in rows} == {NASTY, ""}


def test_purchase_and_worth_are_told_apart_and_add_up() -> None:
    everything = told()
    cost = everything.cost
    assert cost.bought == 36
    assert cost.had == 35 + 2 * Fraction("4.25") + Fraction("8.51")
    assert cost.stock == cost.bought + cost.had
    lines = {line.what: line for line in everything.bill.lines}
    assert lines["stock"].amount == cost.bought
    assert lines["stock"].why == "1 sheets, as ordered"
    assert lines["from the shop's own"].amount == cost.had
    assert lines["from the shop's own"].why == (
        "1 sheet on hand at their price, 3 offcuts at 50 % of what new metal costs"
    )
    found = layouts(everything.plan)
    total = weights(found)
    assert total.blanks + total.offcuts + total.scrap == total.stock
    assert total.stock == sum(line.weight for line in (*order(found), *from_stock(found)))


def test_offcuts_are_told_by_the_new_metal_that_they_save() -> None:
    # 33 x 33 twice and 33 x 66; of each a strip 1 wide is left, too narrow to go back
    area = 2 * 33 * 33 + 33 * 66
    assert float(told().spared) == pytest.approx(36 / (48 * 96) * area)
    # 48 x 48 for a blank 32 x 32: what goes back to the rack was not used up
    large = contents(planned(room(Draw.OFFCUTS, offcut("R1", 48, 48)), (30, 30, 1)))
    (layout,) = large.layouts
    back = sum(each.box.area for each in layout.offcuts)
    assert back > 0
    assert float(large.spared) == pytest.approx(36 / (48 * 96) * float(48 * 48 - back))
    plain = contents(planned(None, (30, 30, 1)))
    assert (plain.spared, plain.rack_note) == (0, "")


def test_plan_json_holds_what_a_commit_must_know() -> None:
    document: dict[str, Any] = json.loads(plan_json(told(), []))
    assert document["version"] == VERSION
    room_record = {"identity": "room 1", "place": "stockroom.db", "draw": "all", "again": []}
    assert document["room"] == room_record
    assert (document["cost"], document["bought"]) == (pytest.approx(88.01), 36.0)
    taken = document["from_stock"]
    pieces = [piece["label"] for line in taken for piece in line["pieces"]]
    assert sorted(pieces) == ["=R9", "R0", "R1"]
    (sheet,) = [line for line in taken if line["supply"] == "on hand"]
    assert (sheet["key"], sheet["qty"], sheet["sides"]) == ("4 x 8", 1, ["48", "96"])
    on_sheets = [
        (piece["label"], record["layout"])
        for group in document["groups"]
        for record in group["sheets"]
        for piece in record["pieces"]
    ]
    assert sorted(label for label, _ in on_sheets) == sorted(pieces)
    kept = sum(
        layout.count * offcut.box.area for layout in told().layouts for offcut in layout.offcuts
    )
    assert kept == sum(
        line["qty"] * Fraction(line["sides"][0]) * Fraction(line["sides"][1])
        for line in document["kept"]
    )
    labels = {(line["layout"], line["label"]) for line in document["kept"]}
    assert len(labels) == len(document["kept"])


def test_report_terminal_workbook_and_sheet_pages_name_the_pieces(tmp_path: Path) -> None:
    html = report_html(told())
    assert "From the shop’s own" in html
    assert "&lt;b&gt;bay &amp; 3&lt;/b&gt;" in html
    assert NASTY not in html
    assert "Off the rack: R0" in html or "Off the rack: R1" in html
    console = Console(width=200, file=io.StringIO(), record=True)
    console.print(summary(told()))
    shown = console.export_text()
    taken = told().spared
    assert (
        f"1 sheet to buy for 36.00, 3 offcuts off the rack in place of {show(taken)} of new metal "
        "and 1 sheet on hand worth 35.00." in shown
    )
    assert f"Offcuts are used in place of {show(taken)} of new metal" in shown
    assert told().rack_note in html
    assert "counts 1 % of its price" in shown
    files = write_all(told(), tmp_path / "plan", extras=())
    assert "from_stock.csv" in {file.name for file in files}
    book = load_workbook(tmp_path / "plan" / "job.xlsx")
    assert book["From stock"].max_row == 5
    book.close()
    for layout in told().layouts:
        texts = [
            item.text
            for page in sheet_pages(layout, INCH, "")
            for item in page.items
            if hasattr(item, "text")
        ]
        assert all(piece.label in texts for piece in layout.pieces)
        assert ("Take off the rack" in texts) == (layout.item.supply is Supply.RACK)


def test_a_piece_is_told_as_its_label_tells_it() -> None:
    piece = offcut("R1", "33.49", "33.49")  # no step of the tape: 33 15/32 are surely there
    plan = contents(planned(room(Draw.OFFCUTS, piece), (30, 30, 1)))
    told_size = size(piece.width, piece.length, INCH)
    assert told_size == "33 15/32 x 33 15/32 in"
    (layout,) = plan.layouts
    assert sheet_view(layout, INCH).size == told_size
    words = [
        text.text
        for drawing in sheet_pages(layout, INCH, "Job")
        for text in drawing.items
        if isinstance(text, Text)
    ]
    assert any(told_size in text for text in words)
    assert words.count("33 15/32 in") == 2
    console = Console(width=200)
    with console.capture() as capture:
        console.print(summary(plan))
    assert told_size.removesuffix(" in") in capture.get()
    assert told_size.removesuffix(" in") in report_html(plan)
    (row,) = read(from_stock_csv(plan))
    assert (row["width"], row["length"]) == ("33 15/32 in", "33 15/32 in")
    for paper in (*words, capture.get(), report_html(plan)):
        assert "~33 1/2" not in paper


def test_without_a_room_nothing_is_said_of_one(tmp_path: Path) -> None:
    plain = contents(planned(None, (30, 30, 1)))
    assert "shop’s own" not in report_html(plain)
    assert json.loads(plan_json(plain, []))["room"] is None
    files = write_all(plain, tmp_path / "plan", extras=())
    assert "from_stock.csv" not in {file.name for file in files}


def test_what_is_kept_is_told_by_gauge_where_it_differs() -> None:
    rows = (
        ("C1", "end cap", 1, 26, {"width": "20", "height": "8"}),
        ("C2", "end cap", 1, 18, {"width": "20", "height": "8"}),
    )
    told_of = [each for each in assumed(planned_rows(rows)) if each.startswith("A leftover")]
    assert told_of == [
        "A leftover of galvanized 26 ga is kept when it is at least 6 in on its short side and "
        "1 ft2; the rest counts as scrap.",
        "A leftover of galvanized 18 ga is kept when it is at least 4 in on its short side and "
        "0.5 ft2; the rest counts as scrap.",
    ]
