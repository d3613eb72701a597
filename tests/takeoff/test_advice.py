"""Gauges of whole rows against the code table: chosen, flagged, refused."""

import pytest

from takeoff.advice import WARNING, NoGauge, advise, choose, least_gauge
from takeoff.errors import JobFaults
from takeoff.fittings import families
from takeoff.jobs.job import Job, Kind
from takeoff.jobs.read_csv import read_csv
from takeoff.lengths import INCH, MILLIMETRE
from takeoff.profile import loads
from takeoff.settings import Code

HEADING = "mark,fitting,material,gauge,width,height,length,diameter,open,depth\n"


def code(**settings: object) -> Code:
    lines = (f"{name} = {value!r}\n" for name, value in settings.items())
    return loads("[code]\n" + "".join(lines)).code


def job(rows: str, table: Code | None = None) -> Job:
    return read_csv(("# units = in\n" + HEADING + rows).encode(), code=table)


@pytest.mark.parametrize(
    ("settings", "gauge"),
    [
        # 20 x 8: Minnesota Rules 1346.0603 has 28 ga enclosed, 26 exposed; IMC 2015 Table 603.4
        # has .024 in, 24 ga, at 1/2 in w.g.
        ({"edition": "imc-2006"}, 28),
        ({"edition": "imc-2006", "place": "exposed"}, 26),
        ({"edition": "imc-2006", "lightest": 26}, 26),
        ({"edition": "imc-2015"}, 24),
        # Mechanical Estimating Manual (2007), p. 129: 13 to 30 in
        ({"edition": "low-pressure-2007"}, 24),
    ],
)
def test_auto_takes_the_least_gauge_of_the_chosen_edition(
    settings: dict[str, object], gauge: int
) -> None:
    made = job("D1,duct,,Auto,20,8,47,,,\n", code(**settings))
    assert made.lines[0].metal.gauge == gauge
    assert f"D1 {gauge}." in made.assumed[-1]
    assert code(**settings).conditions.label in made.assumed[-1]
    assert made.assumed[-1].endswith(WARNING)
    (advice,) = made.advice
    assert (advice.mark, advice.kind) == ("D1", Kind.CHOSEN)
    assert "end 1 of 20 in" in advice.sentence


def test_auto_takes_a_gauge_that_the_metal_has() -> None:
    made = job("D1,duct,alum,auto,8,8,47,,,\n", code(edition="imc-2015", lightest=23))
    assert made.lines[0].metal.gauge == 22  # Brown & Sharpe gauges are listed even here


def test_the_heaviest_of_all_open_ends_counts() -> None:
    row = {"width": "18", "height": "18", "diameter": "10", "length": "12"}
    card = families()["square to round"].model_validate(row, context={"unit": INCH})
    found = least_gauge(card, "galvanized", code(edition="imc-2015"), INCH)
    assert found.gauge == 26  # 18 in rectangular .019; 10 in round would do with .013
    assert (found.end.width, found.end.diameter) == (18, None)


def test_a_given_gauge_that_is_too_light_is_a_warning_and_no_fault() -> None:
    made = job("D1,duct,,28,18,8,47,,,\nD2,duct,,26,18,8,47,,,\nD3,duct,,24,18,8,47,,,\n")
    (advice,) = made.advice
    assert (advice.row, advice.mark, advice.kind) == (3, "D1", Kind.LIGHTER)
    assert advice.sentence.startswith("galvanized 28 ga is lighter than IMC Table 603.4")
    assert advice.sentence.endswith("26 ga or heavier for its end 1 of 18 in.")
    assert WARNING not in "".join(made.assumed)


def test_a_size_beyond_the_table_refuses_auto_and_tells_what_to_do() -> None:
    with pytest.raises(JobFaults) as caught:
        job("D1,duct,,auto,24,8,47,,,\n")
    (fault,) = caught.value.faults
    assert fault.place == 'row 3, column "gauge"'
    assert "its end 1 of 24 in is too large" in fault.problem
    assert "ends at 20 in" in fault.problem
    assert "duct-construction standard" in fault.allowed
    given = job("D1,duct,,24,24,8,47,,,\n")
    assert [each.kind for each in given.advice] == [Kind.BEYOND]


@pytest.mark.parametrize(
    ("row", "problem"),
    [
        ("B1,box,,auto,12,8,,,none,9\n", "without an open end"),
        ("D1,duct,ss,auto,12,8,47,,,\n", "has no line for rectangular duct of stainless"),
        ("D1,dukt,,auto,12,8,47,,,\n", "is not a fitting known here"),
        ("D1,duct,tin,auto,12,8,47,,,\n", "is not a metal known here"),
    ],
)
def test_auto_without_an_answer_is_one_fault(row: str, problem: str) -> None:
    with pytest.raises(JobFaults) as caught:
        job(row)
    (fault,) = caught.value.faults
    assert problem in fault.problem


def test_no_edition_gives_no_advice_and_no_gauge() -> None:
    table = code(edition="none")
    made = job("D1,duct,,30,40,8,47,,,\n", table)
    assert made.advice == ()
    with pytest.raises(NoGauge, match="chooses no code table"):
        choose(made.lines[0].fitting, "galvanized", table, INCH)


def test_sizes_are_told_in_the_unit_of_the_job() -> None:
    made = job("D1,duct,,28,20,8,47,,,\n")
    (advice,) = advise(made.lines, code(edition="imc-2015"), MILLIMETRE)
    assert "end 1 of 508 mm" in advice.sentence


def test_metal_without_a_line_is_told() -> None:
    (advice,) = job("D1,duct,ss,26,12,8,47,,,\n").advice
    assert advice.kind is Kind.UNTABLED
    assert advice.sentence.endswith("has no line for rectangular duct of stainless.")


@pytest.mark.parametrize("value", ["imc2015", "IMC-2015"])
def test_an_unknown_edition_is_refused_with_the_nearest(value: str) -> None:
    with pytest.raises(Exception, match='Did you mean "imc-2015"'):
        code(edition=value)
