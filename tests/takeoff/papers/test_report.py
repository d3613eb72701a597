"""report.html: one file, nothing fetched, nothing taken for markup."""

from collections.abc import Callable
from functools import cache
from html.parser import HTMLParser

import pytest

from takeoff.bill.money import show
from takeoff.nest import JobPlan
from takeoff.papers import Baseline, contents
from takeoff.papers.report_html import report_html

from .plans import ALL, MARK, inch_plan, mm_plan, short_plan, told

every_plan = pytest.mark.parametrize("plan", ALL, ids=lambda plan: plan.__name__)
EMPTY = {"meta", "br", "hr", "img", "input", "link", "path", "circle"}


class Reader(HTMLParser):
    """Elements with their attributes, the text in them, and whether every tag is closed."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())


@cache
def html(plan: Callable[[], JobPlan]) -> str:
    return report_html(told(plan))


@cache
def read(plan: Callable[[], JobPlan]) -> Reader:
    reader = Reader()
    reader.feed(html(plan))
    reader.close()
    return reader


@every_plan
def test_every_tag_is_closed_and_every_id_unique(plan: Callable[[], JobPlan]) -> None:
    reader = read(plan)
    assert reader.open == []
    ids = [attrs["id"] for _, attrs in reader.elements if "id" in attrs]
    assert len(set(ids)) == len(ids)
    for _, attrs in reader.elements:
        target = attrs.get("href") or ""
        assert not target or target.removeprefix("#") in ids
        if "aria-labelledby" in attrs:
            assert attrs["aria-labelledby"] in ids


@every_plan
def test_nothing_is_fetched_and_nothing_runs(plan: Callable[[], JobPlan]) -> None:
    reader = read(plan)
    tags = {tag for tag, _ in reader.elements}
    assert not tags & {"script", "link", "iframe", "img", "object", "embed", "base", "form"}
    for _, attrs in reader.elements:
        assert "src" not in attrs
        assert not any(name.startswith("on") for name in attrs)
        assert (attrs.get("href") or "#").startswith("#")
    text = html(plan)
    assert "url(" not in text
    assert "@import" not in text
    assert "://" not in text.split("<main", 1)[0]


def test_marks_are_text_wherever_they_stand() -> None:
    reader = read(inch_plan)
    assert f"{MARK}: 1 x return box" in reader.text
    assert "Trial & error <b>" in reader.text
    labels = [value for _, attrs in reader.elements for value in attrs.values() if value]
    assert any(MARK in value for value in labels)
    assert "b" not in {tag for tag, _ in reader.elements}


@every_plan
def test_the_sums_are_the_plan_s(plan: Callable[[], JobPlan]) -> None:
    sums = told(plan)
    text = read(plan).text
    assert show(sums.cost.stock) in text
    assert f"{sums.used:.1%} of the metal in blanks" in text
    for group in sums.groups:
        assert show(group.group.plan.bound) in text
    for layout in sums.layouts:
        assert f"Layout {layout.number}:" in text
        for offcut in layout.offcuts:
            assert f"{offcut.label}:" in text


def test_drawings_are_inside_and_told_in_words() -> None:
    reader = read(inch_plan)
    job = inch_plan()
    svgs = [attrs for tag, attrs in reader.elements if tag == "svg"]
    blanks = sum(len(line.blanks) for line in job.lines)
    # every layout, every blank flat and folded, every fitting of several pieces, 4 samples of lines
    several = sum(len(line.made.pieces) > 1 for line in job.lines)
    assert len(svgs) == len(told(inch_plan).layouts) + 2 * blanks + several + 4
    titles = [tag for tag, _ in reader.elements].count("title")
    assert titles == len(svgs) + 1
    assert all(attrs.get("role") == "img" for attrs in svgs)


def test_tables_have_heads_and_can_be_reached_by_keyboard() -> None:
    reader = read(inch_plan)
    heads = [attrs for tag, attrs in reader.elements if tag == "th"]
    assert heads
    assert all(attrs.get("scope") in ("col", "row") for attrs in heads)
    regions = [attrs for _, attrs in reader.elements if attrs.get("class") == "scroll"]
    assert regions
    assert all(attrs["tabindex"] == "0" and attrs["aria-label"] for attrs in regions)


def test_cautions_and_assumptions_are_told() -> None:
    text = read(inch_plan).text
    for words in (
        "Verify before you cut",
        "sharp",
        "guards and the hold-down",
        "local code and a licensed contractor",
        "placeholders",
        "Bends are taken as sharp",
    ):
        assert words in text
    # its stock list has its own costs
    assert "galvanized are placeholders" not in read(short_plan).text


def test_what_is_not_cut_is_told_first() -> None:
    text = read(short_plan).text
    assert text.index("This plan is not complete") < text.index("Cannot cost less than")
    assert "6 x C1 cap (galvanized 26 ga) is NOT cut" in text
    assert "This plan is not complete" not in read(inch_plan).text


def test_another_packer_is_told_for_comparison() -> None:
    job = inch_plan()
    baselines = {job.groups[0].metal: Baseline("rectpack", 61.04, 2, 0.5)}
    text = report_html(contents(job, baselines))
    assert "rectpack&#39;s best takes 2 sheets for 61.04" in text


def test_sizes_are_in_the_job_s_unit() -> None:
    assert "Sizes in millimetres" in read(mm_plan).text
    assert "Sizes in inches" in read(inch_plan).text
