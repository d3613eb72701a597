"""A pattern is one sheet with items on it; a pool keeps the distinct ones that are worth having."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.arrays import BoolArray, IntArray
from nesting.layouts import Layouts
from nesting.reduce import Reduced


@dataclass(frozen=True)
class Pattern:
    """One sheet layout, which may be cut any number of times.

    Attributes:
        kind: the stock kind it is cut from.
        counts: int64[m], copies of each item type on it.
        item: int64[placed], item type.
        x: int64[placed], lower left corner along the width.
        y: int64[placed], lower left corner along the length.
        turned: bool[placed], turned by 90 degrees.
    """

    kind: int
    counts: IntArray
    item: IntArray
    x: IntArray
    y: IntArray
    turned: BoolArray

    @property
    def key(self) -> tuple[int, bytes]:
        """Equal for patterns that differ only in where the items lie."""
        return self.kind, self.counts.tobytes()

    def area(self, reduced: Reduced) -> int:
        """Area of the items."""
        return int((reduced.item_w * reduced.item_l)[self.item].sum())


def pattern(
    reduced: Reduced, kind: int, item: IntArray, x: IntArray, y: IntArray, turned: BoolArray
) -> Pattern:
    """A pattern with its counts worked out."""
    counts = np.bincount(item, minlength=reduced.item_w.size).astype(np.int64)
    return Pattern(kind, counts, item, x, y, turned)


def patterns_of(reduced: Reduced, layouts: Layouts) -> list[Pattern]:
    """One pattern for each sheet, in order."""
    order = np.argsort(layouts.sheet, kind="stable")
    ends = np.searchsorted(layouts.sheet[order], np.arange(layouts.stock.size + 1))
    parts = [order[ends[i] : ends[i + 1]] for i in range(layouts.stock.size)]
    return [
        pattern(
            reduced,
            int(kind),
            layouts.item[at],
            layouts.x[at],
            layouts.y[at],
            layouts.turned[at],
        )
        for kind, at in zip(layouts.stock, parts, strict=True)
    ]


def layouts_of(reduced: Reduced, sheets: Sequence[Pattern]) -> Layouts:
    """The sheets one after the other, without the copies that go beyond the demand.

    Copies are left out from the last sheets first; a sheet with nothing left on it is dropped.
    """
    wanted = reduced.demand.copy()
    stock: list[int] = []
    parts: list[tuple[Pattern, BoolArray]] = []
    for sheet in sheets:
        kept = np.zeros(sheet.item.size, dtype=np.bool_)
        for at, item in enumerate(sheet.item.tolist()):
            kept[at] = wanted[item] > 0
            wanted[item] -= kept[at]
        if kept.any():
            stock.append(sheet.kind)
            parts.append((sheet, kept))
    if not parts:
        return Layouts.empty()
    return Layouts(
        stock=np.array(stock, dtype=np.int64),
        sheet=np.repeat(np.arange(len(parts)), [int(kept.sum()) for _, kept in parts]),
        item=np.concatenate([sheet.item[kept] for sheet, kept in parts]),
        x=np.concatenate([sheet.x[kept] for sheet, kept in parts]),
        y=np.concatenate([sheet.y[kept] for sheet, kept in parts]),
        turned=np.concatenate([sheet.turned[kept] for sheet, kept in parts]),
    )


class Pool:
    """Distinct patterns in the order they came; the first of equal ones is kept."""

    def __init__(self, reduced: Reduced, patterns: Iterable[Pattern] = ()) -> None:
        self._reduced = reduced
        self._patterns: dict[tuple[int, bytes], Pattern] = {}
        self.extend(patterns)

    def __len__(self) -> int:
        return len(self._patterns)

    def add(self, new: Pattern) -> bool:
        """True when the pattern is new; empty ones never are."""
        if not new.item.size or new.key in self._patterns:
            return False
        self._patterns[new.key] = new
        return True

    def extend(self, patterns: Iterable[Pattern]) -> int:
        """How many of the patterns were new."""
        return sum(self.add(new) for new in patterns)

    def patterns(self) -> list[Pattern]:
        """All of them."""
        return list(self._patterns.values())
