"""End caps for rectangular duct."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import ClassVar

from pydantic import Field

from takeoff.pattern.edging import Edging

from ._body import Arrangement, broad_faces, build, choose, edge_of_opening
from ._cuboid import Cuboid
from ._fields import Name, Wish
from ._panels import Body, chain
from .base import Fitting, Made, OpenEnd, Shop, Size, register

CAP = Arrangement("one piece", (chain("cap", "back"),), ())


@register
class EndCap(Fitting):
    """A panel that closes the end of a rectangular duct, with an edge turned on all four sides."""

    kind: ClassVar[str] = "end cap"
    also: ClassVar[tuple[str, ...]] = ("cap", "duct cap")
    summary: ClassVar[str] = "A panel with an edge turned on four sides, to close a duct's end."
    examples: ClassVar[tuple[Mapping[str, str], ...]] = (
        {"width": "20", "height": "8"},
        {"width": "14", "height": "10", "flange": "3/4"},
    )

    width: Size = Field(description="Width of the duct it closes.")
    height: Size = Field(description="Height of the duct it closes.")
    edge: Name = Field(default="flange in", description="What is done to its four edges.")
    flange: Size | None = Field(
        default=None, description="How far the edge is turned; the shop profile's width if blank."
    )
    cross_break: Wish = Field(
        default="auto",
        description="Whether the panel is cross-broken; auto by the profile's width.",
    )

    def make(self, shop: Shop) -> Made:
        """One panel."""
        # The duct behind the cap is of no account: deep enough for any flange.
        deep = self.width + self.height + (self.flange or 0)
        cuboid = Cuboid(self.width, deep, self.height)
        wide = broad_faces(
            ("back",),
            lambda _: min(self.width, self.height),
            self.cross_break,
            shop.profile.cross_break.over,
        )

        def make(way: Arrangement) -> Body:
            return build(shop, cuboid, way, "pittsburgh", lambda *_: self._edge(shop), {}, wide)

        body, notes = choose((CAP,), "auto", make, shop, self.may_turn(shop), lambda _: "edge")
        return Made(body.pieces, (), notes)

    def open_ends(self) -> tuple[OpenEnd, ...]:
        """The side with which it closes a duct."""
        return (OpenEnd("edge", self.edge, self.width, self.height),)

    def _edge(self, shop: Shop) -> Edging:
        cuboid = Cuboid(self.width, self.height, self.height)
        edging = edge_of_opening(shop, "edge", self.edge, cuboid, "back", "top")
        if self.flange is None or not edging.strips:
            return edging
        first, *others = edging.strips
        return replace(edging, strips=(replace(first, width=self.flange), *others))
