"""What do the parts really measure? The figures that `expect` asks for.

In: the bodies of a plan and names of boards. Out: figures read off the cut boards, never off what
a joint says about itself. Usable from Python alone:

    bodies = Bodies(plan)
    volume(bodies, "left"), fit(bodies, "back", "left")

Every function gives None for what cannot be measured: a board that is not in the plan, a fit
between boards that no joint fits into one another.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from . import solids, thresholds
from .board import Axis
from .cuts import Mating
from .frames import pose_matrix
from .plan import BoardPlan
from .shadows import faces
from .sliding import free_travel
from .solids import Bodies, Points

PAIRS_AT_ONCE = 2_000_000
"""How many pairs of facets are tried on each other at a time at most."""


def volume(bodies: Bodies, name: str) -> float | None:
    """The wood left of a board once it is cut, mm3."""
    index = bodies.index(name)
    return None if index is None else solids.volume(bodies.true(index))


def length(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's size along the grain, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.length].size


def width(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's size across the grain, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.width].size


def thick(bodies: Bodies, name: str) -> Fraction | None:
    """The blank's thickness as drawn, exact mm."""
    board = _board(bodies, name)
    return None if board is None else board.board.box[board.run.thick].size


def _board(bodies: Bodies, name: str) -> BoardPlan | None:
    index = bodies.index(name)
    return None if index is None else bodies.plan.boards[index]


def overlap(bodies: Bodies, a: str, b: str) -> float | None:
    """The wood that both boards claim as cut, mm3; exactly 0 when their twins stay clear."""
    i, j = bodies.index(a), bodies.index(b)
    if i is None or j is None:
        return None
    if i == j:
        return solids.volume(bodies.true(i))
    if not bodies.meet(i, j):
        return 0.0
    return solids.volume(bodies.true(min(i, j)) ^ bodies.true(max(i, j)))


def fit(bodies: Bodies, a: str, b: str) -> float | None:
    """The least play between two boards along the axes their joints fit them on, mm.

    Play is how far the part can move one way plus how far the other way until face meets face,
    negative where the part is larger than its socket; see `play`.
    """
    found = [
        measured
        for joint in bodies.plan.joints
        for mating in joint.matings
        if {mating.part, mating.socket} == {a, b}
        and (measured := mating_fit(bodies, mating)) is not None
    ]
    return min(found, default=None)


def mating_fit(bodies: Bodies, mating: Mating) -> float | None:
    """The play of one mating, measured on the true bodies, mm.

    Where it leans it is how far the part slides one way plus how far the other.
    """
    part, socket = bodies.index(mating.part), bodies.index(mating.socket)
    if part is None or socket is None:
        return None
    here, there = solids.facets(bodies.body(part)).corners, _seen_from(bodies, socket, part)
    if mating.leans:
        return _slide(here, there, mating.axis)
    return play(here, there, mating.axis, mating.part_size / 2)


def _slide(part: Points, socket: Points, axis: Axis) -> float | None:
    """Free travel along +axis and along -axis together, mm; None when nothing stands in the way."""
    moving, still = faces(part), faces(socket)
    way = [float(axis == own) for own in Axis]
    both = sum(free_travel(moving, still, [sign * c for c in way]) for sign in (1.0, -1.0))
    return both if math.isfinite(both) else None


def _seen_from(bodies: Bodies, index: int, other: int) -> Points:
    """The triangles of one board in the own coordinates of another, (m, 3, 3) mm."""
    corners: Points = solids.facets(bodies.body(index)).corners
    boards = bodies.plan.boards
    pose, to = boards[index].board.pose, boards[other].board.pose
    if pose == to:
        return corners
    matrix = np.linalg.solve(pose_matrix(to), pose_matrix(pose))
    turned: Points = corners @ matrix[:3, :3].T + matrix[:3, 3]
    return turned


def play(part: Points, socket: Points, axis: Axis, deepest: float) -> float | None:
    """Free play of one mesh in another along +axis plus along -axis, mm.

    Both are (m, 3, 3) triangles in one frame. Only facets square to the axis count. Each way it is
    the least gap between a facet of the part and one of the socket that face each other and
    overlap in projection; down to minus `deepest` a gap is wood in wood, beyond that the two are
    the outsides of different walls. None when nothing stands in the way on one of the two sides.
    """
    part, socket = _beside(part, socket, axis), _beside(socket, part, axis)
    ahead = _least_gap(_facing(part, axis, 1), _facing(socket, axis, -1), axis, 1, deepest)
    behind = _least_gap(_facing(part, axis, -1), _facing(socket, axis, 1), axis, -1, deepest)
    return None if ahead is None or behind is None else ahead + behind


def _beside(mesh: Points, other: Points, axis: Axis) -> Points:
    """The triangles that can lie over the other mesh, looking along the axis."""
    if not len(mesh) or not len(other):
        return mesh
    plane = [(axis + 1) % 3, (axis + 2) % 3]
    low, high = other.min(axis=(0, 1))[plane], other.max(axis=(0, 1))[plane]
    flat = mesh[:, :, plane]
    over = (flat.min(axis=1) <= high) & (flat.max(axis=1) >= low)
    beside: Points = mesh[over.all(axis=1)]
    return beside


def _facing(mesh: Points, axis: Axis, sign: int) -> Points:
    normal = np.cross(mesh[:, 1] - mesh[:, 0], mesh[:, 2] - mesh[:, 0])
    size = np.linalg.norm(normal, axis=1)
    wide = size > thresholds.SAME**2
    share = np.divide(sign * normal[:, axis], size, out=np.zeros_like(size), where=wide)
    facing: Points = mesh[share >= thresholds.FACING_COSINE]
    return facing


def _least_gap(part: Points, socket: Points, axis: Axis, sign: int, deepest: float) -> float | None:
    """The least of `sign * (socket - part)` over facets that overlap in projection."""
    plane = [(axis + 1) % 3, (axis + 2) % 3]
    flat_part, flat_socket = part[:, :, plane], socket[:, :, plane]
    gaps = sign * (socket[:, 0, axis][None, :] - part[:, 0, axis][:, None])
    rows, columns = np.nonzero(gaps > -deepest)
    order = np.argsort(gaps[rows, columns], kind="stable")
    for chosen in _growing(order):
        i, j = rows[chosen], columns[chosen]
        hit = _triangles_overlap(flat_part[i], flat_socket[j])
        if hit.any():
            return float(gaps[i, j][hit].min())
    return None


def _growing(order: NDArray[np.int64]) -> Iterator[NDArray[np.int64]]:
    """The order in runs, each twice as long as the one before: most answers lie in the first."""
    start, size = 0, 1024
    while start < len(order):
        yield order[start : start + size]
        start, size = start + size, min(2 * size, PAIRS_AT_ONCE)


def _triangles_overlap(a: Points, b: Points) -> NDArray[np.bool_]:
    """For pairs of flat triangles (k, 3, 2): whether they share area, by the six edge normals."""
    overlap = np.ones(len(a), dtype=bool)
    for edges in (a, b):
        for corner in range(3):
            edge = edges[:, (corner + 1) % 3] - edges[:, corner]
            normal = np.stack((-edge[:, 1], edge[:, 0]), axis=1)
            normal /= np.linalg.norm(normal, axis=1, keepdims=True)
            one = np.einsum("kij,kj->ki", a, normal)
            other = np.einsum("kij,kj->ki", b, normal)
            shared = np.minimum(one.max(1), other.max(1)) - np.maximum(one.min(1), other.min(1))
            overlap &= shared > thresholds.SAME
    return overlap
