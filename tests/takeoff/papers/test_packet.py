"""packet.pdf: every card is there, says what the bench needs, and nothing covers anything."""

import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from takeoff.blanks import make_line
from takeoff.drawing.extent import text_box
from takeoff.drawing.page import MARGIN, SIZE
from takeoff.drawing.primitives import Drawing
from takeoff.fittings import families
from takeoff.jobs.job import JobLine
from takeoff.lengths import INCH, parse_signed, show_exactly
from takeoff.nest import JobPlan
from takeoff.papers.cards.assembly_card import assembly_card
from takeoff.papers.cards.piece_card import piece_card
from takeoff.papers.packet_pdf import packet_pages, write_packet
from takeoff.papers.pdf import write_pdf
from takeoff.pattern.bending import bend_order
from tests.takeoff.drawing.overlaps import overlapping, texts
from tests.takeoff.fittings.making import card, example_card, shop

from .plans import ALL, FORMULA, MARK, inch_plan, told

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)


@cache
def pages(plan: Callable[[], JobPlan]) -> tuple[Drawing, ...]:
    return tuple(packet_pages(told(plan)))


def said(drawings: tuple[Drawing, ...]) -> str:
    return "\n".join(item.text for page in drawings for item in texts(page))


def off_the_margin(page: Drawing) -> list[str]:
    """Texts that reach into the margin by more than a point, at head and foot by more than four."""
    (low_x, low_y), (high_x, high_y) = (
        (MARGIN - 1, MARGIN - 4),
        (SIZE[0] - MARGIN + 1, SIZE[1] - MARGIN + 4),
    )
    return [
        item.text
        for item in texts(page)
        for (x0, y0), (x1, y1) in [text_box(item, 1.0)]
        if x0 < low_x or y0 < low_y or x1 > high_x or y1 > high_y
    ]


@every_plan
def test_nothing_is_written_over_anything_else_or_cut_off(plan: Callable[[], JobPlan]) -> None:
    for page in pages(plan):
        assert (page.low, page.high) == ((0, 0), SIZE)
        assert list(overlapping(page)) == []
        assert off_the_margin(page) == []


@every_plan
def test_every_layout_fitting_and_blank_has_its_card(plan: Callable[[], JobPlan]) -> None:
    contents = told(plan)
    titles = [texts(page)[0].text for page in pages(plan)]
    for layout in contents.layouts:
        assert sum(title.startswith(f"Layout {layout.number}: ") for title in titles) >= 1
    for made in contents.plan.lines:
        assert f"{made.line.mark}: {made.line.fitting.kind}, make {made.line.qty}" in titles
        for blank in made.blanks:
            assert [title for title in titles if title.startswith(f"{blank.name}: {blank.qty} bl")]
    assert texts(pages(plan)[-1])[-1].text == f"page {len(titles)} of {len(titles)}"


@every_plan
def test_the_cover_sends_to_the_right_pages(plan: Callable[[], JobPlan]) -> None:
    found = pages(plan)
    for made in told(plan).plan.lines:
        if made.line.mark == MARK:
            continue  # too long for one line
        name = f"{made.line.mark}, {made.line.fitting.kind}"
        (first, *_) = (
            n
            for n, page in enumerate(found, 1)
            if texts(page)[0].text.startswith(f"{made.line.mark}: ")
        )
        rows = [item.text for page in found for item in texts(page)]
        at = rows.index(name)
        assert rows[at - 1] == str(first)


def test_every_cut_of_every_sheet_is_on_its_pages() -> None:
    contents = told(inch_plan)
    for layout in contents.layouts:
        mine = [p for p in pages(inch_plan) if p.title.startswith(f"Layout {layout.number}:")]
        numbers: set[int] = set()
        for item in (item for page in mine for item in texts(page)):
            if found := re.fullmatch(r"(\d+)(?:-(\d+))?", item.text):
                numbers |= set(range(int(found[1]), int(found[2] or found[1]) + 1))
        assert {cut.number for cut in layout.cuts} <= numbers


def chains(page: Drawing) -> Iterator[tuple[str, str]]:
    """The sums on a card: what is added and what it comes to."""
    lines = [item.text for item in texts(page)]
    if "The sizes add up" not in lines:
        return
    told = ""
    for line in lines[lines.index("The sizes add up") + 1 :]:
        if not re.fullmatch(r"[\d/ +=~]+", line):
            return
        told = f"{told} {line}"
        if re.search(r"= \S", told):
            added, total = told.split("=")
            yield added, total.strip()
            told = ""


def test_the_sums_on_the_cards_are_right() -> None:
    found = [chain for page in pages(inch_plan) for chain in chains(page)]
    assert len(found) >= 8
    for added, total in found:
        assert show_exactly(sum(parse_signed(s.strip()) for s in added.split(" + "))) == total


