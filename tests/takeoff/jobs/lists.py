"""Small job lists for the tests."""

import pytest

from takeoff.errors import Fault, JobFaults
from takeoff.jobs.job import Job
from takeoff.jobs.read_csv import read_csv

HEADING = (
    "mark,fitting,qty,material,gauge,note,width,depth,height,length,end_1,open,openings,flange\n"
)
DUCT = "D1,straight duct,,,26,,20,,8,47,,,,\n"


def read(text: str) -> Job:
    """The job in a CSV text."""
    return read_csv(text.encode(), "trial", source="trial.csv")


def faults(text: str | bytes) -> tuple[Fault, ...]:
    """What is wrong with a CSV."""
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(JobFaults) as caught:
        read_csv(data, "trial", source="trial.csv")
    assert str(caught.value).startswith("trial.csv: ")
    return caught.value.faults


def lines(text: str | bytes) -> list[str]:
    """The faults as a person reads them."""
    return [str(fault) for fault in faults(text)]
