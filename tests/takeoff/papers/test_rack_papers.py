"""Labels and pictures of the rack: a phone reads the code, everything is to scale."""

from fractions import Fraction
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
import zxingcpp
from PIL import Image
from pypdf import PdfReader

from takeoff.drawing.paper import Paper
from takeoff.drawing.primitives import Area, Drawing, Text
from takeoff.drawing.qr import QUIET, modules, qr_marks
from takeoff.drawing.rack_label import rack_label
from takeoff.drawing.rack_picture import LARGEST_SCALE, rack_scale
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.papers.labels_pdf import (
    EDGE,
    CannotFit,
    LabelSize,
    label_pages,
    write_labels,
)
from takeoff.papers.plots import new_figure, paint
from takeoff.papers.rack_pictures import (
    UnknownKind,
    picture_pages,
    write_pictures,
)
from takeoff.supply import RackPiece
from takeoff.withdrawal import OnRack
from tests.takeoff.drawing.overlaps import outside, overlapping

SIZE = LabelSize(288.0, 144.0)


def on_rack(number: int, width: str, length: str, place: str = "bay 3", gauge: int = 26) -> OnRack:
    piece = RackPiece(f"R-{number:06d}", place)
    return OnRack(piece, "galvanized", gauge, Fraction(width), Fraction(length))


def codes_on(drawing: Drawing, dpi: int = 200) -> list[str]:
    """What a reader finds on a drawing painted in pixels."""
    figure = new_figure(drawing.size, dpi)
    paint(figure.add_axes((0.0, 0.0, 1.0, 1.0)), drawing)
    picture = BytesIO()
    figure.savefig(picture, format="png", dpi="figure")
    found = zxingcpp.read_barcodes(Image.open(picture).convert("L"))
    return [code.text for code in found]


RACK = [
    on_rack(1, "41/2", "33"),
    on_rack(123456, "3071/64", "95"),
    on_rack(7, "63/64", "600", place=""),
    on_rack(8, "12", "30", place="<the long rack by the roll-up door & beyond it>"),
]


@pytest.mark.parametrize("size", [SIZE, LabelSize(162.0, 72.0), LabelSize(180.0, 90.0)])
def test_a_reader_reads_number_size_and_metal_of_each_label(size: LabelSize) -> None:
    labels = [rack_label(offcut, INCH) for offcut in RACK]
    for label, drawing in zip(labels, label_pages(labels, size, None), strict=True):
        assert codes_on(drawing) == [label.code]
    assert labels[0].code == "R-000001 20 1/2 x 33 in galvanized 26 ga"


def test_a_whole_sheet_of_labels_can_be_read() -> None:
    labels = [rack_label(on_rack(n, "20", str(30 + n)), MILLIMETRE) for n in range(12)]
    pages = list(label_pages(labels, SIZE, Paper.LETTER))
    # two across and five down on letter paper
    assert len(pages) == 2
    found = [code for page in pages for code in codes_on(page)]
    assert sorted(found) == sorted(label.code for label in labels)


def test_the_code_keeps_the_quiet_zone_that_the_standard_asks_for() -> None:
    text = "R-000001 20 1/2 x 33 in galvanized 26 ga"
    rows = modules(text)
    side = len(rows) + 2 * QUIET
    marks = list(qr_marks(text, (10.0, 20.0), float(side)))
    points = [point for mark in marks for point in mark.points]
    assert min(x for x, _ in points) == pytest.approx(10 + QUIET)
    assert max(x for x, _ in points) == pytest.approx(10 + side - QUIET)
    assert min(y for _, y in points) == pytest.approx(20 + QUIET)
    assert max(y for _, y in points) == pytest.approx(20 + side - QUIET)
    dark = sum(map(sum, rows))
    area = sum(
        (mark.points[1][0] - mark.points[0][0]) * (mark.points[2][1] - mark.points[1][1])
        for mark in marks
    )
    assert area == pytest.approx(dark)


@pytest.mark.parametrize("size", [SIZE, LabelSize(162.0, 72.0), LabelSize(300.0, 60.0)])
def test_letters_stay_on_their_label_and_off_each_other(size: LabelSize) -> None:
    for offcut in RACK:
        (drawing,) = label_pages([rack_label(offcut, INCH)], size, None)
        texts = [item for item in drawing.items if isinstance(item, Text)]
        assert texts[0].text == offcut.piece.label
        assert not list(overlapping(drawing))
        assert not outside(drawing)
        for item in drawing.items:
            for x, y in item.points if isinstance(item, Area) else [item.at]:
                assert 0 <= x <= size.width
                assert 0 <= y <= size.height


