"""Where do the faces of two boards look at each other, how far apart, and with which grain?

In: two bodies as plain triangles. Out: every patch where a facet of the one faces a facet of the
other within a few millimetres: its area, the gap there, its place and both facets. Facets count as
facing when their normals differ from opposite by less than `FACES_FACE` degrees: flat walls face
exactly, and on two arcs of one middle the chords do as nearly as those arcs were cut into chords.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

import numpy as np

from .frames import pose_matrix
from .plan import BoardPlan
from .shadows import ROWS_TIMES_COLUMNS, Faces, Floats, Indices, Layer, Vector, layer, pieces
from .solids import Bodies
from .thresholds import FACES_FACE, GLUE_GAP, PRESSED, TWIN_INSET


class Grain(Enum):
    """What a surface of wood is: along the thickness one looks on a face, along the width on an
    edge, along the grain on an end."""

    FACE = "face"
    EDGE = "edge"
    END = "end"


GRAINS = tuple(Grain)
"""From the best to glue to the worst."""


@dataclass(frozen=True, slots=True)
class Facing:
    """Patches of two bodies that face each other: `area` (k,) mm2, `gap` (k,) mm along the first
    one's normal, below 0 wood in wood, `at` (k, 3) their middles, `one` and `other` (k,) the facets
    by number."""

    area: Floats
    gap: Floats
    at: Floats
    one: Indices
    other: Indices


@dataclass(frozen=True, slots=True)
class Areas:
    """Area by grain, mm2. Where two kinds of surface meet, the one that glues worse counts."""

    face: float = 0.0
    edge: float = 0.0
    end: float = 0.0

    @property
    def whole(self) -> float:
        return self.face + self.edge + self.end

    @property
    def long_grain(self) -> float:
        """What holds glue: no end of a board is in it."""
        return self.face + self.edge


def facing(one: Faces, other: Faces, reach: float, deepest: float = PRESSED) -> Facing:
    """The patches of two bodies whose gap is at most `reach` mm and no deeper than `deepest`."""
    first, second = _near(one, other, reach), _near(other, one, reach)
    found = [_patches(*some) for some in _candidates(one, other, first, second, reach)]
    if not found:
        none = np.empty(0, dtype=np.int64)
        return Facing(np.empty(0), np.empty(0), np.empty((0, 3)), none, none)
    area, gap, at = (np.concatenate([f[k] for f in found]) for k in (0, 1, 2))
    rows, columns = (np.concatenate([f[k] for f in found]) for k in (3, 4))
    kept = (gap <= reach) & (gap > -deepest)
    return Facing(area[kept], gap[kept], at[kept], rows[kept], columns[kept])


def _near(body: Faces, other: Faces, reach: float) -> Indices:
    """The facets whose box comes within `reach` of the box round the other body."""
    low, high = other.corners.min(axis=(0, 1)) - reach, other.corners.max(axis=(0, 1)) + reach
    inside = (body.corners.min(axis=1) <= high) & (body.corners.max(axis=1) >= low)
    found: Indices = np.flatnonzero(inside.all(axis=1))
    return found


def _normals(triangles: Floats) -> Floats:
    normal = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    length = np.linalg.norm(normal, axis=1, keepdims=True)
    normals: Floats = np.divide(normal, length, out=np.zeros_like(normal), where=length > 0)
    return normals


def _candidates(
    one: Faces, other: Faces, first: Indices, second: Indices, reach: float
) -> Iterator[tuple[Floats, Floats, Indices, Indices]]:
    """Pairs of facets, with their corners, that look at each other and whose boxes come near."""
    a, b = one.corners[first], other.corners[second]
    normal_a, normal_b = _normals(a), _normals(b)
    low_a, high_a, low_b, high_b = a.min(1) - reach, a.max(1) + reach, b.min(1), b.max(1)
    opposite = -math.cos(math.radians(FACES_FACE))
    step = max(1, ROWS_TIMES_COLUMNS // max(1, len(b)))
    for start in range(0, len(a), step):
        part = slice(start, start + step)
        meet = normal_a[part] @ normal_b.T < opposite
        for axis in range(3):
            meet &= low_a[part, None, axis] <= high_b[None, :, axis]
            meet &= high_a[part, None, axis] >= low_b[None, :, axis]
        rows, columns = np.nonzero(meet)
        if len(rows):
            rows = rows + start
            yield a[rows], b[columns], first[rows], second[columns]


def _patches(
    a: Floats, b: Floats, rows: Indices, columns: Indices
) -> tuple[Floats, Floats, Floats, Indices, Indices]:
    """Each pair seen along the first facet's normal: area, gap and middle of what they share."""
    frames = _frames(a)
    origin = a[:, :1]
    seen_a = np.einsum("kij,klj->kli", frames, a - origin)
    seen_b = np.einsum("kij,klj->kli", frames, b - origin)[:, ::-1]
    every = np.arange(len(a))
    found = pieces(_seen(seen_a), _seen(seen_b), every, every)
    start = found.flat - found.flat[:, :1]
    end = np.roll(start, -1, axis=1)
    cross = start[:, :, 0] * end[:, :, 1] - start[:, :, 1] * end[:, :, 0]
    area = np.maximum(cross.sum(axis=1) / 2, 0.0)
    gap = found.gap.mean(axis=1)
    flat = np.concatenate((found.flat.mean(axis=1), np.zeros((len(area), 1))), axis=1)
    at = np.einsum("ki,kij->kj", flat, frames[found.rows]) + origin[found.rows, 0]
    return area, gap, at, rows[found.rows], columns[found.rows]


