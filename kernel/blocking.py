"""Which boards would each board hit, moved off along a direction?

In: bodies, a choice of boards, directions. Out: for each direction a `Graph` with an arc from a
board to each of the others that it would hit; and, cheaper, whether some boards leave the others at
all. Boards are numbered by their place in the choice; a set of boards is a whole number with bit
`i` for board `i`.

Most pairs are told from boxes: blanks that lie beside each other in the picture or behind cannot
hit, *cores* that lie over each other must. A core is a box of the board that no cut reaches, so
certainly wood; a board has a few, such as the slab between grooves of its two faces and the strip
beside them. Facets decide what is left (`sliding.py`), once for all pairs that lie alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from .board import Axis, Move, Point, Shift
from .cuts import Cut
from .frames import pose_matrix
from .kept import Table
from .plan import BoardPlan
from .shadows import Floats, Vector, View, sight, view
from .sliding import leaves
from .solids import Bodies, depth_range
from .thresholds import CORE_SKIN, LEAST_TOUCH

Booleans: TypeAlias = NDArray[np.bool_]
Range: TypeAlias = tuple[float, float]
Core: TypeAlias = tuple[Range, Range, Range]
Nearer: TypeAlias = tuple[int, int, tuple[Move, ...], tuple[Move, ...], Point, Vector]
"""All that decides whether one board hits another."""


FIRST: tuple[Axis | None, ...] = (None, *Axis)
"""A board's cores: see `_core`."""


@dataclass(frozen=True, slots=True)
class Graph:
    """Along `direction`, of length 1, node `i` would hit every node of the set `hits[i]`."""

    direction: Vector
    hits: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Picture:
    """What boxes say of a direction: sets of boards that each one hits for sure, and perhaps."""

    sure: tuple[int, ...]
    perhaps: tuple[int, ...]


def members(boards: int) -> Iterator[int]:
    """The numbers in a set, ascending."""
    while boards:
        least = boards & -boards
        yield least.bit_length() - 1
        boards ^= least


def reverse(direction: Vector) -> Vector:
    """The other way, without negative zeros."""
    x, y, z = direction
    return -x + 0.0, -y + 0.0, -z + 0.0


