"""The queue of runs: one at a time, each in a process of its own."""

from __future__ import annotations

import secrets
from collections import deque
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Condition, Thread

from takeoff.errors import TakeoffError
from takeoff.papers.folder import CannotWrite

from .orders import End, Order, Progress
from .process import Process
from .record import About, Ledger, NoLedger, Run, State, now
from .shelf import PAPERS, VIEW, Shelf

MOST_WAITING = 8
"""Runs in the queue; nobody waits for more."""

RESTARTED = "The page was restarted before this was ready. Start it again."


NOT_STARTED = End(False, "This machine could not start the work. Try again in a while.")


class Busy(TakeoffError):
    """A run cannot be started now.

    Attributes:
        run: the one of the same job that is still live, if that is why.
    """

    def __init__(self, told: str, run: Run | None = None) -> None:
        super().__init__(told)
        self.run = run


@dataclass(frozen=True)
class Moment:
    """A live run as it is right now.

    Attributes:
        progress: how far it is; None while it waits.
        seconds: since it began.
        ahead: runs before it in the queue.
        stopping: whether it was asked to end with what it has.
    """

    progress: Progress | None
    seconds: float = 0.0
    ahead: int = 0
    stopping: bool = False


class Runs:
    """All runs of a server.

    Args:
        folder: where they are kept.
        ledger: who else is told of them.

    Raises:
        FolderTaken: another server has the folder.
    """

    def __init__(self, folder: Path, ledger: Ledger | None = None) -> None:
        self._shelf = Shelf(folder)
        self._ledger = ledger or NoLedger()
        self._change = Condition()
        self._waiting: deque[tuple[str, Order]] = deque()
        self._now: tuple[str, Process] | None = None
        self._gone: set[str] = set()
        self._closed = False
        self._thread: Thread | None = None
        for run in self._shelf.all():
            if run.live:
                self._shelf.clear(run)
                self._keep(replace(run, state=State.STOPPED, told=RESTARTED, ended=now()))

    def run(self, key: str) -> Run:
        """One run. Raises NoSuchRun."""
        return self._shelf.run(key)

    def of_job(self, job: int) -> Sequence[Run]:
        """The runs of a job, the newest first."""
        return [run for run in self._shelf.all() if run.about.job == job]

    def papers(self, run: Run) -> Path:
        """Where the papers of a finished run are."""
        return self._shelf.place(run) / PAPERS

    def view(self, run: Run) -> Path:
        """Where what is shown of a finished run is."""
        return self._shelf.place(run) / VIEW

    def start(self, about: About, order: Order) -> Run:
        """Put a run into the queue.

        Raises:
            Busy: its job has a live run, or the queue is full.
            CannotWrite: the disk refused.
        """
        with self._change:
            for other in self.of_job(about.job):
                if other.live:
                    raise Busy("This job is being worked on already.", other)
            if len(self._waiting) >= MOST_WAITING:
                raise Busy(f"{len(self._waiting)} others wait already. Try again in a while.")
            run = Run(secrets.token_hex(8), about)
            self._keep(run)
            self._waiting.append((run.key, order))
            if self._thread is None:
                self._thread = Thread(target=self._work, name="runs", daemon=True)
                self._thread.start()
            self._change.notify_all()
            return run

    def moment(self, run: Run) -> Moment:
        """How a live run is doing."""
        with self._change:
            if self._now and self._now[0] == run.key:
                process = self._now[1]
                return Moment(process.progress, process.seconds, 0, process.stopping)
            keys = [key for key, _ in self._waiting]
            ahead = keys.index(run.key) + (self._now is not None) if run.key in keys else 0
            return Moment(None, ahead=ahead)

    def cancel(self, run: Run) -> None:
        """End a live run with what it has found; one that waits has found nothing."""
        with self._change:
            if self._now and self._now[0] == run.key:
                self._now[1].stop()
            elif self._unqueue(run.key):
                told = "Stopped before it began."
                self._keep(replace(run, state=State.STOPPED, told=told, ended=now()))

    def discard(self, run: Run) -> None:
        """Delete a run, and end it at once where it is live.

        Raises:
            TakeoffError: the ledger wants it kept.
        """
        with self._change:
            self._ledger.forget(run)
            self._remove(run)

    def drop(self, job: int) -> None:
        """Delete all runs of a job that is gone; who deleted it has told the ledger."""
        with self._change:
            for run in self.of_job(job):
                self._remove(run)

    def close(self) -> None:
        """End what is running, at once, and leave what waits to be marked at the next start."""
        with self._change:
            self._closed = True
            if self._now:
                self._gone.add(self._now[0])
                self._now[1].kill()
            self._change.notify_all()
        if self._thread is not None:
            self._thread.join()
        self._shelf.close()

    def _remove(self, run: Run) -> None:
        self._unqueue(run.key)
        if self._now and self._now[0] == run.key:
            self._gone.add(run.key)
            self._now[1].kill()
            while self._now and self._now[0] == run.key:
                self._change.wait()
        self._shelf.remove(run)

    def _unqueue(self, key: str) -> bool:
        before = len(self._waiting)
        self._waiting = deque(each for each in self._waiting if each[0] != key)
        return len(self._waiting) < before

    def _work(self) -> None:
        while (run := self._next()) is not None:
            process = self._now[1] if self._now else None
            end = process.follow() if process else NOT_STARTED
            with self._change:
                self._now = None
                if run.key not in self._gone:
                    self._finish(run, end)
                self._gone.discard(run.key)
                self._change.notify_all()

    def _next(self) -> Run | None:
        """The next run of the queue, started; None where the server closes."""
        with self._change:
            while not self._waiting and not self._closed:
                self._change.wait()
            if self._closed:
                return None
            key, order = self._waiting.popleft()
            run = replace(self._shelf.run(key), state=State.RUNNING)
            with suppress(OSError):
                self._now = key, Process(order, self._shelf.place(run))
                self._keep(run)
            return run

    def _finish(self, run: Run, end: End) -> None:
        if not end.done:
            self._shelf.clear(run)
        state = State.DONE if end.done else State.FAILED
        over = replace(run, state=state, told=end.told, early=end.early, ended=now())
        self._note(over)  # before anybody sees that it is over
        try:
            self._shelf.put(over)
        except CannotWrite:  # the queue goes on, on a full disk too
            self._shelf.remember(over)

    def _keep(self, run: Run) -> None:
        self._shelf.put(run)
        self._note(run)

    def _note(self, run: Run) -> None:
        with suppress(TakeoffError):  # the run is kept here, whatever the ledger says
            self._ledger.note(run, str(self.papers(run)))
