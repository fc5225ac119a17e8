"""Does one body, turned about an axis, run into another, and after what angle?

In: two bodies as plain triangles, a line to turn about, an angle. Out: the first contact, or that
there is none. Nothing is sampled: two solids that are apart first touch where a corner of one
meets a face of the other or where two edges cross, and on a circular path each of these happens at
an angle with a closed form. Pairs that never come to one radius and height are left out first.

A point p turns as p(t) = k + c cos t + s sin t, so a corner lies in a plane, and two edges lie in
one plane, where a cos t + b sin t + d = 0: at most two angles, of which those count where the
point is in the triangle, or on both edges. A corner a hair outside counts too, so the answer errs
on the side of contact. As in `sliding.py` the bodies must be apart where they start, and eroded
twins keep faces that slide on each other apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, tau

import numpy as np

from .shadows import (
    ROWS_TIMES_COLUMNS,
    Booleans,
    Faces,
    Floats,
    Indices,
    Vector,
    sight,
    vector,
)
from .thresholds import LEAST_TOUCH

AT_ONCE = 200_000
"""How many pairs are solved at a time."""

SLACK = 1e-9
"""How far outside a triangle or an edge, as a share of it, a point still counts as on it."""


@dataclass(frozen=True, slots=True)
class Hinge:
    """A line through `at` along `axis`; turning is right-handed about it."""

    at: Vector
    axis: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """Where a body that turns first meets a still one: the place on the still body, the point that
    comes there before it turns, the angle turned until then in radians, and which cuts made the
    faces there (-1: the blank's own)."""

    place: Vector
    start: Vector
    angle: float
    moving_cut: int
    still_cut: int


def first_touch(moving: Faces, still: Faces, hinge: Hinge, angle: float) -> Touch | None:
    """The first contact of `moving` on its way round the hinge by `angle` radians, if any.

    A negative angle turns the other way. More than a whole turn sees nothing new.
    """
    axis = hinge.axis if angle >= 0 else (-hinge.axis[0], -hinge.axis[1], -hinge.axis[2])
    frame = sight(axis)
    most = min(abs(angle), tau)
    one = _turnable(moving, hinge, frame)
    other = _turnable(still, hinge, frame)
    one, other = _near(one, other)
    nearest = _Nearest(most)
    if len(one.corners) and len(other.corners):
        nearest.take(_corner_events(one, other, 1.0))
        nearest.take(_corner_events(other, one, -1.0))
        nearest.take(_edge_events(one, other))
    if nearest.found is None:
        return None
    met = nearest.found.place[None]
    before = _turned(met, np.array([-nearest.found.angle]))
    place, start = np.concatenate((met, before)) @ frame + np.array(hinge.at)
    return Touch(
        place=vector(place),
        start=vector(start),
        angle=nearest.found.angle,
        moving_cut=int(moving.cut[one.source[nearest.found.moving]]),
        still_cut=int(still.cut[other.source[nearest.found.still]]),
    )


def turn_about(hinge: Hinge, angle: float) -> Floats:
    """The 4x4 matrix of a turn by `angle` radians about the hinge."""
    frame = sight(hinge.axis)
    c, s = np.cos(angle), np.sin(angle)
    matrix = np.eye(4)
    matrix[:3, :3] = frame.T @ np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]) @ frame
    matrix[:3, 3] = np.array(hinge.at) - matrix[:3, :3] @ np.array(hinge.at)
    return matrix


# ---- bodies round the hinge ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Turnable:
    """Triangles (m, 3, 3) with the hinge as their third axis, the radii and heights each spans,
    and their numbers in the body."""

    corners: Floats
    nearest: Floats
    farthest: Floats
    low: Floats
    high: Floats
    source: Indices

    def __getitem__(self, rows: Booleans) -> _Turnable:
        return _Turnable(
            self.corners[rows],
            self.nearest[rows],
            self.farthest[rows],
            self.low[rows],
            self.high[rows],
            self.source[rows],
        )


