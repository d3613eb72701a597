"""What may be connected to what, and what the fault tells where it may not."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.blanks import make_job
from takeoff.connections import MATES, connections, ends_join, same_opening
from takeoff.errors import JobFaults
from takeoff.fittings import find
from takeoff.fittings.base import OpenEnd
from takeoff.jobs.job import Job, JobLine
from takeoff.lengths import INCH
from takeoff.materials import sheet
from takeoff.profile import default
from tests.takeoff.fittings.making import STANDARD_SHEETS

GALVANIZED = sheet("galvanized", 26)
DUCT = {"width": "20", "height": "8", "length": "47"}
TEE = {"width": "20", "height": "8", "length": "30", "branch": "12"}


def lines(*rows: tuple[str, str, Mapping[str, str]]) -> list[JobLine]:
    return [
        JobLine(
            row,
            mark,
            find(kind).model_validate(dict(cells), context={"unit": INCH}),
            1,
            GALVANIZED,
        )
        for row, (mark, kind, cells) in enumerate(rows, 2)
    ]


def test_ends_of_one_size_and_treatment_join() -> None:
    job = lines(
        ("D1", "straight duct", {**DUCT, "connects_to": "t1; D2"}),
        ("T1", "tee", TEE),
        ("D2", "straight duct", {**DUCT, "connects_to": "D1"}),
        ("D3", "straight duct", {**DUCT, "width": "8", "height": "12", "connects_to": "T1"}),
    )
    found, faults = connections(job)
    assert faults == ()
    # D1 and D2 name each other: one connection; D3 lies on its side on the branch of 12 x 8
    assert {frozenset((c.first.mark, c.second.mark)) for c in found} == {
        frozenset(pair) for pair in (("D1", "T1"), ("D1", "D2"), ("D3", "T1"))
    }
    (branch,) = [c for c in found if c.first.mark == "D3"]
    assert branch.second_end.name == "end 3"
    ends = [(c.first.mark, c.first_end.name) for c in found]
    ends += [(c.second.mark, c.second_end.name) for c in found]
    assert len(ends) == len(set(ends)), "no end is joined twice"


@pytest.mark.parametrize(
    ("rows", "value", "says"),
    [
        (
            [("D1", "straight duct", {**DUCT, "connects_to": "D2"})],
            "D2",
            ("is no mark", ""),
        ),
        (
            [("D1", "straight duct", {**DUCT, "connects_to": "D1"})],
            "D1",
            ("its own mark", "another row"),
        ),
        (
            [
                ("D1", "straight duct", {**DUCT, "connects_to": "D2"}),
                ("D2", "straight duct", {**DUCT, "width": "18"}),
            ],
            "D2",
            ("20 x 8, D2 opens 18 x 8", "transition"),
        ),
        (
            [
                ("D1", "straight duct", {**DUCT, "end_2": "hem", "connects_to": "D2"}),
                ("D2", "straight duct", {**DUCT, "end_1": "flange out", "end_2": "flange out"}),
            ],
            "D2",
            ("slip and drive, end 1 of D2 is flange out", "joins flange out"),
        ),
        (
            [
                ("D1", "straight duct", {**DUCT, "connects_to": "P1"}),
                ("P1", "drain pan", {"width": "20", "depth": "8", "height": "2"}),
            ],
            "P1",
            ("P1 (drain pan) has no open end", "Take the mark out"),
        ),
        (
            [
                ("D1", "straight duct", {**DUCT, "connects_to": "D2; D3; D4"}),
                ("D2", "straight duct", DUCT),
                ("D3", "straight duct", DUCT),
                ("D4", "straight duct", DUCT),
            ],
            "D4",
            ("is taken", "another fitting"),
        ),
    ],
)
def test_a_fault_names_row_value_and_what_would_do(
    rows: list[tuple[str, str, Mapping[str, str]]], value: str, says: tuple[str, str]
) -> None:
    _, (fault,) = connections(lines(*rows))
    assert (fault.row, fault.column, fault.value) == (2, "connects_to", value)
    assert says[0] in fault.problem
    assert says[1] in fault.allowed


def test_the_only_end_that_fits_is_kept_for_the_one_that_needs_it() -> None:
    """D1 takes either end of D2; the cap's 20 x 8 goes only on the raw one."""
    job = lines(
        ("D2", "straight duct", {**DUCT, "end_1": "raw"}),
        ("D1", "straight duct", {**DUCT, "end_1": "raw", "connects_to": "D2"}),
        ("C1", "end cap", {"width": "20", "height": "8", "connects_to": "D2"}),
    )
    found, faults = connections(job)
    assert faults == ()
    joined = {c.first.mark: (c.first_end.treatment, c.second_end.treatment) for c in found}
    assert joined == {"C1": ("flange in", "raw"), "D1": ("slip and drive", "slip and drive")}


sides = st.integers(1, 40)


@given(sides, sides)
def test_a_fitting_may_be_rolled_a_quarter(width: int, height: int) -> None:
    a, b = OpenEnd("a", "raw", width, height), OpenEnd("b", "raw", height, width)
    assert same_opening(a, b)
    assert not same_opening(a, OpenEnd("c", "raw", width, height + 1))
    assert not same_opening(a, OpenEnd("d", "raw", diameter=width))
    assert same_opening(OpenEnd("d", "raw", diameter=width), OpenEnd("e", "raw", diameter=width))


def test_joining_is_mutual_and_speaks_of_ends_that_there_are() -> None:
    known = {name.replace("_", " ") for name in default().ends} | {"slip and drive"}
    for one, others in MATES.items():
        assert {one, *others} <= known
    for one in known:
        for other in known:
            assert ends_join(one, other) == ends_join(other, one)
    assert ends_join("lace", "lace")
    assert not ends_join("hem", "hem")
    assert not ends_join("flange in", "flange in")


def test_a_job_with_ends_that_do_not_fit_is_refused_with_all_its_faults() -> None:
    job = lines(
        ("D1", "straight duct", {**DUCT, "connects_to": "D2"}),
        ("D2", "straight duct", {**DUCT, "width": "18"}),
        ("T1", "tee", {**TEE, "branch": "40", "connects_to": "X9"}),
    )
    with pytest.raises(JobFaults) as caught:
        make_job(Job("Trial", INCH, tuple(job)), default(), lambda _: STANDARD_SHEETS)
    places = [(fault.row, fault.column) for fault in caught.value.faults]
    assert places == [(2, "connects_to"), (4, "connects_to"), (4, "branch")]
