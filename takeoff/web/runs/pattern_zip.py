"""The pattern files of a plan in one archive: `python -m takeoff.web.runs.pattern_zip FOLDER`.

Made when somebody asks for them, in a process of its own, once for each plan.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from zipfile import ZIP_DEFLATED, ZipFile

from takeoff.errors import TakeoffError
from takeoff.papers.patterns import pattern_files

from .child import NICE

PIECES = "pieces.pickle"
"""The blanks of a plan and the unit of its job; only the process below reads it."""

ARCHIVE = "patterns.zip"
MODULE = "takeoff.web.runs.pattern_zip"
PATIENCE = 600
"""Seconds."""

_one_at_a_time = Lock()


class NoPatterns(TakeoffError):
    """The pattern files could not be made."""


def patterns(folder: Path) -> Path:
    """The archive of the plan in a run's folder, made where it is not there yet.

    Raises:
        NoPatterns: it could not be made, as with pieces that an earlier version has kept.
    """
    archive = folder / ARCHIVE
    with _one_at_a_time:
        command = [sys.executable, "-m", MODULE, str(folder)]
        try:
            if not archive.exists():
                subprocess.run(command, check=True, capture_output=True, timeout=PATIENCE)
        except (OSError, subprocess.SubprocessError) as error:
            told = "The pattern files could not be made. Plan the job again."
            raise NoPatterns(told) from error
    return archive


def main() -> None:
    """Make the archive of the folder that is given."""
    os.nice(NICE)
    folder = Path(sys.argv[1])
    blanks, unit = pickle.loads((folder / PIECES).read_bytes())
    aside = folder / f".{ARCHIVE}"
    with TemporaryDirectory(dir=folder) as work, ZipFile(aside, "w", ZIP_DEFLATED) as archive:
        for names in pattern_files(blanks, unit, Path(work)):
            for name in names:
                archive.write(Path(work) / name, name)
    aside.replace(folder / ARCHIVE)


if __name__ == "__main__":
    main()
