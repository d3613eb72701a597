"""Hypothesis generators of nesting problems: every shape of problem the engine must survive."""

import random
from collections.abc import Callable

from hypothesis import strategies as st

from nesting import Blank, Problem, Stock

Rect = tuple[int, int]


def _blanks(sizes: list[tuple[int, int, int, bool]]) -> list[Blank]:
    return [Blank(f"b{i}", w, n, qty, turn) for i, (w, n, qty, turn) in enumerate(sizes)]


def sizes(width: tuple[int, int], length: tuple[int, int], most: int = 3, kinds: int = 12):
    """Lists of blanks with sides in these ranges."""
    one = st.tuples(st.integers(*width), st.integers(*length), st.integers(1, most), st.booleans())
    return st.lists(one, min_size=1, max_size=kinds).map(_blanks)


@st.composite
def stocks(draw: Callable, limited: bool | None = None) -> list[Stock]:
    """One to four stock sizes of any cost, with or without limits."""
    rows = draw(
        st.lists(
            st.tuples(
                st.integers(5, 120),
                st.integers(5, 120),
                st.integers(0, 500),
                st.none() | st.integers(0, 4),
                st.sampled_from(["sheet", "sheet", "offcut"]),
            ),
            min_size=1,
            max_size=4,
        )
    )
    return [
        Stock(
            f"s{i}",
            w,
            n,
            cost / 4 if kind == "offcut" else cost + 1,
            None if limited is False else qty,
            kind,
        )
        for i, (w, n, cost, qty, kind) in enumerate(rows)
    ]


@st.composite
def problems(draw: Callable) -> Problem:
    """Any problem: mixed, tiny, all alike, needle-thin or huge blanks; any stock, kerf and trim."""
    blanks = draw(
        st.one_of(
            sizes((1, 90), (1, 90)),
            sizes((1, 3), (1, 3), most=12, kinds=4),
            sizes((7, 7), (11, 11), most=40, kinds=1),
            sizes((1, 1), (1, 100)),
            sizes((60, 130), (60, 130)),
        )
    )
    kerf, trim = draw(st.sampled_from([(0, 0), (0, 0), (1, 0), (0, 2), (2, 3)]))
    guillotine = draw(st.sampled_from([True, True, True, False]))
    return Problem(blanks, draw(stocks()), kerf=kerf, trim=trim, guillotine=guillotine)


def cut_up(rng: random.Random, width: int, length: int, pieces: int, kerf: int = 0) -> list[Rect]:
    """Cut a full sheet into this many pieces (fewer if it gets too small) by random cuts."""
    parts: list[Rect] = [(width, length)]
    for _ in range(50 * pieces):
        if len(parts) == pieces:
            break
        w, n = parts.pop(rng.randrange(len(parts)))
        across = rng.random() < n / (w + n)
        size = n if across else w
        if size < kerf + 8:
            parts.append((w, n))
            continue
        at = rng.randint(3, size - kerf - 3)
        rest = size - kerf - at
        parts += [(w, at), (w, rest)] if across else [(at, n), (rest, n)]
    return parts


def zero_waste(
    seed: int, sheets: int, pieces: int, turn: bool = True, kerf: int = 0, side: Rect = (96, 144)
) -> Problem:
    """Blanks that fill `sheets` sheets exactly: the least cost is known."""
    rng = random.Random(seed)
    width, length = side
    parts = [p for _ in range(sheets) for p in cut_up(rng, width, length, pieces, kerf)]
    rng.shuffle(parts)
    blanks = [
        Blank(f"z{i}", *((n, w) if turn and rng.random() < 0.5 else (w, n)), turn=turn)
        for i, (w, n) in enumerate(parts)
    ]
    return Problem(blanks, [Stock("full", width, length, 10.0)], kerf=kerf)


def zero_waste_of_sizes(seed: int, sizes: int, pieces: int, turn: bool = False) -> Problem:
    """A square is cut into sheets, these into blanks: one sheet of each size has no waste.

    Two copies of every size are at hand, at a cost of their area.
    """
    rng = random.Random(seed)
    sheets = cut_up(rng, 1000, 1000, sizes)
    parts = [part for sheet in sheets for part in cut_up(rng, *sheet, pieces)]
    rng.shuffle(parts)
    blanks = [
        Blank(f"z{i}", *((n, w) if turn and rng.random() < 0.5 else (w, n)), turn=turn)
        for i, (w, n) in enumerate(parts)
    ]
    stock = [Stock(f"s{i}", w, n, float(w * n), qty=2) for i, (w, n) in enumerate(sheets)]
    return Problem(blanks, stock)
