"""A job written as a job list reads back as the same job."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from takeoff.fittings import Fitting, families
from takeoff.jobs.job import Job
from takeoff.jobs.write_csv import write_csv
from takeoff.lengths import INCH, MILLIMETRE, Unit

from .lists import DUCT, HEADING, read

EXAMPLES = [(family, cells) for family in families().values() for cells in family.examples]


def without_rows(job: Job) -> Job:
    return replace(job, lines=tuple(replace(line, row=0) for line in job.lines))


def again(job: Job) -> Job:
    return without_rows(read(write_csv(job)))


@pytest.mark.parametrize("unit", [INCH, MILLIMETRE])
@pytest.mark.parametrize(("family", "cells"), EXAMPLES)
def test_every_example_comes_back(
    family: type[Fitting], cells: Mapping[str, str], unit: Unit
) -> None:
    card = family.model_validate(dict(cells), context={"unit": INCH})
    line = replace(read(HEADING + DUCT).lines[0], fitting=card)
    job = Job("Elm, back", unit, (line,))
    assert again(job) == without_rows(job), "a field needs a serializer that its validator reads"


def test_a_whole_list_comes_back() -> None:
    job = read(
        "# job = =Elm\n# units = mm\n" + HEADING
        + 'RB1,return box,2,alum,24,"a, ""b""",450,600,1\' 4",,,none,'
        'front 100 x 50; left round 1/3 in,\n'
        + "=D1,duct,,,26,'=1+1,20,,8,47,hem,,,\n"
        + "C1,end cap,4,ss,26,-n,20,,8,,,,,12.5\n"
    )  # fmt: skip
    assert again(job) == without_rows(job)


def test_how_it_is_written() -> None:
    job = read(HEADING + "=D1,duct,,,26,+5,20 1/2,,1/2,445mm,,,,\n")
    assert write_csv(job).splitlines() == [
        "# job = trial",
        "# units = in",
        "mark,fitting,qty,material,gauge,width,height,length,note",
        "'=D1,straight duct,1,galvanized,26,20 1/2,0.5,445 mm,'+5",
    ]
