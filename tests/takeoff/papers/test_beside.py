"""Papers by two processes: the same as by one, and no second process outlives the first."""

import errno
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from pathlib import Path

import pytest

from takeoff.papers import CannotWrite, contents, write_all
from takeoff.papers.beside import RightHere, second_process
from takeoff.papers.contents import bend_orders
from takeoff.papers.writing import load

from .plans import inch_plan, told

LONG = 60.0
"""Seconds of work that nobody waits for."""
SOON = 20.0
SAME = ("*.html", "*.pdf", "*.csv", "sheets/*.png")
"""The papers that hold no date and no random number."""

two_cores = pytest.mark.skipif(
    (os.cpu_count() or 1) == 1, reason="with one core there is no second process"
)


def disk_fault(*_: object) -> None:
    raise OSError(errno.EIO, os.strerror(errno.EIO))


def die_elsewhere(first: int) -> str:
    """Ends the process, as a machine short of memory does, in any but the first one."""
    if os.getpid() != first:
        os._exit(9)
    return "here"


@pytest.fixture
def beside() -> Iterator[Executor]:
    with second_process() as process:
        yield process


@two_cores
def test_two_processes_write_the_same_papers(tmp_path: Path) -> None:
    plan = inch_plan()
    write_all(told(inch_plan), tmp_path / "one")
    with second_process() as beside:
        orders = beside.submit(bend_orders, plan.lines, plan.profile.brake)
        beside.submit(load)
        write_all(contents(plan, bends=orders.result()), tmp_path / "two", beside=beside)
    files = {
        each: {
            path.relative_to(tmp_path / each): path.read_bytes()
            for pattern in SAME
            for path in (tmp_path / each).glob(pattern)
        }
        for each in ("one", "two")
    }
    assert len(files["one"]) > len(SAME)
    assert files["one"] == files["two"]


@two_cores
def test_what_goes_wrong_in_the_other_process_is_told(
    beside: Executor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("takeoff.papers.plots.sheet_plots", disk_fault)
    with pytest.raises(CannotWrite, match="Input/output error"):
        write_all(told(inch_plan), tmp_path / "plan", beside=beside)
    assert list(tmp_path.iterdir()) == []


@two_cores
def test_work_that_nobody_waits_for_is_dropped() -> None:
    started = time.monotonic()
    with second_process() as beside:
        assert beside.submit(os.getpid).result() != os.getpid()
        beside.submit(time.sleep, LONG)
    assert time.monotonic() - started < SOON


@two_cores
@pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")
def test_ctrl_c_is_for_the_first_process_alone(beside: Executor) -> None:
    process = beside.submit(os.getpid).result()
    os.kill(process, signal.SIGINT)
    assert beside.submit(os.getpid).result() == process


@two_cores
@pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")
def test_the_second_process_ends_with_the_first() -> None:
    program = (
        "import os, time\n"
        "from takeoff.papers.beside import second_process\n"
        "with second_process() as beside:\n"
        "    print(beside.submit(os.getpid).result(), flush=True)\n"
        f"    beside.submit(time.sleep, {LONG}).result()\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        cwd=Path(__file__).parents[3],
        text=True,
    ) as first:
        assert first.stdout is not None
        assert int(first.stdout.readline()) != first.pid
        first.kill()
        rest, _ = first.communicate(timeout=SOON)  # both hold the pipe: it ends with the last
    assert rest == ""


@two_cores
def test_what_the_second_process_dies_over_is_done_right_here() -> None:
    started = time.monotonic()
    with second_process() as beside:
        assert beside.submit(os.getpid).result() != os.getpid()
        lost, waiting = beside.submit(die_elsewhere, os.getpid()), beside.submit(max, 2, 3)
        assert (lost.result(), waiting.result()) == ("here", 3)
        assert beside.submit(os.getpid).result() == os.getpid()
    assert time.monotonic() - started < SOON


@pytest.mark.parametrize("fault", [OSError, NotImplementedError, ImportError])
@pytest.mark.parametrize("where", ["submit", "__init__"])
def test_where_no_process_can_be_started_all_is_done_right_here(
    monkeypatch: pytest.MonkeyPatch, fault: type[Exception], where: str
) -> None:
    def refuse(*_: object) -> None:
        raise fault("no process to be had")

    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    monkeypatch.setattr(ProcessPoolExecutor, where, refuse)
    with second_process() as beside:
        assert beside.submit(os.getpid).result() == os.getpid()


def test_a_python_whose_pools_can_hang_does_all_right_here(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    monkeypatch.setattr(sys, "version_info", (3, 11, 4))
    with second_process() as beside:
        assert isinstance(beside, RightHere)


def test_right_here_raises_at_once() -> None:
    assert RightHere().submit(max, 2, 3).result() == 3
    with pytest.raises(OSError, match="Input/output error"):
        RightHere().submit(disk_fault)
