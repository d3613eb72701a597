"""Numbers in groups of equal sum: which strips make up whole sheets."""

from collections.abc import Iterator

GUESSES = 3_000  # how many choices are looked at before giving up


def partition(sizes: list[int], whole: int) -> list[list[int]] | None:
    """Indices of the sizes in groups that each sum up to `whole`; None when none was found."""
    if sum(sizes) % whole:
        return None
    order = sorted(range(len(sizes)), key=lambda place: -sizes[place])
    guesses = [GUESSES]
    return _groups(sizes, order, whole, guesses)


def _groups(
    sizes: list[int], order: list[int], whole: int, guesses: list[int]
) -> list[list[int]] | None:
    if not order:
        return []
    first, rest = order[0], order[1:]
    for group in _sums(sizes, rest, whole - sizes[first], guesses):
        left = [place for place in rest if place not in group]
        others = _groups(sizes, left, whole, guesses)
        if others is not None:
            return [[first, *group], *others]
    return None


def _sums(
    sizes: list[int], order: list[int], target: int, guesses: list[int]
) -> Iterator[list[int]]:
    """Every choice from the order with this sum, until the guesses are used up."""
    if target == 0:
        yield []
    last = -1
    for at, place in enumerate(order):
        guesses[0] -= 1
        if target <= 0 or guesses[0] < 0:
            return
        if sizes[place] <= target and sizes[place] != last:
            last = sizes[place]
            for more in _sums(sizes, order[at + 1 :], target - last, guesses):
                yield [place, *more]
