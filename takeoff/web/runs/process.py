"""The process of one run, as the server sees it."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path
from threading import Lock

from .orders import STOP, End, Order, Progress, heard, packed

MODULE = "takeoff.web.runs.child"
LOG = "log.txt"
"""What the process complained of, beside its papers."""


class Process:
    """One run in a process of its own, which ends with this one however that ends.

    Args:
        order: what is to be done.
        folder: for what comes of it.
    """

    def __init__(self, order: Order, folder: Path) -> None:
        self.started = time.monotonic()
        self.progress = Progress("Starting")
        self.stopping = False
        self._sent = False
        self._lock = Lock()
        with (folder / LOG).open("wb") as log:
            # a session of its own: Ctrl-C in the server's terminal is for the server alone
            self._process = subprocess.Popen(
                [sys.executable, "-m", MODULE],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
                start_new_session=True,
            )
        self._order = packed(order, str(folder))

    @property
    def pid(self) -> int:
        """Of the process."""
        return self._process.pid

    @property
    def seconds(self) -> float:
        """Since it was started."""
        return time.monotonic() - self.started

    def follow(self) -> End:
        """Give the order and listen until the process is gone."""
        stdin, stdout = self._process.stdin, self._process.stdout
        assert stdin is not None
        assert stdout is not None
        end: End | None = None
        with suppress(BrokenPipeError), self._process:
            with suppress(BrokenPipeError):
                stdin.write(self._order)
                stdin.flush()
            with self._lock:
                self._sent = True
                if self.stopping:
                    self._send_stop()
            for line in stdout:
                if not line.endswith(b"\n"):  # killed in the middle of a word
                    break
                word = heard(line.decode())
                if isinstance(word, End):
                    end = word
                else:
                    self.progress = word
        return end or _broken_off(self._process.returncode)

    def stop(self) -> None:
        """Ask it to end with what it has found until now."""
        with self._lock:
            if not self.stopping and self._sent:
                self._send_stop()
            self.stopping = True

    def _send_stop(self) -> None:
        assert self._process.stdin is not None
        with suppress(OSError, ValueError):  # it has just ended by itself
            self._process.stdin.write(STOP)
            self._process.stdin.flush()

    def kill(self) -> None:
        """End it at once."""
        self._process.kill()


def _broken_off(code: int | None) -> End:
    if code is not None and code < 0:
        name = signal.Signals(-code).name
        return End(
            False,
            f"The work was ended from outside ({name}), as a machine does that runs out of "
            "memory. Your job is as it was. Start again.",
        )
    return End(
        False,
        "The work broke off by an error in this program, not in your job. Your job is as it was.",
    )
