"""The pages, found by walking this folder.

A page is a module with `ROUTES`, made by `takeoff.web.asking.get` and `post`, and, where it stands
in the row of links at the top of every page, `NAV`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from starlette.routing import Route


@dataclass(frozen=True)
class Nav:
    """A link at the top of every page.

    Attributes:
        order: of the links, lowest first.
        label: its words.
        path: where it leads; also of every page whose address begins with it.
    """

    order: int
    label: str
    path: str


def routes() -> list[Route]:
    """Of all pages."""
    return [route for page in _pages() for route in page.ROUTES]


def links() -> list[Nav]:
    """Those at the top, in order."""
    found = (getattr(page, "NAV", None) for page in _pages())
    return sorted((nav for nav in found if nav is not None), key=lambda nav: nav.order)


def _pages() -> Iterator[ModuleType]:
    for module in iter_modules(__path__):
        if not module.name.startswith("_"):
            yield import_module(f"{__name__}.{module.name}")
