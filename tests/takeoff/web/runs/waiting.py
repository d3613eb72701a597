"""Waiting for something that happens in another process."""

import os
import time
from collections.abc import Callable

PATIENCE = 60.0
"""Seconds; a machine that does other things as well starts a process in a few."""


def until(happened: Callable[[], object], what: str, seconds: float = PATIENCE) -> None:
    end = time.monotonic() + seconds
    while not happened():
        assert time.monotonic() < end, f"waited {seconds:g} s for: {what}"
        time.sleep(0.02)


def lives(pid: int) -> bool:
    """Whether a process is there and is no zombie."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    with open(f"/proc/{pid}/stat", encoding="utf-8") as file:  # noqa: PTH123
        return file.read().rpartition(")")[2].split()[0] != "Z"
