"""What is left of flat shapes when they are joined, shared and taken from each other?

A thin layer over the polygon library for drawing: shapes are bounded by straight lines and stay in
the library's own form between steps. Regions with arcs are `planar.py`'s.
"""

from __future__ import annotations

from typing import TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

Flat: TypeAlias = manifold3d.CrossSection


def flat_of(loops: tuple[NDArray[np.float64], ...]) -> Flat:
    """What counterclockwise loops, each (n, 2), cover together."""
    return Flat(loops, manifold3d.FillRule.Positive)


def flat_union(flats: tuple[Flat, ...]) -> Flat:
    """What any of the shapes covers."""
    return Flat.batch_boolean(flats, manifold3d.OpType.Add)


def flat_both(one: Flat, other: Flat) -> Flat:
    """What two shapes share."""
    return one ^ other


def flat_less(one: Flat, others: tuple[Flat, ...]) -> Flat:
    """The shape without what any of the others covers."""
    return Flat.batch_boolean((one, *others), manifold3d.OpType.Subtract)


def flat_area(flat: Flat) -> float:
    return float(flat.area())


def flat_loops(flat: Flat) -> tuple[NDArray[np.float64], ...]:
    """Closed loops, each (n, 2): outer ones counterclockwise, holes clockwise."""
    return tuple(np.asarray(loop, dtype=np.float64) for loop in flat.to_polygons())


def flat_simple(flat: Flat, tolerance: float) -> Flat:
    """The shape without corners that lie within `tolerance` of the line past them."""
    return flat.simplify(tolerance)