class Blocking:
    """Who hits whom among some boards of a plan; no two of them may share wood.

    Every answer is worked out once, when first asked for. Of two opposite directions one is the
    other with the parts of mover and stayer exchanged.
    """

    def __init__(self, bodies: Bodies, boards: Sequence[int]) -> None:
        self.bodies = bodies
        self.boards = tuple(boards)
        plans = [bodies.plan.boards[i] for i in self.boards]
        self._poses = [without_shifts(plan.board.pose) for plan in plans]
        self._blanks = corners(plans)
        matrices = [pose_matrix(plan.board.pose) for plan in plans]
        cores = zip(*(self._cores_of(i) for i in self.boards), strict=True)
        self._cores = [_put_down_all(some, self._blanks, matrices) for some in cores]
        self._pictures: dict[Vector, _Picture] = {}
        self._views: dict[tuple[int, Vector], View] = {}
        self._met: Table[Nearer, bool] = bodies.kept.table("boards that hit", 2)

    def _cores_of(self, board: int) -> tuple[Core | None, ...]:
        """One for each of `FIRST`."""
        known: Table[tuple[int], tuple[Core | None, ...]] = self.bodies.kept.table("cores")
        key = (self.bodies.kind(board),)
        if key not in known:
            plan = self.bodies.plan.boards[board]
            known[key] = tuple(_core(plan, first) for first in FIRST)
        return known[key]

    @property
    def everything(self) -> int:
        """The set of all boards of the choice."""
        return (1 << len(self.boards)) - 1

    def graph(self, direction: Vector, among: int) -> Graph:
        """Every arc along the direction between boards of the set `among`."""
        seen = self._picture(direction)
        hits = [0] * len(self.boards)
        for i in members(among):
            met = (j for j in members(seen.perhaps[i] & among) if self._meets(i, j, direction))
            hits[i] = (seen.sure[i] & among) | sum(1 << j for j in met)
        return Graph(direction, tuple(hits))

    def frees(self, moving: int, staying: int, direction: Vector) -> bool:
        """Whether the set `moving` leaves the set `staying` along the direction."""
        seen = self._picture(direction)
        if any(seen.sure[i] & staying for i in members(moving)):
            return False
        return not any(
            self._meets(i, j, direction)
            for i in members(moving)
            for j in members(seen.perhaps[i] & staying)
        )

    def view(self, i: int, direction: Vector) -> View:
        """Board `i` looked at along the direction."""
        if (i, direction) not in self._views:
            body = self.bodies.faces(self.boards[i])
            self._views[i, direction] = view(body, sight(direction))
        return self._views[i, direction]

    def _picture(self, direction: Vector) -> _Picture:
        if direction not in self._pictures:
            self._pictures[direction] = self._drawn(sight(direction))
        return self._pictures[direction]

    def _drawn(self, frame: Floats) -> _Picture:
        blanks = _seen((self._blanks, np.ones(len(self._blanks), dtype=bool)), frame)
        near = _overlap(blanks, blanks, 0.0)
        near &= blanks.high[None, :, 2] >= blanks.low[:, None, 2] - LEAST_TOUCH
        sure = np.zeros_like(near)
        # Only where the picture's axes are those of the cores are the boxes round these filled.
        seen = [_seen(cores, frame) for cores in self._cores]
        for one, other in product(seen, repeat=2):
            sure |= near & _covers(one, other)
        np.fill_diagonal(near, False)
        np.fill_diagonal(sure, False)
        return _Picture(_sets(sure), _sets(near & ~sure))

    def _meets(self, i: int, j: int, direction: Vector) -> bool:
        """Facets decide. Pairs that lie alike, moved together or by the same step, are one."""
        back = reverse(direction)
        if back < direction:
            return self._meets(j, i, back)
        key = self._nearer(i, j, direction)
        if key not in self._met:
            self._met[key] = not leaves(self.view(i, direction), self.view(j, direction))
        return self._met[key]

    def _nearer(self, i: int, j: int, direction: Vector) -> Nearer:
        (one, start), (other, end) = self._poses[i], self._poses[j]
        x, y, z = (b - a for a, b in zip(start, end, strict=True))
        kinds = self.bodies.kind(self.boards[i]), self.bodies.kind(self.boards[j])
        return *kinds, one, other, (x, y, z), direction


def without_shifts(pose: tuple[Move, ...]) -> tuple[tuple[Move, ...], Point]:
    """A pose without the shifts it ends with, and what these add up to."""
    x = y = z = Fraction(0)
    while pose and isinstance(last := pose[-1], Shift):
        x, y, z = x + last.by[0], y + last.by[1], z + last.by[2]
        pose = pose[:-1]
    return pose, (x, y, z)


# ---- boxes in the picture ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Seen:
    """Boxes in a picture: `low` and `high` (n, 3) of the box round each, `solid` (n,) whether it is
    filled."""

    low: Floats
    high: Floats
    solid: Booleans


def _seen(boxes: tuple[Floats, Booleans], frame: Floats) -> _Seen:
    corners, there = boxes
    seen = corners @ frame.T
    return _Seen(seen.min(axis=1), seen.max(axis=1), there & _is_filled(corners, frame))


def _covers(one: _Seen, other: _Seen) -> Booleans:
    """Which solid boxes of the first lie over those of the second, ahead of them."""
    over = _overlap(one, other, LEAST_TOUCH) & (other.low[None, :, 2] > one.low[:, None, 2])
    over &= one.solid[:, None] & other.solid[None, :]
    return over


def _overlap(one: _Seen, other: _Seen, least: float) -> Booleans:
    """Which boxes overlap in the picture by more than `least`, each against each."""
    shared: Booleans = np.ones((len(one.low), len(other.low)), dtype=bool)
    for axis in (0, 1):
        shared &= one.low[:, None, axis] < other.high[None, :, axis] - least
        shared &= one.high[:, None, axis] > other.low[None, :, axis] + least
    return shared


def _is_filled(boxes: Floats, frame: Floats) -> Booleans:
    """Whether each box's edges lie along the picture's axes."""
    edges = boxes[:, (1, 2, 4)] - boxes[:, :1]
    along = np.abs(edges @ frame.T)
    filled: Booleans = ((along > LEAST_TOUCH).sum(axis=2) <= 1).all(axis=1)
    return filled


