"""Strips on a curved edge that lie, when bent, on the surface they are joined to."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

import numpy as np

from takeoff.pattern.edging import Edging
from takeoff.pattern.facets import Point3
from takeoff.pattern.patches import Patch
from takeoff.pattern.space import cross

from ._shell import EdgeName, Ring

NormalAt = Callable[[Point3], Point3]
"""The normal of the surface that strips are to lie on, at a point of it; either sense."""


def angle_onto(patch: Patch, edge: int, normal_at: NormalAt, sense: int) -> float:
    """Degrees a strip on an edge is bent so that it lies in a surface, up to 180 either way.

    The strip is square to the edge and lies in the plane touching the surface in the edge's middle.

    Args:
        patch: the patch the strip is on.
        edge: the number of its edge.
        normal_at: the surface.
        sense: 1 for a strip turned to the inside of the fitting, -1 for one turned out.
    """
    corners = patch.space
    start, end = corners[edge], corners[(edge + 1) % len(corners)]
    along = (end - start) / np.linalg.norm(end - start)
    straight_on = cross(along, patch.normal)
    x, y, z = (start + end) / 2
    across = cross(along, np.array(normal_at((float(x), float(y), float(z)))))
    across /= np.linalg.norm(across)
    if sense * float(across @ patch.normal) < 0:
        across = -across
    return math.degrees(math.atan2(float(across @ patch.normal), float(across @ straight_on)))


def lying_on(
    ring: Ring, edges: Iterable[EdgeName], edging: Edging, normal_at: NormalAt
) -> Mapping[EdgeName, Edging]:
    """The edging on each edge, a strip that stands square bent to lie on the surface instead."""
    edges = list(edges)
    if not edging.strips or abs(edging.strips[0].angle) != 90:
        return dict.fromkeys(edges, edging) if edging.strips else {}
    patches = {patch.name: patch for patch in ring.patches}
    first, *others = edging.strips
    sense = 1 if first.angle > 0 else -1
    bent = {
        (name, edge): replace(first, angle=angle_onto(patches[name], edge, normal_at, sense))
        for name, edge in edges
    }
    return {edge: replace(edging, strips=(strip, *others)) for edge, strip in bent.items()}


def level(_point: Point3) -> Point3:
    """The normal of a level plane: an opening's at the end of an upright fitting."""
    return (0.0, 0.0, 1.0)
