"""The folder of a plan, read for what it takes of a stock room and what it gives back."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from takeoff.errors import TakeoffError
from takeoff.papers.folder import PLAN_FILE
from takeoff.papers.plan_schema import SCHEMA, VERSION
from takeoff.stockroom import KindKey, Needs, NewOffcut, PlanRecord, SheetNeed
from takeoff.supply import Supply


class NoPlan(TakeoffError, ValueError):
    """A folder without a plan that can be read."""


class OtherRoom(TakeoffError, ValueError):
    """A plan that draws on another stock room."""


@dataclass(frozen=True)
class PlanOnFile:
    """A plan as its folder tells it.

    Attributes:
        key: of the file: another plan has another one.
        name: of the job, or of the folder.
        folder: where it lies.
        identity: of the stock room that it draws on; None: of none.
        room: the place of that room, for people.
        needs: what it takes of the room.
        kept: the offcuts that its cutting leaves, one for each piece; `sheet` is the label on the
            drawing.
        again: arguments of the command that makes it anew, room and folder left out; () unknown.
    """

    key: str
    name: str
    folder: Path
    identity: str | None
    room: str
    needs: Needs
    kept: tuple[NewOffcut, ...]
    again: tuple[str, ...]

    def check_room(self, identity: str, place: str) -> None:
        """OtherRoom where it draws on another room than this one."""
        if self.identity not in (None, identity):
            raise OtherRoom(
                f'The plan "{self.name}" draws on the stock room {self.room}, not on {place}. '
                "Name that one with --room, or plan again."
            )

    def as_noted(self, plans: Iterable[PlanRecord]) -> PlanOnFile:
        """The plan under the key that its room has it by, given the plans noted there.

        The page notes its plans by keys of its own; under another one the metal of such a plan
        could be reserved twice.
        """
        here = self.folder.resolve()
        for plan in plans:
            if plan.progress is not None and plan.folder and Path(plan.folder).resolve() == here:
                return replace(self, key=plan.key)
        return self

    def kept_at(self, place: str) -> tuple[NewOffcut, ...]:
        """The offcuts with the place where they are going to stand."""
        return tuple(replace(piece, place=place) for piece in self.kept)


def read_plan(folder: Path) -> PlanOnFile:
    """The plan in a folder. Raises NoPlan."""
    path = folder / PLAN_FILE
    try:
        data = path.read_bytes()
        document = json.loads(data)
        _check(folder, document)
        return _plan(folder, document, hashlib.sha256(data).hexdigest())
    except OSError as error:
        reason = error.strerror or str(error)
        raise NoPlan(
            f"{path} cannot be read: {reason}. Give the folder that `blankwright plan` wrote."
        ) from error
    except (ValueError, KeyError, TypeError, ZeroDivisionError) as error:
        if isinstance(error, NoPlan):
            raise
        raise NoPlan(f"{path} is damaged. Plan again.") from error


def _check(folder: Path, document: Mapping[str, Any]) -> None:
    if document["schema"] != SCHEMA:
        raise NoPlan(f"{folder / PLAN_FILE} is not a plan of this program.")
    if document["version"] != VERSION:
        raise NoPlan(f"{folder} holds a plan of another version of this program. Plan again.")


def _plan(folder: Path, document: Mapping[str, Any], key: str) -> PlanOnFile:
    room = document["room"]
    return PlanOnFile(
        key,
        document["job"] or folder.resolve().name,
        folder,
        None if room is None else str(room["identity"]),
        "" if room is None else str(room["place"]),
        Needs(
            tuple(
                SheetNeed(KindKey(line["material"], line["gauge"], line["key"]), line["qty"])
                for line in document["from_stock"]
                if line["supply"] == Supply.ON_HAND
            ),
            tuple(piece["label"] for line in document["from_stock"] for piece in line["pieces"]),
        ),
        tuple(_kept(document["kept"])),
        () if room is None else _again(room["again"]),
    )


def _again(arguments: list[object]) -> tuple[str, ...]:
    """Those that a file tells; of a plan and of no other command."""
    told = tuple(map(str, arguments))
    return told if told[:1] == ("plan",) else ()


def _kept(lines: list[Mapping[str, Any]]) -> Iterator[NewOffcut]:
    for line in lines:
        width, length = map(Fraction, line["sides"])
        piece = NewOffcut(line["material"], line["gauge"], width, length, sheet=line["label"])
        yield from [piece] * line["qty"]
