"""The command `blankwright serve` in a process of its own, on a free port, ended by Ctrl-C."""

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[3]


@dataclass(frozen=True)
class Served:
    """Where it answers on this computer, and which process it is."""

    address: str
    pid: int


@contextmanager
def served(home: Path, *more: str, **variables: str) -> Iterator[Served]:
    """The command with its room and all that it keeps in a folder."""
    room = home / "room.db"
    command = [sys.executable, "-m", "takeoff", "serve", "--port", "0", "--room", str(room), *more]
    own = {"HOME": str(home), "XDG_DATA_HOME": str(home / "data"), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=ROOT,
        env={**os.environ, **variables, **own},
    ) as process:  # fmt: skip
        try:
            told = ""
            while not (found := re.search(r"Open http://[\d.]+:(\d+)/ ", told)):
                line = process.stdout.readline() if process.stdout else ""
                assert line, told
                told += line
            yield Served(f"http://127.0.0.1:{found[1]}", process.pid)
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(15)