def test_pages_have_the_size_of_the_paper_or_of_the_label(tmp_path: Path) -> None:
    labels = [rack_label(offcut, INCH) for offcut in RACK]
    path = tmp_path / "labels.pdf"
    assert write_labels(labels, path, SIZE, None) == 4
    reader = PdfReader(path)
    assert [tuple(map(float, page.mediabox[2:])) for page in reader.pages] == [(288, 144)] * 4
    assert "R-000001" in reader.pages[0].extract_text()
    assert "20 1/2 x 33 in" in reader.pages[0].extract_text()
    assert write_labels(labels, path, SIZE, Paper.A4) == 1
    (page,) = PdfReader(path).pages
    assert tuple(map(float, page.mediabox[2:])) == pytest.approx(Paper.A4.size)


def test_labels_lie_inside_what_a_printer_reaches() -> None:
    labels = [rack_label(offcut, INCH) for offcut in RACK] * 9
    for paper in Paper:
        wide, high = paper.size
        for page in label_pages(labels, SIZE, paper):
            points = [p for item in page.items if isinstance(item, Area) for p in item.points]
            assert min(min(point) for point in points) >= EDGE - 1e-6
            assert max(x for x, _ in points) <= wide - EDGE + 1e-6
            assert max(y for _, y in points) <= high - EDGE + 1e-6


@pytest.mark.parametrize(
    ("size", "paper"),
    [(LabelSize(60.0, 60.0), None), (LabelSize(700.0, 100.0), Paper.LETTER)],
)
def test_a_label_that_cannot_be(size: LabelSize, paper: Paper | None) -> None:
    with pytest.raises(CannotFit, match="A label of"):
        list(label_pages([rack_label(RACK[0], INCH)], size, paper))


def test_pictures_are_to_one_scale_and_each_piece_is_there_once() -> None:
    rack = [on_rack(n, str(6 + n % 40), str(12 + 2 * n), gauge=24 + n % 2 * 2) for n in range(60)]
    scale = rack_scale(rack)
    assert 0 < scale <= LARGEST_SCALE
    pages = picture_pages(rack, INCH)
    texts = [item.text for page in pages for item in page.items if isinstance(item, Text)]
    assert sorted(text for text in texts if text.startswith("R-0")) == sorted(
        offcut.piece.label for offcut in rack
    )
    drawn = sorted(
        (round((p[1][0] - p[0][0]) / scale, 6), round((p[2][1] - p[1][1]) / scale, 6))
        for page in pages
        for p in [item.points for item in page.items if isinstance(item, Area) and item.pen]
    )
    assert drawn == sorted((float(offcut.width), float(offcut.length)) for offcut in rack)
    for page in pages:
        assert not list(overlapping(page))
        assert not outside(page)
        for item in page.items:
            if isinstance(item, Area):
                assert all(0 < x < page.high[0] and 0 < y < page.high[1] for x, y in item.points)


@pytest.mark.parametrize("suffix", ["pdf", "svg", "html"])
def test_pictures_are_written_as_the_name_asks(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"rack.{suffix.upper()}"
    write_pictures(RACK, path, INCH)
    if suffix == "pdf":
        text = "".join(page.extract_text() for page in PdfReader(path).pages)
    else:
        text = path.read_text(encoding="utf-8")
        assert "<the long rack" not in text
    assert "R-000001" in text
    assert "20 1/2 x 33 in" in text
    if suffix == "svg":
        assert ElementTree.fromstring(text).tag == "{http://www.w3.org/2000/svg}svg"


def test_an_empty_rack_and_an_unknown_kind_of_file(tmp_path: Path) -> None:
    write_pictures([], tmp_path / "rack.pdf", INCH)
    assert "nothing" in PdfReader(tmp_path / "rack.pdf").pages[0].extract_text()
    with pytest.raises(UnknownKind, match=r"rack\.png: pictures can be written as \.pdf"):
        write_pictures(RACK, tmp_path / "rack.png", INCH)
    assert not (tmp_path / "rack.png").exists()
