"""Upright boxes on a drawing, to keep written things apart."""

from __future__ import annotations

from collections.abc import Sequence

from .labels import Label, backing
from .primitives import Spot

Box = tuple[Spot, Spot]
"""Lower left and upper right corner."""


def box_of(points: Sequence[Spot]) -> Box:
    """The box round some points."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys)), (max(xs), max(ys))


def label_box(label: Label, centre: Spot, scale: float) -> Box:
    """The box that a label takes, its backing included."""
    points = backing(label, centre, scale).points
    return points[0], points[2]


def meet(a: Box, b: Box) -> bool:
    """Whether two boxes share room."""
    (a_left, a_low), (a_right, a_high) = a
    (b_left, b_low), (b_right, b_high) = b
    return a_left < b_right and b_left < a_right and a_low < b_high and b_low < a_high


def inside(box: Box, around: Box) -> bool:
    """Whether a box lies within another."""
    return all(around[0][way] <= box[0][way] and box[1][way] <= around[1][way] for way in (0, 1))


def middle(box: Box) -> Spot:
    """Its centre."""
    (left, low), (right, high) = box
    return (left + right) / 2, (low + high) / 2
