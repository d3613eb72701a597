"""What a person gives for a job, read: the profile, the stock list and the fittings taken apart."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from takeoff import profile as profiles
from takeoff import stock as stocks
from takeoff.blanks import MadeLine, make_job
from takeoff.jobs.files import read_job
from takeoff.jobs.job import Job
from takeoff.nest import usable_sizes
from takeoff.settings import Profile
from takeoff.stock import StockList


@dataclass(frozen=True)
class Given:
    """A job ready to be nested, with the shop it is made in."""

    job: Job
    lines: tuple[MadeLine, ...]
    stock: StockList
    profile: Profile


def read_given(job_file: Path, stock_file: Path | None, profile_file: Path | None) -> Given:
    """Read and check everything. Raises a TakeoffError that tells all that is wrong."""
    profile = profiles.load(profile_file)
    stock = stocks.load(stock_file, profile)
    job = read_job(job_file, profile.unit, profile.code)
    lines = make_job(job, profile, usable_sizes(stock, profile), job_file.name)
    return Given(job, tuple(lines), stock, profile)