def test_every_bend_of_the_order_is_on_the_card() -> None:
    contents = told(inch_plan)
    for made in contents.plan.lines:
        for blank in made.blanks:
            (card,) = (p for p in pages(inch_plan) if p.title.startswith(f"{blank.name}: "))
            words = said((card,))
            for number, step in enumerate(contents.bends[blank.name], 1):
                way = "up" if step.angle > 0 else "down"
                assert f"{step.label} {abs(step.angle):g}° {way}" in words.replace("\n", " ")
                assert str(number) in words.split("\n")


def test_cautions_stand_where_they_matter() -> None:
    by_title = {texts(page)[0].text: said((page,)).replace("\n", " ") for page in pages(inch_plan)}
    returned = by_title[f"{MARK}: return box, make 1"]
    assert "Return air: no opening within 10 ft" in returned
    assert "Combustion air" in returned
    assert "zinc fumes" in returned
    plenum = by_title["P1: plenum, make 1"]
    assert "Return air" not in plenum
    assert "local code and a licensed contractor" in plenum
    cover = said(pages(inch_plan)[:1]).replace("\n", " ")
    assert "Verify before you cut" in cover
    assert "guards and the hold-down of the shear" in cover
    assert all("sharp" in said((page,)) for page in pages(inch_plan))


def test_the_assembly_card_tells_seams_rivets_and_hard_bends() -> None:
    box = next(p for p in pages(inch_plan) if p.title == f"{MARK}: return box, make 1")
    words = said((box,)).replace("\n", " ")
    assert "Close the end into the wrap at left/back, bottom/back and right/back" in words
    assert "pocket on wrap, single edge on end" in words
    # a bearing flange with two rivets in each of the four corners
    assert "Rivet the lapped corners of the flange: 8 rivets in all." in words
    assert "Watch these bends" in words


def test_the_throat_of_an_elbow_is_on_its_card() -> None:
    bench = shop()
    line = JobLine(2, "E1", card("elbow", width="18", height="8"), 1, bench.metal)
    made = make_line(line, bench)
    bends = {b.name: bend_order(b.piece, bench.profile.brake) for b in made.blanks}
    text = said(tuple(assembly_card(made, bends, bench.profile, INCH, "Trial")))
    assert "throat 6" in text.replace("\n", " ")


def test_the_assembly_card_tells_what_joins_and_hangs_it() -> None:
    duct = next(p for p in pages(inch_plan) if p.title == "D1: straight duct, make 2")
    words = said((duct,)).replace("\n", " ")
    assert "join with 2 S slips on the 20 in sides" in words
    wanted = [line for line in told(inch_plan).bill.hardware if "hanger" in line.what]
    assert wanted  # the duct is the only thing of the job that hangs
    for line in wanted:
        assert f"{line.qty} x {line.what}" in words


def test_offcuts_have_a_label_for_every_sheet() -> None:
    contents = told(inch_plan)
    words = said(pages(inch_plan)).split("\n")
    for layout in contents.layouts:
        for offcut in layout.offcuts:
            assert words.count(f"OFFCUT {offcut.label}") == layout.count


def test_the_file_has_the_pages_and_their_words(tmp_path: Path) -> None:
    file = tmp_path / "packet.pdf"
    write_packet(told(inch_plan), file)
    reader = PdfReader(file)
    assert len(reader.pages) == len(pages(inch_plan))
    assert reader.metadata is not None
    assert reader.metadata.title == "Trial & error <b>"
    for paper, page in zip(reader.pages, pages(inch_plan), strict=True):
        assert tuple(map(float, paper.mediabox[2:])) == SIZE
        drawn = paper.extract_text()
        for item in texts(page):
            assert item.text.replace(" ", "") in drawn.replace(" ", "").replace("\n", "")
    assert MARK in "".join(p.extract_text() for p in reader.pages)
    assert FORMULA in "".join(p.extract_text() for p in reader.pages)
    assert not any(page.images for page in reader.pages)


def test_the_same_pages_give_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        write_pdf(pages(inch_plan)[:3], tmp_path / name, "Trial")
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


@pytest.mark.parametrize("kind", sorted(families()))
def test_the_cards_of_every_fitting_can_be_read(kind: str) -> None:
    bench, family = shop(), families()[kind]
    for example in family.examples:
        line = JobLine(2, "F1", example_card(family, example), 2, bench.metal)
        made = make_line(line, bench)
        bends = {b.name: bend_order(b.piece, bench.profile.brake) for b in made.blanks}
        cards = list(assembly_card(made, bends, bench.profile, INCH, "Trial"))
        for blank in made.blanks:
            cards += piece_card(blank, bends[blank.name], INCH, "Trial")
        for page in cards:
            assert list(overlapping(page)) == []
            assert off_the_margin(page) == []
