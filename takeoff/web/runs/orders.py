"""What the server and the process that does a run say to each other.

The server writes the order, pickled, and then a line for each wish; where the server is gone, the
pipe ends and so does the process. The process writes lines of JSON: how far it is, then the end.
"""

from __future__ import annotations

import json
import pickle
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import IO, TYPE_CHECKING

from takeoff.jobs.job import Job
from takeoff.settings import Profile
from takeoff.stock import StockList

if TYPE_CHECKING:
    from takeoff.compare.choices import Choice, Supply
    from takeoff.withdrawal import Withdrawal

STOP = b"stop\n"
"""The wish to end with what is found until now."""

_LENGTH = 8


@dataclass(frozen=True)
class PlanOrder:
    """A job to be nested.

    Attributes:
        job: without faults.
        stock: the sheets to buy.
        profile: the shop's settings.
        seconds: for the nesting.
        room: what the stock room has, where that is to be used.
    """

    job: Job
    stock: StockList
    profile: Profile
    seconds: float
    room: Withdrawal | None = None


@dataclass(frozen=True)
class CompareOrder:
    """A job to be worked out by several choices, `seconds` for each."""

    job: Job
    supply: Supply
    profile: Profile
    choices: tuple[Choice, ...]
    seconds: float


Order = PlanOrder | CompareOrder


@dataclass(frozen=True)
class Progress:
    """How far a run is, ready to be shown.

    Attributes:
        doing: what is being done, in a few words.
        found: what is found so far; "" for nothing yet.
        head: of the table of what is found.
        rows: of that table.
        share: of the work that is done, 0 to 1; None where nobody knows.
    """

    doing: str
    found: str = ""
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    share: float | None = None


Report = Callable[[Progress], None]


@dataclass(frozen=True)
class End:
    """How a run ended.

    Attributes:
        done: whether its papers are there.
        told: what came of it, or why nothing did.
        early: whether it was ended before its time.
    """

    done: bool
    told: str
    early: bool = False


def packed(order: Order, folder: str) -> bytes:
    """An order, and the folder for what comes of it, as the process reads them."""
    body = pickle.dumps((order, folder))
    return len(body).to_bytes(_LENGTH, "big") + body


def unpacked(read: Callable[[int], bytes]) -> tuple[Order, str]:
    """The other way; `read` gives at most so many bytes. EOFError where the server is gone."""
    body = _exactly(read, int.from_bytes(_exactly(read, _LENGTH), "big"))
    # written by the server that started this process, through a pipe that nobody else has
    found: tuple[Order, str] = pickle.loads(body)
    return found


def say(word: Progress | End, to: IO[str]) -> None:
    """Write one line to the server."""
    to.write(json.dumps({type(word).__name__: asdict(word)}) + "\n")
    to.flush()


def heard(line: str) -> Progress | End:
    """A line as it was meant. Raises ValueError."""
    found = json.loads(line)
    if "End" in found:
        return End(**found["End"])
    told = found["Progress"]
    rows = tuple(tuple(row) for row in told["rows"])
    return Progress(**{**told, "head": tuple(told["head"]), "rows": rows})


def _exactly(read: Callable[[int], bytes], count: int) -> bytes:
    found = bytearray()
    while len(found) < count:
        more = read(count - len(found))
        if not more:
            raise EOFError
        found += more
    return bytes(found)