def _turnable(body: Faces, hinge: Hinge, frame: Floats) -> _Turnable:
    corners = (body.corners - np.array(hinge.at)) @ frame.T
    height = corners[:, :, 2]
    return _Turnable(
        corners,
        _least_radius(corners[:, :, :2]),
        np.hypot(corners[:, :, 0], corners[:, :, 1]).max(axis=1),
        height.min(axis=1),
        height.max(axis=1),
        np.arange(len(corners)),
    )


def _least_radius(flat: Floats) -> Floats:
    """How near each triangle (m, 3, 2) comes to the origin: 0 where it holds it."""
    start, end = flat, np.roll(flat, -1, axis=1)
    turn = start[:, :, 0] * end[:, :, 1] - start[:, :, 1] * end[:, :, 0]
    holds = (turn >= 0).all(axis=1) | (turn <= 0).all(axis=1)
    nearest = _segment_radius(start.reshape(-1, 2), end.reshape(-1, 2)).reshape(-1, 3).min(axis=1)
    return np.where(holds, 0.0, nearest)


def _segment_radius(start: Floats, end: Floats) -> Floats:
    """How near each segment (k, 2) comes to the origin."""
    along = end - start
    size = (along * along).sum(axis=1)
    share = np.divide(-(start * along).sum(axis=1), size, out=np.zeros_like(size), where=size > 0)
    near = start + np.clip(share, 0.0, 1.0)[:, None] * along
    radius: Floats = np.hypot(near[:, 0], near[:, 1])
    return radius


def _near(one: _Turnable, other: _Turnable) -> tuple[_Turnable, _Turnable]:
    """The triangles of each that come to a radius and height that the other has."""
    for _ in range(2):
        if not len(one.corners) or not len(other.corners):
            break
        one = one[_within(one, other)]
        if len(one.corners):
            other = other[_within(other, one)]
    return one, other


def _within(one: _Turnable, other: _Turnable) -> Booleans:
    inside: Booleans = (
        (one.nearest <= other.farthest.max() + LEAST_TOUCH)
        & (one.farthest >= other.nearest.min() - LEAST_TOUCH)
        & (one.low <= other.high.max() + LEAST_TOUCH)
        & (one.high >= other.low.min() - LEAST_TOUCH)
    )
    return inside


# ---- where a corner meets a face, and an edge an edge --------------------------------------------


@dataclass(frozen=True, slots=True)
class _Events:
    """Angles (k,) at which something meets, where on the still body, and the two triangles."""

    angle: Floats
    place: Floats
    moving: Indices
    still: Indices


@dataclass(frozen=True, slots=True)
class _Event:
    angle: float
    place: Floats
    moving: int
    still: int


class _Nearest:
    """The first event so far within an angle."""

    def __init__(self, angle: float) -> None:
        self.angle = angle
        self.found: _Event | None = None

    def take(self, events: Iterator[_Events]) -> None:
        for some in events:
            if not len(some.angle):
                continue
            at = int(np.argmin(some.angle))
            if some.angle[at] < self.angle:
                self.angle = float(some.angle[at])
                moving, still = int(some.moving[at]), int(some.still[at])
                self.found = _Event(self.angle, some.place[at], moving, still)


def _corner_events(pointed: _Turnable, faced: _Turnable, sign: float) -> Iterator[_Events]:
    """Corners of the one against faces of the other, the corners turning by `sign` times t.

    Where the faced body is the one that moves, its face meets a still corner as that corner,
    turned back, meets the face.
    """
    points, owner = _distinct(pointed.corners.reshape(-1, 3))
    owner = owner // 3
    radius, height = np.hypot(points[:, 0], points[:, 1]), points[:, 2]
    for p, f in _alike(radius, radius, height, height, faced):
        yield from _corners_in_faces(points[p], faced.corners[f], owner[p], f, sign)


