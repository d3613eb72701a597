"""Sheets with items on them, as flat arrays: what passes between the parts of the engine."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.reduce import Reduced


@dataclass(frozen=True)
class Layouts:
    """Sheets with items on them, in the coordinates of a `Reduced`.

    Attributes:
        stock: int64[sheets], the bin kind of each sheet.
        sheet: int64[placed], index into `stock`.
        item: int64[placed], item type.
        x: int64[placed], lower left corner along the width.
        y: int64[placed], lower left corner along the length.
        turned: bool[placed], turned by 90 degrees.
    """

    stock: IntArray
    sheet: IntArray
    item: IntArray
    x: IntArray
    y: IntArray
    turned: BoolArray

    @staticmethod
    def empty() -> "Layouts":
        """No sheets."""
        none = np.zeros(0, dtype=np.int64)
        return Layouts(none, none, none, none, none, np.zeros(0, dtype=np.bool_))

    def cost(self, reduced: Reduced) -> float:
        """Sum of the cost of the sheets."""
        return float(reduced.bin_cost[self.stock].sum())

    def placed(self, reduced: Reduced) -> IntArray:
        """int64[m], copies of each item type on the sheets."""
        return np.bincount(self.item, minlength=len(reduced.item_w)).astype(np.int64)

    def unplaced(self, reduced: Reduced) -> IntArray:
        """int64[m], copies of each item type that are missing."""
        return reduced.demand - self.placed(reduced)

    def missing_area(self, reduced: Reduced) -> int:
        """Area of the missing copies."""
        return int((self.unplaced(reduced) * reduced.item_w * reduced.item_l).sum())

    def rank(self, reduced: Reduced) -> tuple[int, float]:
        """What layouts are compared by, the least first: missing area, then cost."""
        return self.missing_area(reduced), self.cost(reduced)

    def sizes(self, reduced: Reduced) -> tuple[IntArray, IntArray]:
        """Width and length of each placed item as it lies, int64[placed] each."""
        width, length = reduced.item_w[self.item], reduced.item_l[self.item]
        return np.where(self.turned, length, width), np.where(self.turned, width, length)

    def only(self, sheets: Sequence[int] | IntArray) -> "Layouts":
        """These sheets alone, numbered anew in the order given; each may be named once."""
        wanted = np.asarray(sheets, dtype=np.int64)
        number = np.full(len(self.stock), -1, dtype=np.int64)
        number[wanted] = np.arange(len(wanted))
        here = number[self.sheet] >= 0
        return Layouts(
            self.stock[wanted],
            number[self.sheet[here]],
            self.item[here],
            self.x[here],
            self.y[here],
            self.turned[here],
        )

    def plus(self, other: "Layouts") -> "Layouts":
        """The sheets of both."""
        return Layouts(
            np.concatenate([self.stock, other.stock]),
            np.concatenate([self.sheet, other.sheet + len(self.stock)]),
            np.concatenate([self.item, other.item]),
            np.concatenate([self.x, other.x]),
            np.concatenate([self.y, other.y]),
            np.concatenate([self.turned, other.turned]),
        )