def _frames(triangles: Floats) -> Floats:
    """(k, 3, 3): rows u, v, n of a right-handed frame on each triangle."""
    normal = _normals(triangles)
    helper = np.eye(3)[np.argmin(np.abs(normal), axis=1)]
    u = np.cross(helper, normal)
    u /= np.linalg.norm(u, axis=1, keepdims=True)
    return np.stack((u, np.cross(normal, u), normal), axis=1)


def _seen(seen: Floats) -> Layer:
    return layer(seen[:, :, :2], seen[:, :, 2], np.arange(len(seen)))


# ---- two boards ----------------------------------------------------------------------------------


def boards_facing(bodies: Bodies, i: int, j: int, reach: float) -> Facing:
    """The patches where two boards of a plan face each other in the finished piece."""
    return facing(bodies.faces(i, inset=0.0), bodies.faces(j, inset=0.0), reach)


def least_gap(found: Facing) -> tuple[float, Vector] | None:
    """The least gap and where it is, in the middle of the largest patch of those that share it."""
    wide = np.flatnonzero(found.area > TWIN_INSET**2)
    if not len(wide):
        return None
    first = np.lexsort((-found.area[wide], np.round(found.gap[wide] / TWIN_INSET)))[0]
    x, y, z = (float(c) for c in found.at[wide[first]])
    return float(found.gap[wide[first]]), (x, y, z)


def touching(bodies: Bodies, i: int, j: int, found: Facing) -> Areas:
    """Where wood touches wood."""
    return _areas(bodies, i, j, found, 2 * TWIN_INSET)


def glued(bodies: Bodies, i: int, j: int, found: Facing) -> Areas:
    """Where glue fills the gap."""
    return _areas(bodies, i, j, found, GLUE_GAP)


def _areas(bodies: Bodies, i: int, j: int, found: Facing, most: float) -> Areas:
    """Areas of patches no farther apart than `most`, by the worse grain of the two."""
    boards = bodies.plan.boards
    near = found.gap <= most + TWIN_INSET / 10
    one = _grains(boards[i], bodies.faces(i, inset=0.0), found.one[near])
    other = _grains(boards[j], bodies.faces(j, inset=0.0), found.other[near])
    worse = np.maximum(one, other)
    face, edge, end = (float(found.area[near][worse == k].sum()) for k in range(len(GRAINS)))
    return Areas(face, edge, end)


def _grains(board: BoardPlan, body: Faces, facets: Indices) -> Indices:
    """For each facet the number of its `Grain`: the axis of the board it looks along most, of two
    alike, as on a mitre, the one that glues worse."""
    turn = pose_matrix(board.board.pose)[:3, :3]
    axes = turn[:, [board.run.length, board.run.width, board.run.thick]]
    along = np.round(np.abs(_normals(body.corners[facets]) @ axes), 9)
    grains: Indices = len(GRAINS) - 1 - np.argmax(along, axis=1)
    return grains
