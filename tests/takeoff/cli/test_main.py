"""The command itself: how fast it starts, what it says of itself, what it does when it fails."""

import subprocess
import sys
import time

import pytest

from takeoff.cli import main
from takeoff.profile import default, default_text, loads

from .command import Command

SLOW = (
    "dask",
    "distributed",
    "numba",
    "ortools",
    "matplotlib",
    "pandas",
    "numpy",
    "openpyxl",
    "pydantic",
    "rich",
    "sqlalchemy",
    "starlette",
    "uvicorn",
)
START_SECONDS = 0.4
"""Half a second is felt; a busy machine gets several tries."""

LIST_MODULES = (
    "import sys; sys.argv[1:] = ['--help']\n"
    "from takeoff.cli.main import run\n"
    "try: run()\n"
    "except SystemExit: print('LOADED', *sys.modules)"
)


def test_help_loads_nothing_slow() -> None:
    done = subprocess.run(
        [sys.executable, "-c", LIST_MODULES], capture_output=True, text=True, check=True
    )
    usage, loaded = done.stdout.split("LOADED")
    assert "check" in usage
    assert "takeoff.cli.plan" in loaded.split()
    assert not {*SLOW, "takeoff.fittings", "nesting"} & set(loaded.split())


def test_it_starts_at_once() -> None:
    times = []
    for _ in range(5):
        started = time.perf_counter()
        subprocess.run([sys.executable, "-m", "takeoff", "--help"], capture_output=True, check=True)
        times.append(time.perf_counter() - started)
        if times[-1] < START_SECONDS:
            return
    pytest.fail(f"--help took {min(times):.2f} s at best")


def test_version(command: Command) -> None:
    outcome = command("--version")
    assert outcome.code == 0
    assert outcome.out.startswith("blankwright")


def test_without_a_command_it_tells_which_there_are(command: Command) -> None:
    outcome = command()
    for name in ("plan", "check", "compare", "fittings", "profile"):
        assert name in outcome.out + outcome.err


def test_profile_prints_the_defaults(command: Command) -> None:
    outcome = command("profile")
    assert (outcome.code, outcome.out) == (0, default_text())
    assert loads(outcome.out) == default()


def test_an_unexpected_error_is_told_in_a_sentence(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_down(**_: object) -> None:
        raise RuntimeError("the roof fell in")

    monkeypatch.delenv(main.DEBUG, raising=False)
    monkeypatch.setattr("takeoff.profile.default_text", break_down)
    outcome = command("profile")
    assert outcome.code == main.FAILED
    assert "RuntimeError: the roof fell in" in outcome.err
    assert "Please send the job list" in outcome.err
    assert "Traceback" not in outcome.err
    monkeypatch.setenv(main.DEBUG, "1")
    assert "Traceback" in command("profile").err


def test_ctrl_c_before_the_nesting_is_told(
    command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupt() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("takeoff.profile.default_text", interrupt)
    outcome = command("profile")
    assert (outcome.code, outcome.err) == (130, "Stopped. Nothing was written.\n")