def _corners_in_faces(
    point: Floats, face: Floats, owner: Indices, row: Indices, sign: float
) -> Iterator[_Events]:
    normal = np.cross(face[:, 1] - face[:, 0], face[:, 2] - face[:, 0])
    cos_part = normal[:, 0] * point[:, 0] + normal[:, 1] * point[:, 1]
    sin_part = sign * (normal[:, 1] * point[:, 0] - normal[:, 0] * point[:, 1])
    rest = normal[:, 2] * point[:, 2] - (normal * face[:, 0]).sum(axis=1)
    for angle, known in _roots(cos_part, sin_part, rest):
        there = _turned(point[known], sign * angle)
        inside = _in_triangle(there, face[known], normal[known])
        place = there if sign > 0 else point[known]
        at = np.flatnonzero(known)[inside]
        one, other = (owner, row) if sign > 0 else (row, owner)
        yield _Events(angle[inside], place[inside], one[at], other[at])


def _in_triangle(point: Floats, face: Floats, normal: Floats) -> Booleans:
    """Whether points in the planes of their triangles lie in them, a hair of slack included.

    The sides of a needle run a hair apart far past its tip, so points must lie along it as well.
    """
    size = (normal * normal).sum(axis=1)
    sides = np.roll(face, -1, axis=1) - face
    lengths = np.linalg.norm(sides, axis=2)
    least = -np.maximum(SLACK * size, LEAST_TOUCH * np.sqrt(size) * lengths.max(axis=1))
    inside = np.ones(len(point), dtype=bool)
    for corner in range(3):
        from_start = point - face[:, corner]
        side = np.cross(sides[:, corner], from_start)
        inside &= (side * normal).sum(axis=1) >= least
    every, long = np.arange(len(face)), lengths.argmax(axis=1)
    length = lengths[every, long]
    along = (sides[every, long] * (point - face[every, long])).sum(axis=1)
    inside &= (along >= -LEAST_TOUCH * length) & (along <= (length + LEAST_TOUCH) * length)
    return inside


def _edge_events(one: _Turnable, other: _Turnable) -> Iterator[_Events]:
    """Edges against edges."""
    own_start, own_end, owner = _edges(one)
    start, end, row = _edges(other)
    still = _Turnable(
        np.stack((start, end, end), axis=1),
        _segment_radius(start[:, :2], end[:, :2]),
        np.maximum(np.hypot(*start[:, :2].T), np.hypot(*end[:, :2].T)),
        np.minimum(start[:, 2], end[:, 2]),
        np.maximum(start[:, 2], end[:, 2]),
        row,
    )
    nearest = _segment_radius(own_start[:, :2], own_end[:, :2])
    farthest = np.maximum(np.hypot(*own_start[:, :2].T), np.hypot(*own_end[:, :2].T))
    low = np.minimum(own_start[:, 2], own_end[:, 2])
    high = np.maximum(own_start[:, 2], own_end[:, 2])
    for i, j in _alike(nearest, farthest, low, high, still):
        yield from _edges_cross((own_start[i], own_end[i]), (start[j], end[j]), owner[i], row[j])


def _edges_cross(
    turning: tuple[Floats, Floats], still: tuple[Floats, Floats], owner: Indices, row: Indices
) -> Iterator[_Events]:
    """Edges p..p+u and q..q+v lie in one plane where v·R(p×u) = (v×q)·Ru."""
    (p, p_end), (q, q_end) = turning, still
    u, v = p_end - p, q_end - q
    moment, other = np.cross(p, u), np.cross(v, q)
    cos_part = _flat_dot(v, moment) - _flat_dot(other, u)
    sin_part = _flat_cross(moment, v) - _flat_cross(u, other)
    rest = v[:, 2] * moment[:, 2] - other[:, 2] * u[:, 2]
    for angle, known in _roots(cos_part, sin_part, rest):
        start, end = _turned(p[known], angle), _turned(p_end[known], angle)
        place, gap = _closest(start, end, q[known], q_end[known])
        met = gap <= LEAST_TOUCH
        at = np.flatnonzero(known)[met]
        yield _Events(angle[met], place[met], owner[at], row[at])


def _flat_dot(one: Floats, other: Floats) -> Floats:
    dot: Floats = one[:, 0] * other[:, 0] + one[:, 1] * other[:, 1]
    return dot


def _flat_cross(one: Floats, other: Floats) -> Floats:
    cross: Floats = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return cross


