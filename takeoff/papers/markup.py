"""Templates of HTML, filled in so that no value of a job is taken for markup."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jinja2 import Environment


def environment(package: str) -> Environment:
    """The templates of a package; what they are not given is an error, every value is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined  # noqa: PLC0415  slow to import
    from markupsafe import Markup  # noqa: PLC0415

    made = Environment(
        loader=PackageLoader(package),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    # our own SVG: its texts were escaped when it was written
    made.filters["drawn"] = Markup
    return made
