"""Layouts under construction: lists that grow, and the choice of the next sheet."""

from typing import NamedTuple

import numpy as np

from nesting.arrays import IntArray
from nesting.layouts import Layouts
from nesting.reduce import Reduced


class Spot(NamedTuple):
    """An item type in its place."""

    item: int
    x: int
    y: int
    turned: bool


class Draft:
    """Collects sheets and placed items; keeps count of the stock left."""

    def __init__(self, reduced: Reduced) -> None:
        self.reduced = reduced
        self.stock_left = [
            np.iinfo(np.int64).max if qty < 0 else int(qty) for qty in reduced.bin_qty
        ]
        self.stock: list[int] = []
        self._placed: list[tuple[int, int, int, int, bool]] = []

    def open(self, kind: int) -> int:
        """A new sheet; returns its number."""
        self.stock_left[kind] -= 1
        self.stock.append(kind)
        return len(self.stock) - 1

    def place(self, sheet: int, item: int, x: int, y: int, turned: bool) -> None:
        """Put a copy of an item type on a sheet."""
        self._placed.append((sheet, item, x, y, turned))

    def cut(self, kind: int, spots: list[Spot], left: IntArray) -> None:
        """Use a sheet layout as often as demand and stock allow; what it uses is taken off."""
        used = np.bincount([spot.item for spot in spots], minlength=len(left))
        often = int((left[used > 0] // used[used > 0]).min())
        for _ in range(min(often, self.stock_left[kind])):
            sheet = self.open(kind)
            for spot in spots:
                self.place(sheet, *spot)
            left -= used

    def kinds_at_hand(self) -> list[int]:
        """Stock kinds of which a copy is left, the cheapest by area first."""
        r = self.reduced
        density = r.bin_cost / (r.bin_w * r.bin_l)
        return sorted(
            (kind for kind, left in enumerate(self.stock_left) if left > 0),
            key=lambda kind: (density[kind], -r.bin_w[kind] * r.bin_l[kind], kind),
        )

    def layouts(self) -> Layouts:
        """What has been made so far."""
        rows = np.array([row[:4] for row in self._placed], dtype=np.int64).reshape(-1, 4)
        return Layouts(
            np.array(self.stock, dtype=np.int64),
            rows[:, 0],
            rows[:, 1],
            rows[:, 2],
            rows[:, 3],
            np.array([row[4] for row in self._placed], dtype=np.bool_),
        )
