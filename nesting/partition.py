"""Which strips make up whole sheets: numbers in groups of given sums, over several kinds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

GUESSES = 3_000  # how many choices are looked at before giving up


@dataclass(frozen=True, slots=True)
class Way:
    """One way to fill sheets of one kind: strips that span one side, stacked along the other.

    Attributes:
        kind: of stock.
        whole: the side that is filled.
        sizes: of each strip along that side; 0 where a strip does not span the other one.
    """

    kind: int
    whole: int
    sizes: Sequence[int]


Sheet = tuple[int, list[int]]
"""The number of a way and the strips on one sheet that is filled so."""


def fill_sheets(
    ways: Sequence[Way], at_hand: Sequence[int], order: Sequence[int]
) -> list[Sheet] | None:
    """Every strip on a sheet that is filled exactly; None when no such sheets were found.

    Args:
        ways: how sheets may be filled.
        at_hand: copies of each kind, below 0 for any number.
        order: the strips as they are tried, the largest first.
    """
    return _Filling(ways, list(at_hand)).of(list(order))


class _Filling:
    def __init__(self, ways: Sequence[Way], at_hand: list[int]) -> None:
        self._ways = ways
        self._at_hand = at_hand
        self._guesses = GUESSES

    def of(self, order: list[int]) -> list[Sheet] | None:
        if not order:
            return []
        first, rest = order[0], order[1:]
        for number, way in enumerate(self._ways):
            if not way.sizes[first] or not self._at_hand[way.kind]:
                continue
            self._at_hand[way.kind] -= 1
            for group in self._sums(way.sizes, rest, way.whole - way.sizes[first]):
                others = self.of([place for place in rest if place not in group])
                if others is not None:
                    return [(number, [first, *group]), *others]
            self._at_hand[way.kind] += 1
        return None

    def _sums(self, sizes: Sequence[int], order: list[int], target: int) -> Iterator[list[int]]:
        """Every choice from the order with this sum, until the guesses are used up."""
        if target == 0:
            yield []
        last = 0
        for at, place in enumerate(order):
            self._guesses -= 1
            if target <= 0 or self._guesses < 0:
                return
            if 0 < sizes[place] <= target and sizes[place] != last:
                last = sizes[place]
                for more in self._sums(sizes, order[at + 1 :], target - last):
                    yield [place, *more]
