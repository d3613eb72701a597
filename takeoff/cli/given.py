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
class Read:
    """A job list, the shop it is made in and the sheets there are, each sound by itself."""

    job: Job
    stock: StockList
    profile: Profile


@dataclass(frozen=True)
class Given(Read):
    """A job ready to be nested: its fittings can be made."""

    lines: tuple[MadeLine, ...]


def read(job_file: Path, stock_file: Path | None, profile_file: Path | None) -> Read:
    """Read every file. Raises a TakeoffError that tells all that is wrong."""
    profile = profiles.load(profile_file)
    stock = stocks.load(stock_file, profile)
    return Read(read_job(job_file, profile.unit, profile.code), stock, profile)


def read_given(job_file: Path, stock_file: Path | None, profile_file: Path | None) -> Given:
    """Read and check everything. Raises a TakeoffError that tells all that is wrong."""
    return made(read(job_file, stock_file, profile_file), job_file)


def made(found: Read, job_file: Path) -> Given:
    """The fittings of a job taken apart. Raises a TakeoffError that tells all that is wrong."""
    sizes = usable_sizes(found.stock, found.profile)
    lines = make_job(found.job, found.profile, sizes, job_file.name)
    return Given(found.job, found.stock, found.profile, tuple(lines))
