"""The column cfm: how much air, and on which side."""

import pytest

from takeoff.jobs.job import JobLine
from takeoff.jobs.write_csv import write_csv

from .lists import lines, read

HEADING = "mark,fitting,gauge,cfm,width,depth,height,length\n"


def line(cell: str, fitting: str = "duct", depth: str = "") -> JobLine:
    length = "" if depth else "47"
    return read(f'{HEADING}D1,{fitting},26,"{cell}",20,{depth},8,{length}\n').lines[0]


@pytest.mark.parametrize(
    ("cell", "cfm"),
    [("", None), ("1200", 1200), ("1,200", 1200), ("87.5", 87.5), ("900 CFM", 900)],
)
def test_amounts(cell: str, cfm: float | None) -> None:
    assert line(cell).cfm == cfm


def test_the_side_is_the_fittings_unless_it_is_told() -> None:
    assert line("900").side == "supply"
    assert line("900 return").side == "return"
    assert line("900", "return box", "20").side == "return"
    assert line("900 cfm supply", "return box", "20").side == "supply"


@pytest.mark.parametrize("cell", ["0", "-5", "1,20", "much", "1e3", "100001", "900 exhaust"])
def test_what_is_no_amount(cell: str) -> None:
    row = f'{HEADING}D1,duct,26,"{cell}",20,,8,47\n'
    (told,) = lines(row)
    assert f'row 2, column "cfm": {cell} is not an amount of air' in told


def test_it_is_written_where_a_row_tells_it() -> None:
    job = read(f"{HEADING}D1,duct,26,900 return,20,,8,47\nD2,duct,26,,20,,8,47\n")
    assert "gauge,cfm,width" in write_csv(job)
    assert read(write_csv(job)).lines[0].side == "return"
    assert [each.cfm for each in read(write_csv(job)).lines] == [900, None]
    assert "cfm" not in write_csv(read(f"{HEADING}D1,duct,26,,20,,8,47\n"))
