"""Along which directions might two boards come apart?

In: two bodies. Out: unit directions, best guesses first: the axes both boards are square to, then
what their touching faces suggest. A part slides along the faces that hold it or leaves them
squarely, so the normals of faces that lie against each other, the directions along two of them at
once (cross products) and between two of them (sums) are worth a try.

Every direction is read off the geometry. A wall 400 mm long that slides on another tolerates a
slant of two insets in 400 mm, a thousandth of a degree; `snapped` puts a direction that somebody
wrote down back on the axis or face that was meant.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from math import cos, dist, hypot, radians
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .board import Move
from .frames import pose_matrix
from .thresholds import FACES_LIE_ALONG, FACES_NEAR, MEANT, SQUARE

if TYPE_CHECKING:
    from .shadows import Faces, Vector

Floats: TypeAlias = NDArray[np.float64]

MOST_NORMALS = 8
"""How many face directions of a pair are combined, those with the largest faces."""

LEAST_SHARE = 0.05
"""How much of the area that faces the commonest way must face another for that one to count."""

_ALONG = cos(radians(FACES_LIE_ALONG))


def axes_of(*poses: tuple[Move, ...]) -> tuple[Vector, ...]:
    """Both ways along each axis of the poses' coordinates, each direction once."""
    columns = (pose_matrix(pose)[:3, axis] for pose in poses for axis in range(3))
    return distinct(sign * column for column in columns for sign in (1.0, -1.0))


def suggested(one: Faces, other: Faces) -> tuple[Vector, ...]:
    """What the faces of two bodies that lie against each other suggest, each direction once."""
    normals = touching_normals(one, other)
    pairs = list(combinations(normals, 2))
    wanted = [*normals]
    wanted += [np.cross(p, q) for p, q in pairs]
    wanted += [p + q for p, q in pairs]
    wanted += [p - q for p, q in pairs]
    long_enough = (w for w in wanted if np.linalg.norm(w) > radians(FACES_LIE_ALONG))
    return distinct(sign * w for w in long_enough for sign in (1.0, -1.0))


def distinct(directions: Iterable[Floats]) -> tuple[Vector, ...]:
    """The directions at length 1, without those that came before."""
    found: list[Vector] = []
    for direction in directions:
        x, y, z = (float(c) for c in direction)
        size = hypot(x, y, z)
        unit = _clean(x / size), _clean(y / size), _clean(z / size)
        if not any(dist(unit, known) < SQUARE for known in found):
            found.append(unit)
    return tuple(found)


def _clean(share: float) -> float:
    """Without the dust that a chain of turns leaves where an axis is meant."""
    return 0.0 if abs(share) < SQUARE else share


def touching_normals(one: Faces, other: Faces) -> tuple[Floats, ...]:
    """Normals of `one` on faces that may lie against a face of `other`, largest faces first.

    Only facets near what the boxes round both share are looked at, and of directions that such
    facets face only those with a good share of them: the strips of an arc guide nothing.
    """
    low = np.maximum(one.corners.min(axis=(0, 1)), other.corners.min(axis=(0, 1))) - FACES_NEAR
    high = np.minimum(one.corners.max(axis=(0, 1)), other.corners.max(axis=(0, 1))) + FACES_NEAR
    own, facing = (_normals(body.corners, low, high) for body in (one, other))
    held = (n for n in own if any(float(n @ m) < -_ALONG for m in facing))
    return tuple(n for n, _ in zip(held, range(MOST_NORMALS), strict=False))


def _normals(corners: Floats, low: Floats, high: Floats) -> list[Floats]:
    """The directions that facets within a box face, by how much of them there is."""
    near = ((corners.min(axis=1) <= high) & (corners.max(axis=1) >= low)).all(axis=1)
    a, b, c = (corners[near, i] for i in range(3))
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1)
    normal, size = normal[size > 0], size[size > 0]
    unit = normal / size[:, None]
    # Of a facet that goes on far beyond the box no more counts than fits in it.
    size = np.minimum(size, np.prod(np.sort(high - low)[1:]))
    left = np.ones(len(unit), dtype=bool)
    groups: list[tuple[float, int]] = []
    for at in np.argsort(-size, kind="stable").tolist():
        if left[at]:
            alike = left & (unit @ unit[at] > _ALONG)
            left &= ~alike
            groups.append((-float(size[alike].sum()), at))
    groups.sort()
    return [unit[at] for size_, at in groups if size_ <= LEAST_SHARE * groups[0][0]]


def snapped(direction: Sequence[float], meant: Iterable[Vector]) -> Vector:
    """The first of `meant` within `MEANT` degrees of the direction, else itself; at length 1."""
    unit = np.asarray(direction, dtype=np.float64)
    unit = unit / np.linalg.norm(unit)
    for known in meant:
        # The chord between two units tells small angles apart, their product does not.
        if float(np.linalg.norm(unit - np.asarray(known))) <= radians(MEANT):
            return known
    x, y, z = (float(c) for c in unit)
    return x, y, z