def _sets(rows: Booleans) -> tuple[int, ...]:
    """Rows of truths as sets."""
    packed = np.packbits(rows, axis=1, bitorder="little")
    return tuple(int.from_bytes(row.tobytes(), "little") for row in packed)


# ---- what is certainly wood ----------------------------------------------------------------------


def corners(plans: Sequence[BoardPlan]) -> Floats:
    """(n, 8, 3): the corners of each blank in the finished piece, mm."""
    put_down = [_put_down(_blank(plan), pose_matrix(plan.board.pose)) for plan in plans]
    return np.array(put_down).reshape(-1, 8, 3)


def _blank(plan: BoardPlan) -> Core:
    x, y, z = ((float(plan.board.box[a].lo), float(plan.board.box[a].hi)) for a in Axis)
    return x, y, z


def _put_down(box: Core, matrix: Floats) -> Floats:
    """The eight corners in the finished piece; the first, second, third and fifth share edges."""
    own = np.array([(x, y, z) for x in box[0] for y in box[1] for z in box[2]])
    put_down: Floats = own @ matrix[:3, :3].T + matrix[:3, 3]
    return put_down


def _put_down_all(
    cores: Sequence[Core | None], blanks: Floats, matrices: Sequence[Floats]
) -> tuple[Floats, Booleans]:
    """(n, 8, 3) corners in the finished piece, the blank's where there is no core, and (n,) whether
    there is one."""
    boxes = [
        blank if core is None else _put_down(core, matrix)
        for core, blank, matrix in zip(cores, blanks, matrices, strict=True)
    ]
    there = np.array([core is not None for core in cores], dtype=bool)
    return np.array(boxes).reshape(-1, 8, 3), there


def _core(plan: BoardPlan, first: Axis | None) -> Core | None:
    """A large box of the board, in its own coordinates, that no cut reaches; None for crumbs.

    It gives way to every cut along the axis `first` where that leaves any of it, else, and with
    None, along the axis that leaves the most.
    """
    core = _shrunk(_blank(plan))
    for cut in plan.cuts:
        if core is not None and not cut.region.is_empty:
            core = _beside(core, _reach(plan, cut), first)
    return core


def _shrunk(box: Core) -> Core | None:
    x, y, z = ((lo + CORE_SKIN, hi - CORE_SKIN) for lo, hi in box)
    return (x, y, z) if _volume((x, y, z)) > 0 else None


def _reach(plan: BoardPlan, cut: Cut) -> Core:
    """The box round all that a cut takes, and a skin more."""
    u0, v0, u1, v1 = cut.extent
    lo, hi = depth_range(plan.board, cut, CORE_SKIN)
    ranges: list[Range] = [(0.0, 0.0)] * 3
    u, v = cut.side.plane
    ranges[cut.side.axis] = (lo, hi)
    ranges[u] = (u0 - CORE_SKIN, u1 + CORE_SKIN)
    ranges[v] = (v0 - CORE_SKIN, v1 + CORE_SKIN)
    return ranges[0], ranges[1], ranges[2]


def _beside(core: Core, cut: Core, first: Axis | None) -> Core | None:
    """The largest part of a box on one side of another; None when there is none."""
    if any(c[0] >= k[1] or c[1] <= k[0] for k, c in zip(core, cut, strict=True)):
        return core
    parts = {axis: max(_parts(core, cut, axis), key=_volume) for axis in Axis}
    if first is not None and _volume(parts[first]) > 0:
        return parts[first]
    best = max(parts.values(), key=_volume)
    return best if _volume(best) > 0 else None


def _parts(core: Core, cut: Core, axis: Axis) -> Iterator[Core]:
    """What is left of a box before and behind another along an axis."""
    (lo, hi), (start, end) = core[axis], cut[axis]
    for part in ((lo, min(start, hi)), (max(end, lo), hi)):
        sides = [*core]
        sides[axis] = part
        yield sides[0], sides[1], sides[2]


def _volume(box: Core) -> float:
    x, y, z = (max(0.0, hi - lo) for lo, hi in box)
    return x * y * z
