"""The shop's settings in their file, and the sheets it buys, as they are at the moment."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock

from takeoff import profile as profiles
from takeoff.errors import ProfileFault, TakeoffError
from takeoff.lengths import Length
from takeoff.materials import SheetMetal
from takeoff.nest import usable_sizes
from takeoff.papers.folder import whole_file
from takeoff.profile import Profile
from takeoff.stock import StockList, standard
from takeoff.stockroom import Kind, Room
from takeoff.storekeeping.taking import bought


@dataclass(frozen=True)
class ShopNow:
    """The shop as it is set at the moment.

    Attributes:
        profile: its settings.
        stock: its sheets.
        version: another one after every change of either.
    """

    profile: Profile
    stock: StockList
    version: int = 0

    def sizes(self, metal: SheetMetal) -> Sequence[tuple[Length, Length]]:
        """What fittings can be cut from in a metal, width by length (in)."""
        return usable_sizes(self.stock, self.profile)(metal)


class ChangedElsewhere(TakeoffError):
    """The settings are others by now than those that were to be written over."""

    def __init__(self) -> None:
        super().__init__("The settings were changed by someone else meanwhile.")


class ShopBook:
    """A profile's file, read again whenever it changed; for any number of threads.

    A file that someone spoils while the page runs changes nothing: the last sound one holds.

    Args:
        file: of the shop's own settings; it need not be there.
        room: tells what sheets the shop buys.
        listed: the sheets it buys whatever the room tells; None: the room's, and standard ones of
            metals that the room does not know.

    Raises:
        ProfileFault: what is wrong with the file.
    """

    def __init__(self, file: Path, room: Room, listed: StockList | None = None) -> None:
        self.file = file
        self._room = room
        self._listed = listed
        self._lock = Lock()
        self._text = self._read()
        self._profile = profiles.loads(self._text, file.name)
        self._kinds = self._bought()
        self._now = ShopNow(self._profile, self._sheets())

    def now(self) -> ShopNow:
        """The shop at the moment; of another version after every change."""
        with self._lock:
            self._look()
            kinds = self._bought()
            if self._profile is not self._now.profile or kinds != self._kinds:
                self._kinds = kinds
                self._now = ShopNow(self._profile, self._sheets(), self._now.version + 1)
            return self._now

    def text(self) -> str:
        """The shop's own settings as they are written, the last that were sound."""
        with self._lock:
            self._look()
            return self._text

    def spoiled(self) -> str:
        """What is wrong with the file as someone else left it; "" for nothing."""
        try:
            profiles.load(self.file if self.file.exists() else None)
        except ProfileFault as error:
            return str(error)
        return ""

    def write(self, text: str, base: str) -> Profile:
        """Keep other settings, whole or not at all.

        Args:
            text: of the new profile.
            base: `digest` of the text that it was made from.

        Raises:
            ChangedElsewhere: someone else was quicker; nothing was written.
            ProfileFault: all that is wrong with it; nothing was written.
            CannotWrite: the disk refused.
        """
        profile = profiles.loads(text, self.file.name)
        with self._lock:
            self._look()
            if digest(self._text) != base:
                raise ChangedElsewhere
            with whole_file(self.file) as aside:
                aside.write_text(text, encoding="utf-8", newline="")
            self._text, self._profile = text, profile
        return profile

    def _bought(self) -> tuple[Kind, ...]:
        """The kinds of sheet that the room buys, however many of them are there."""
        if self._listed is not None:
            return ()
        kinds = self._room.sheets.all()
        return tuple(replace(kind, on_hand=0, reserved=0) for kind in kinds if kind.bought)

    def _sheets(self) -> StockList:
        if self._listed is not None:
            return self._listed
        return bought(self._room, standard(self._profile), self._profile)

    def _look(self) -> None:
        """See whether the file is another one."""
        try:
            text = self._read()
            if text != self._text:
                self._profile = profiles.loads(text, self.file.name)
                self._text = text
        except ProfileFault:
            return

    def _read(self) -> str:
        try:
            return self.file.read_bytes().decode("utf-8-sig")
        except FileNotFoundError:
            return ""
        except (OSError, UnicodeDecodeError):
            profiles.load(self.file)  # tells what is wrong
            raise


def digest(text: str) -> str:
    """Another one for every text."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]
