"""Long lists, a page at a time."""

from __future__ import annotations

from dataclasses import dataclass

from .asking import Ask


@dataclass(frozen=True)
class Paging:
    """The part of a list that one page shows.

    Attributes:
        page: which one, from 1.
        pages: how many there are.
        places: of the entries on it, from 0.
    """

    page: int
    pages: int
    places: range


def paged(ask: Ask, count: int, size: int) -> Paging:
    """The page that is asked for, of a list of `count` entries, `size` on each page."""
    pages = max(1, -(-count // size))
    asked = ask.request.query_params.get("page", "1")
    page = int(asked) if asked.isdecimal() and len(asked) < 9 else 1
    page = min(pages, max(1, page))
    return Paging(page, pages, range((page - 1) * size, min(count, page * size)))