def _closest(p: Floats, p_end: Floats, q: Floats, q_end: Floats) -> tuple[Floats, Floats]:
    """The point of each segment q..q_end nearest to p..p_end, for segments not parallel, and how
    far apart the two are there; a pair of parallel edges meets at a corner if at all."""
    u, v, w = p_end - p, q_end - q, p - q
    uu, uv, vv = (u * u).sum(axis=1), (u * v).sum(axis=1), (v * v).sum(axis=1)
    uw, vw = (u * w).sum(axis=1), (v * w).sum(axis=1)
    space = uu * vv - uv * uv
    wide = space > SLACK * uu * vv
    s = np.divide(uv * vw - vv * uw, space, out=np.full_like(space, inf), where=wide)
    s = np.clip(s, 0.0, 1.0)
    t = np.clip(np.divide(uv * s + vw, vv, out=np.zeros_like(vv), where=vv > 0), 0.0, 1.0)
    place = q + t[:, None] * v
    gap = np.where(wide, np.linalg.norm(p + s[:, None] * u - place, axis=1), inf)
    return place, gap


def _roots(cos_part: Floats, sin_part: Floats, rest: Floats) -> Iterator[tuple[Floats, Booleans]]:
    """The angles from 0 to a whole turn where a cos t + b sin t + d = 0: two sets, and of which
    equations. Equations that hold everywhere have none."""
    size = np.hypot(cos_part, sin_part)
    share = np.divide(-rest, size, out=np.full_like(size, inf), where=size > 0)
    known = np.abs(share) <= 1.0 + SLACK
    middle = np.arctan2(sin_part[known], cos_part[known])
    half = np.arccos(np.clip(share[known], -1.0, 1.0))
    for angle in (middle - half, middle + half):
        yield np.mod(angle, tau), known


def _turned(points: Floats, angle: Floats) -> Floats:
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = points[:, 0], points[:, 1]
    return np.stack((x * cos - y * sin, x * sin + y * cos, points[:, 2]), axis=1)


def _distinct(points: Floats) -> tuple[Floats, Indices]:
    """Each point once, and where it comes from."""
    _, first = np.unique(points, axis=0, return_index=True)
    first = np.sort(first)
    return points[first], first


def _edges(body: _Turnable) -> tuple[Floats, Floats, Indices]:
    """Each edge of the triangles once: starts, ends, and a triangle it bounds."""
    start = body.corners.reshape(-1, 3)
    end = np.roll(body.corners, -1, axis=1).reshape(-1, 3)
    swap = _comes_after(start, end)
    ordered = np.where(swap[:, None], np.hstack((end, start)), np.hstack((start, end)))
    _, first = np.unique(ordered, axis=0, return_index=True)
    first = np.sort(first)
    return start[first], end[first], first // 3


def _comes_after(one: Floats, other: Floats) -> Booleans:
    """Whether points come after others by x, then y, then z."""
    after = np.zeros(len(one), dtype=bool)
    same = np.ones(len(one), dtype=bool)
    for axis in range(3):
        after |= same & (one[:, axis] > other[:, axis])
        same &= one[:, axis] == other[:, axis]
    return after


def _alike(
    nearest: Floats, farthest: Floats, low: Floats, high: Floats, other: _Turnable
) -> Iterator[tuple[Indices, Indices]]:
    """Pairs of features that share a radius and a height, in chunks."""
    step = max(1, ROWS_TIMES_COLUMNS // max(1, len(other.low)))
    for begin in range(0, len(nearest), step):
        part = slice(begin, begin + step)
        meet = nearest[part, None] <= other.farthest[None] + LEAST_TOUCH
        meet &= farthest[part, None] >= other.nearest[None] - LEAST_TOUCH
        meet &= low[part, None] <= other.high[None] + LEAST_TOUCH
        meet &= high[part, None] >= other.low[None] - LEAST_TOUCH
        rows, columns = np.nonzero(meet)
        for at in range(0, len(rows), AT_ONCE):
            yield rows[at : at + AT_ONCE] + begin, columns[at : at + AT_ONCE]
