"""The measurement of the pages measures what it says: a small one, all kinds of page answered."""

import sys

import pytest

from tests.benchmarks.page_load import marked, measure, share
from tests.benchmarks.page_people import WALK, Form


def test_the_95th_percentile() -> None:
    assert share([float(ms) for ms in range(100, 0, -1)], 0.95) == 95
    assert share([3.0], 0.95) == 3
    assert share([1.0, 2.0], 0.5) == 1


def test_marks_of_another_job() -> None:
    listed = "mark,connects to,note\nD1,,\nE12,D1; X3,by D1\n"
    assert marked(listed, "A") == "mark,connects to,note\nAD1,,\nAE12,AD1; X3,by AD1\n"


def test_a_form_as_a_browser_would_send_it() -> None:
    page = """<form hx-post="/jobs/1/preview/elbow"><input name="width" value="20">
    <select name="gauge"><option value="">choose</option><option selected>26</option></select>"""
    form = Form(page)
    assert form.preview == "/jobs/1/preview/elbow"
    assert form.values == {"width": "20", "gauge": "26"}


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="memory is read from /proc")
def test_every_kind_of_page_is_measured_while_a_plan_is_made() -> None:
    listed = "mark,fitting,qty,material,gauge,width,height,length\n"
    listed += "D1,straight duct,1,galvanized,26,20,8,47\n"
    (found,) = measure(listed, users=2, seconds=3, requests=2 * len(WALK), rounds=1)
    assert found.failed == []
    assert {kind: len(times) for kind, times in found.times.items()} == {
        kind: 2 * WALK.count(kind) for kind in WALK
    }
    assert list(found.memory) == ["start", "0 s", "end"]
    assert min(found.memory.values()) > 0
    assert found.worked > 0
