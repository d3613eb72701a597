"""Vectors in space: the two products that folding, developing and drawing share."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Vector = npt.NDArray[np.float64]


def cross(a: Vector, b: Vector) -> Vector:
    """The cross product of vectors of three, one pair or row by row.

    `numpy.cross` takes five times as long: it looks at every shape there could be.
    """
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx]).T


def newell(corners: Vector) -> Vector:
    """The normal of a flat polygon towards where it runs counter-clockwise, twice its area long.

    Newell's sum: sound for any flat polygon, corners that go in included.

    Args:
        corners: shape (corners, 3).
    """
    products = cross(corners, np.concatenate([corners[1:], corners[:1]]))
    return np.asarray(np.ascontiguousarray(products).sum(axis=0))  # row after row
