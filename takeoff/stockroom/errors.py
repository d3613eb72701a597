"""What can go wrong in the stock room, each told in one sentence with what to do.

::

    TakeoffError
    └── RoomError                   everything the stock room raises on purpose
        ├── RoomFailure             the database itself; what was there before is still there
        │   ├── RoomFull            no space left
        │   ├── RoomReadOnly        it may be read, not written
        │   ├── RoomUnreachable     no such file, folder, server or database; no way in
        │   ├── NotARoom            a file or database of something else, or a damaged one
        │   ├── NewerRoom           made by a newer version of this program
        │   └── RoomBusy            others were writing all the time
        └── RoomRefusal             what was asked cannot be done as things stand
            ├── Unkeepable          (also ValueError) a size, count, price or name it cannot hold
            ├── NotThere            (also LookupError) an unknown sheet, offcut, plan, job or step
            ├── TooFew              fewer on hand, or more promised, than the step needs
            ├── ListRefused         rows of a list cannot be taken in; `refused` has them all
            ├── PiecesGone          a plan needs what is no longer free; `gone` lists it
            ├── WrongState          a plan or an offcut is not in the state that the step needs
            ├── CannotUndo          later steps stand in the way
            ├── ChangedMeanwhile    a job or a row was changed by someone else; carries it as is
            └── NotAsSeen           a sheet or an offcut was
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from takeoff.errors import Fault, TakeoffError

if TYPE_CHECKING:
    from .job_records import StoredJob, StoredRow
    from .records import Gone, Refused


class RoomError(TakeoffError):
    """Anything that the stock room raises on purpose."""


class RoomFailure(RoomError):
    """The database did not do what was asked; nothing was changed."""


class RoomFull(RoomFailure):
    """No space is left where the stock room is kept."""


class RoomReadOnly(RoomFailure):
    """The stock room may be read and not written."""


class RoomUnreachable(RoomFailure):
    """The file, the server or the database cannot be opened."""


class NotARoom(RoomFailure):
    """What was opened is no stock room, or a damaged one."""


class NewerRoom(RoomFailure):
    """A newer version of this program has set up the stock room."""


class RoomBusy(RoomFailure):
    """Others were writing for as long as this step waited."""


class RoomRefusal(RoomError):
    """The room does not do what was asked, as things stand; the database is well."""


class Unkeepable(RoomRefusal, ValueError):
    """A size, a count, a price or a text that cannot be kept as it is.

    Attributes:
        fault: which, and what to give instead.
    """

    def __init__(self, what: str, value: object, problem: str, allowed: str) -> None:
        self.fault = Fault(None, what, str(value), problem, allowed)
        super().__init__(str(self.fault))


class NotThere(RoomRefusal, LookupError):
    """A sheet, offcut, plan, job, row or step that is not in the stock room."""


class TooFew(RoomRefusal):
    """The stock room would hold less than nothing, or less than is promised."""


class PiecesGone(RoomRefusal):
    """A plan needs what is no longer free.

    Attributes:
        gone: all of it, sheets first.
    """

    def __init__(self, gone: Iterable[Gone]) -> None:
        self.gone = tuple(gone)
        told = "\n  ".join(map(str, self.gone))
        super().__init__(f"nothing was reserved; no longer free:\n  {told}")


class ListRefused(RoomRefusal):
    """Nothing of a list was taken in.

    Attributes:
        refused: all that is wrong with it, in its order.
    """

    def __init__(self, refused: Iterable[Refused]) -> None:
        self.refused = tuple(refused)
        told = "\n  ".join(str(each.fault) for each in self.refused)
        super().__init__(f"nothing of the list was taken in:\n  {told}")


class WrongState(RoomRefusal):
    """A plan or an offcut is not in the state that the step needs."""


class CannotUndo(RoomRefusal):
    """A step that cannot be undone; the text says what stands in the way."""


class ChangedMeanwhile(RoomRefusal):
    """A job, or a row of it, has been changed by someone else since it was read.

    Attributes:
        job: as it is now.
        row: as it is now; None where it was deleted, or where the job itself was changed.
    """

    def __init__(self, told: str, job: StoredJob, row: StoredRow | None = None) -> None:
        self.job = job
        self.row = row
        super().__init__(told)


class NotAsSeen(RoomRefusal):
    """A sheet or an offcut has been written anew by someone else since it was looked at."""
