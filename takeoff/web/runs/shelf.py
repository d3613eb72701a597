"""Runs on disk, a folder each.

- run.json: the record.
- papers: what the command line writes too, whole or not there.
- view: what the pages show of it.
"""

from __future__ import annotations

import fcntl
import json
import os
import shutil
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import IO, Any

from takeoff.errors import TakeoffError
from takeoff.papers.folder import whole_file

from .record import About, Kind, NoSuchRun, Run, State

RECORD = "run.json"
PAPERS = "papers"
VIEW = "view"
LOCK = ".lock"


class FolderTaken(TakeoffError, OSError):
    """Another server keeps its runs in the folder."""


class ClosedFolder(TakeoffError, OSError):
    """Plans cannot be kept in the folder."""

    def __init__(self, folder: Path, error: OSError) -> None:
        reason = error.strerror or error
        told = f"Plans cannot be kept in {folder}: {reason}. Open it to whoever runs this program."
        super().__init__(told)


class Shelf:
    """The runs of a folder, which no other process may use meanwhile.

    Raises:
        FolderTaken: one does.
        ClosedFolder: it cannot be made, read or written.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._lock = Lock()
        with _told(folder), ExitStack() as undo:
            folder.mkdir(parents=True, exist_ok=True)
            self._alone = undo.enter_context(_locked(folder / LOCK))
            self._runs = {run.key: run for run in map(_read, sorted(folder.iterdir())) if run}
            undo.pop_all()

    def all(self) -> Sequence[Run]:
        """Every run, the newest first."""
        with self._lock:
            kept = tuple(self._runs.values())
        return sorted(kept, key=lambda run: run.made, reverse=True)

    def run(self, key: str) -> Run:
        """One run. Raises NoSuchRun."""
        try:
            return self._runs[key]
        except KeyError as error:
            raise NoSuchRun("This plan is not here, or no longer.") from error

    def place(self, run: Run) -> Path:
        """The folder of a run."""
        return self.folder / run.key

    def put(self, run: Run) -> None:
        """Keep a run, new or changed: its record is written whole or not at all.

        Raises:
            CannotWrite: the disk refused; the run is as it was.
        """
        place = self.place(run)
        words = json.dumps(asdict(run), default=str, indent=1)
        with self._lock:
            with whole_file(place / RECORD) as aside:
                place.mkdir(exist_ok=True)
                aside.write_text(words, encoding="utf-8")
            self._runs[run.key] = run

    def remember(self, run: Run) -> None:
        """Have a run changed until the next start, where the disk refuses to keep it."""
        with self._lock:
            self._runs[run.key] = run

    def remove(self, run: Run) -> None:
        """Delete a run with all that came of it. Raises ClosedFolder: it is still there."""
        with self._lock:
            with _told(self.place(run)):
                (self.place(run) / RECORD).unlink(missing_ok=True)
            self._runs.pop(run.key, None)
            shutil.rmtree(self.place(run), ignore_errors=True)

    def clear(self, run: Run) -> None:
        """Take away what a run that came to nothing has left, as far as the disk allows."""
        with suppress(OSError):
            for path in self.place(run).iterdir():
                if path.is_dir():
                    shutil.rmtree(path, ignore_errors=True)
                elif path.name != RECORD:
                    path.unlink(missing_ok=True)

    def close(self) -> None:
        """Let another process have the folder."""
        self._alone.close()


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """An error of the disk as a ClosedFolder."""
    try:
        yield
    except FolderTaken:
        raise
    except OSError as error:
        raise ClosedFolder(folder, error) from error


def _read(folder: Path) -> Run | None:
    """The run of a folder; None where there is no readable record."""
    try:
        found: dict[str, Any] = json.loads((folder / RECORD).read_text(encoding="utf-8"))
        about = found["about"]
        ended = found["ended"]
        return Run(
            key=folder.name,
            about=About(**{**about, "kind": Kind(about["kind"])}),
            state=State(found["state"]),
            told=str(found["told"]),
            early=bool(found["early"]),
            made=datetime.fromisoformat(found["made"]),
            ended=datetime.fromisoformat(ended) if ended else None,
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _locked(path: Path) -> IO[str]:
    """A file that is ours as long as it is open, and no longer than this process lives."""
    file = path.open("w", encoding="utf-8")
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        file.close()
        raise FolderTaken(
            f"Another server keeps its plans in {path.parent}. Stop it, or give another folder."
        ) from error
    os.set_inheritable(file.fileno(), False)
    return file
