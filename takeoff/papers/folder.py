"""An output folder that is written whole or not at all."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

from takeoff.errors import TakeoffError

PLAN_FILE = "plan.json"
"""Marks a folder as a plan; its `files` lists what was written beside it."""

PATTERNS_FILE = "patterns.json"
"""The same for a folder of pattern files."""


class PlanExists(TakeoffError, FileExistsError):
    """There is something at the place where the plan should go, and it may not be replaced."""


class CannotWrite(TakeoffError, OSError):
    """The disk refused; what was there before is still there."""


Fill = Callable[[Path], None]
"""Writes every file of the plan into the empty folder it is given."""


def write_folder(out: Path, force: bool, fill: Fill, index: str = PLAN_FILE) -> None:
    """Fill a new folder beside `out`, and put it there only when it is complete.

    Args:
        out: where the plan goes; the folders above it are made.
        force: whether a plan that is already there may be replaced.
        fill: see `Fill`.
        index: the file whose `files` lists what belongs to the folder; `fill` writes it.

    Raises:
        PlanExists: `out` is a file, a plan and `force` is not set, or holds anything that no plan
            wrote; nothing was written.
        CannotWrite: the disk refused; `out` is as it was.
    """
    check_free(out, force, index)
    place = out.resolve()
    with _told(out), _parents(place), _aside(place) as aside:
        fill(aside)
        _swap(aside, place)


def check_free(out: Path, force: bool, index: str = PLAN_FILE) -> None:
    """PlanExists when a plan may not be written to `out`: ask before the long work."""
    place = out.resolve()
    if not place.exists():
        return
    if not place.is_dir():
        raise PlanExists(f"{out} is a file. Give a folder that is not there yet.")
    with _told(out):
        found = {
            path.relative_to(place).as_posix() for path in place.rglob("*") if not path.is_dir()
        }
    if not found:
        return
    ours = _files_of_a_plan(place, index)
    if strange := sorted(found - ours):
        more = f" and {len(strange) - 1} more" if len(strange) > 1 else ""
        raise PlanExists(
            f"{out} holds files that are not of a plan: {strange[0]}{more}. "
            "Move them, or give another folder."
        )
    if not force:
        raise PlanExists(
            f"{out} already holds a plan. Give another folder, or --force to replace it."
        )


def _files_of_a_plan(place: Path, index: str) -> set[str]:
    """What the plan in a folder says it consists of; nothing where there is no readable plan."""
    try:
        listed = json.loads((place / index).read_text(encoding="utf-8"))["files"]
        return {index, *map(str, listed)}
    except (OSError, ValueError, KeyError, TypeError):
        return set()


@contextmanager
def _told(out: Path) -> Iterator[None]:
    """An error of the disk, told in one sentence."""
    try:
        yield
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotWrite(
            f"The plan could not be written to {out}: {reason}. Nothing there was changed."
        ) from error


@contextmanager
def _parents(place: Path) -> Iterator[None]:
    """The folders above a place, made where they lack and taken away again after a failure."""
    lacking = [folder for folder in place.parents if not folder.exists()]
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for folder in lacking:
            if folder.is_dir() and not any(folder.iterdir()):
                folder.rmdir()
        raise


@contextmanager
def _aside(place: Path) -> Iterator[Path]:
    """A new folder beside a place, gone at the end unless it was moved away."""
    aside = _beside(place)
    try:
        aside.mkdir()
        yield aside
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def _swap(aside: Path, place: Path) -> None:
    """Put a complete folder in its place; the old one is taken away when the new one is there."""
    if not place.exists():
        aside.rename(place)
        return
    old = _beside(place)
    place.rename(old)
    try:
        aside.rename(place)
    except OSError:
        old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _beside(place: Path) -> Path:
    return place.with_name(f".{place.name}-{uuid4().hex[:8]}")


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """A file to write beside `path`; it takes that place when all went well. Raises CannotWrite."""
    aside = path.absolute().with_name(f".{uuid4().hex[:8]}-{path.name}")
    try:
        yield aside
        aside.replace(path)
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotWrite(f"{path} could not be written: {reason}.") from error
    finally:
        aside.unlink(missing_ok=True)
