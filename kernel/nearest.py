"""How near do two bodies come to each other, and where?

In: two bodies as plain triangles that share no wood. Out: the least distance and a point on each
that realises it. Exact for any mesh: the least distance of two triangles lies between a corner of
the one and a point of the other, or between two edges. Pairs of triangles are tried by the distance
of their boxes, nearest first, until no box that is left comes as near as what was found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .ends import Ends
from .shadows import Booleans, Faces, Floats, Vector, growing, vector

FIRST_RUN = 64
"""How many pairs of triangles are measured at first."""

BLOCK = 2_000_000
"""How many pairs of boxes are compared at a time."""


@dataclass(frozen=True, slots=True)
class Nearness:
    """The least distance, mm, and a point of each body that lies that far from the other's."""

    distance: float
    one: Vector
    other: Vector

    @property
    def middle(self) -> Vector:
        x, y, z = ((p + q) / 2 for p, q in zip(self.one, self.other, strict=True))
        return x, y, z

    @property
    def ends(self) -> Ends:
        """From the one to the other, without a direction where they touch."""
        if self.distance == 0.0:
            return Ends(self.one, self.other, None)
        x, y, z = ((q - p) / self.distance for p, q in zip(self.one, self.other, strict=True))
        return Ends(self.one, self.other, (x, y, z))


def nearest_points(one: Faces, other: Faces) -> Nearness:
    """Where two bodies that share no wood come nearest to each other.

    Of several places the first in the order of the triangles is told.
    """
    a, b = one.corners, other.corners
    best = Nearness(np.inf, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    step = max(1, BLOCK // len(b))
    for start in range(0, len(a), step):
        best = _nearer(a[start : start + step], b, best)
    return best


def _nearer(a: Floats, b: Floats, best: Nearness) -> Nearness:
    """The nearest of these triangles, or what was found before."""
    apart = _boxes_apart(a, b)
    rows, columns = np.nonzero(apart < best.distance)
    order = np.argsort(apart[rows, columns], kind="stable")
    rows, columns = rows[order], columns[order]
    for run in growing(len(rows), FIRST_RUN):
        i, j = rows[run], columns[run]
        if apart[i[0], j[0]] >= best.distance:
            break
        distance, p, q = triangles_apart(a[i], b[j])
        k = int(np.argmin(distance))
        if distance[k] < best.distance:
            best = Nearness(float(distance[k]), vector(p[k]), vector(q[k]))
    return best


def _boxes_apart(a: Floats, b: Floats) -> Floats:
    """(n, m): how far the boxes round triangles are apart."""
    squared = np.zeros((len(a), len(b)))
    for axis in range(3):
        low_a, high_a = a[:, :, axis].min(axis=1), a[:, :, axis].max(axis=1)
        low_b, high_b = b[:, :, axis].min(axis=1), b[:, :, axis].max(axis=1)
        over = np.maximum(low_b[None, :] - high_a[:, None], low_a[:, None] - high_b[None, :])
        squared += np.maximum(over, 0.0) ** 2
    apart: Floats = np.sqrt(squared)
    return apart


def triangles_apart(a: Floats, b: Floats) -> tuple[Floats, Floats, Floats]:
    """For pairs of triangles (k, 3, 3) that do not cross: their distance, and a point of each."""
    tried = []
    for corner in range(3):
        on_b = _on_triangle(a[:, corner], b)
        tried.append((a[:, corner], on_b))
        on_a = _on_triangle(b[:, corner], a)
        tried.append((on_a, b[:, corner]))
    for i in range(3):
        for j in range(3):
            tried.append(_between(a[:, i], a[:, (i + 1) % 3], b[:, j], b[:, (j + 1) % 3]))
    one, other = (np.stack([pair[k] for pair in tried]) for k in (0, 1))
    distance = np.linalg.norm(one - other, axis=2)
    least = np.argmin(distance, axis=0)
    every = np.arange(len(a))
    return distance[least, every], one[least, every], other[least, every]


def _on_triangle(point: Floats, triangle: Floats) -> Floats:
    """The points of triangles above which these points stand; else the nearest on an edge."""
    a, b, c = triangle[:, 0], triangle[:, 1], triangle[:, 2]
    normal = np.cross(b - a, c - a)
    squared = _dot(normal, normal)
    some = squared > 0
    height = np.divide(_dot(point - a, normal), squared, out=np.zeros_like(squared), where=some)
    foot = point - height[:, None] * normal
    inside: Booleans = some.copy()
    for p, q in ((a, b), (b, c), (c, a)):
        inside &= _dot(np.cross(q - p, foot - p), normal) >= 0
    best, least = foot, np.where(inside, _length(point - foot), np.inf)
    for p, q in ((a, b), (b, c), (c, a)):
        on = _on_segment(point, p, q)
        away = _length(point - on)
        best = np.where((away < least)[:, None], on, best)
        least = np.minimum(away, least)
    return best


def _on_segment(point: Floats, start: Floats, end: Floats) -> Floats:
    along = end - start
    squared = _dot(along, along)
    share = np.divide(
        _dot(point - start, along), squared, out=np.zeros_like(squared), where=squared > 0
    )
    on: Floats = start + np.clip(share, 0.0, 1.0)[:, None] * along
    return on


def _between(p: Floats, p_end: Floats, q: Floats, q_end: Floats) -> tuple[Floats, Floats]:
    """The nearest points of two edges, where both lie within; else the start of one and what is
    nearest to it, which the corners are tried for anyway."""
    u, v, w = p_end - p, q_end - q, p - q
    uu, uv, vv, uw, vw = _dot(u, u), _dot(u, v), _dot(v, v), _dot(u, w), _dot(v, w)
    bent = uu * vv - uv * uv
    crosses = bent > 1e-12 * uu * vv
    s = np.divide(uv * vw - vv * uw, bent, out=np.zeros_like(bent), where=crosses)
    s = np.clip(s, 0.0, 1.0)
    on_p = p + s[:, None] * u
    return on_p, _on_segment(on_p, q, q_end)


def _dot(one: Floats, other: Floats) -> Floats:
    dot: Floats = np.einsum("ki,ki->k", one, other)
    return dot


def _length(vectors: Floats) -> Floats:
    length: Floats = np.linalg.norm(vectors, axis=1)
    return length
