"""How does one board lie in the coordinates of another?

A board keeps its own coordinates and a pose. Joints are worked out in one board's coordinates, so
this module answers where the other board is there: exactly, in fractions, whenever the moves
between the two are shifts and quarter turns; otherwise from floats snapped to a fine grid. Boards
that are not square to each other have no box in each other's coordinates.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, TypeAlias, assert_never

from .board import Axis, Board, Box, Move, Point, Shift, Span, Turn
from .thresholds import SAME, SNAP_PER_MM, SQUARE

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Matrix: TypeAlias = NDArray[np.float64]

_ORIGIN: Point = (Fraction(0), Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class Bridge:
    """A signed exchange of axes with a shift, from one board's coordinates to another's.

    A point p of the one is q of the other with `q[i] = signs[i] * p[axes[i]] + shift[i]`.
    """

    axes: tuple[Axis, Axis, Axis] = (Axis.X, Axis.Y, Axis.Z)
    signs: tuple[int, int, int] = (1, 1, 1)
    shift: Point = _ORIGIN

    def point(self, p: Point) -> Point:
        x, y, z = (self.signs[i] * p[self.axes[i]] + self.shift[i] for i in range(3))
        return (x, y, z)

    def box(self, box: Box) -> Box:
        """The same space in the other coordinates."""
        low = self.point((box.x.lo, box.y.lo, box.z.lo))
        high = self.point((box.x.hi, box.y.hi, box.z.hi))
        return Box(*(Span(min(p, q), max(p, q)) for p, q in zip(low, high, strict=True)))

    def axis(self, axis: Axis) -> tuple[Axis, int]:
        """Which axis of the other coordinates `axis` runs along, and with which sign."""
        there = self.axes.index(axis)
        return Axis(there), self.signs[there]

    def after(self, other: Bridge) -> Bridge:
        """First `other`, then this."""
        a, b, c = (other.axes[self.axes[i]] for i in range(3))
        s, t, u = (self.signs[i] * other.signs[self.axes[i]] for i in range(3))
        return Bridge((a, b, c), (s, t, u), self.point(other.shift))

    @property
    def back(self) -> Bridge:
        """The way back."""
        a, b, c = (Axis(self.axes.index(axis)) for axis in Axis)
        s, t, u = self.signs[a], self.signs[b], self.signs[c]
        moved = Bridge((a, b, c), (s, t, u)).point(self.shift)
        return Bridge((a, b, c), (s, t, u), (-moved[0], -moved[1], -moved[2]))


def pose_matrix(pose: tuple[Move, ...]) -> Matrix:
    """The 4x4 matrix that takes a board's own coordinates to the finished piece's.

    Quarter turns give entries of exactly 0, 1 and -1.
    """
    import numpy as np

    result = np.eye(4)
    for move in pose:
        result = _move_matrix(move) @ result
    return result


def _move_matrix(move: Move) -> Matrix:
    import numpy as np

    made = np.eye(4)
    match move:
        case Shift(by):
            made[:3, 3] = [float(c) for c in by]
        case Turn(degrees, about, at):
            cos, sin = cos_sin(degrees)
            u, v = (about + 1) % 3, (about + 2) % 3
            made[u, u], made[u, v], made[v, u], made[v, v] = cos, -sin, sin, cos
            centre = np.array([float(c) for c in at])
            made[:3, 3] = centre - made[:3, :3] @ centre
        case _:
            assert_never(move)
    return made


def cos_sin(degrees: Fraction) -> tuple[float, float]:
    """Cosine and sine of an angle, exact for whole quarter turns."""
    import math

    quarters, rest = divmod(degrees, 90)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    angle = math.radians(float(degrees % 360))
    return math.cos(angle), math.sin(angle)


def bridge(b: Board, a: Board) -> Bridge | None:
    """From `b`'s own coordinates to `a`'s; None when the boards are not square to each other."""
    if b.pose == a.pose:
        return Bridge()
    moves_b, moves_a = without_shared_end(b.pose, a.pose)
    exact_b, exact_a = _exact(moves_b), _exact(moves_a)
    if exact_b is not None and exact_a is not None:
        return exact_a.back.after(exact_b)
    return _snapped(b.pose, a.pose)


def without_shared_end(
    one: tuple[Move, ...], other: tuple[Move, ...]
) -> tuple[tuple[Move, ...], tuple[Move, ...]]:
    """Both without the last moves they share: an assembly put down carries both boards alike."""
    shared = 0
    while shared < min(len(one), len(other)) and one[-1 - shared] == other[-1 - shared]:
        shared += 1
    return one[: len(one) - shared], other[: len(other) - shared]


def _exact(pose: tuple[Move, ...]) -> Bridge | None:
    """The pose as a bridge; None when a turn is not a whole number of quarters."""
    whole = Bridge()
    for move in pose:
        match move:
            case Shift(by):
                step = Bridge(shift=by)
            case Turn(degrees, about, at):
                if degrees % 90:
                    return None
                step = _quarter_turns(int(degrees // 90) % 4, about, at)
            case _:
                assert_never(move)
        whole = step.after(whole)
    return whole


def _quarter_turns(count: int, about: Axis, at: Point) -> Bridge:
    u, v = (about + 1) % 3, (about + 2) % 3
    axes, signs = [Axis.X, Axis.Y, Axis.Z], [1, 1, 1]
    if count % 2:
        axes[u], axes[v] = axes[v], axes[u]
    signs[u] = -1 if count in (1, 2) else 1
    signs[v] = -1 if count in (2, 3) else 1
    turned = Bridge((axes[0], axes[1], axes[2]), (signs[0], signs[1], signs[2]))
    moved = turned.point(at)
    return Bridge(turned.axes, turned.signs, (at[0] - moved[0], at[1] - moved[1], at[2] - moved[2]))


def _snapped(pose_b: tuple[Move, ...], pose_a: tuple[Move, ...]) -> Bridge | None:
    """The bridge read off the matrices where their axes agree within `SQUARE`."""
    import numpy as np

    relative = np.linalg.inv(pose_matrix(pose_a)) @ pose_matrix(pose_b)
    axes, signs = [], []
    for row in relative[:3, :3]:
        along = int(np.argmax(np.abs(row)))
        if np.delete(np.abs(row), along).max() > SQUARE:
            return None
        axes.append(Axis(along))
        signs.append(1 if row[along] > 0 else -1)
    x, y, z = (Fraction(round(float(c) * SNAP_PER_MM), SNAP_PER_MM) for c in relative[:3, 3])
    return Bridge((axes[0], axes[1], axes[2]), (signs[0], signs[1], signs[2]), (x, y, z))


def box_in(b: Board, a: Board) -> Box | None:
    """`b`'s box in `a`'s own coordinates; None when they are not square to each other."""
    between = bridge(b, a)
    return None if between is None else between.box(b.box)


def common(one: Box, other: Box) -> Box:
    """What two boxes share; along an axis where they are apart the span runs backwards."""
    return Box(
        *(
            Span(max(one[axis].lo, other[axis].lo), min(one[axis].hi, other[axis].hi))
            for axis in Axis
        )
    )


def has_volume(box: Box) -> bool:
    """True when the box is larger than `SAME` along every axis."""
    return all(box[axis].size > SAME for axis in Axis)


def turned_gap(a: Board, b: Board) -> float:
    """How far apart the blanks of two boards in any pose are, mm, along the separating axis that
    shows it best; negative when they share volume, near 0 when they touch."""
    import numpy as np

    first, second = pose_matrix(a.pose), pose_matrix(b.pose)
    points = [_corners(x.box) @ m[:3, :3].T + m[:3, 3] for m, x in ((first, a), (second, b))]
    own = [first[:3, i] for i in range(3)] + [second[:3, i] for i in range(3)]
    crossed = [np.cross(p, q) for p in own[:3] for q in own[3:]]
    gaps = []
    for axis in [*own, *(c / n for c in crossed if (n := float(np.linalg.norm(c))) > SQUARE)]:
        one, other = points[0] @ axis, points[1] @ axis
        gaps.append(max(one.min(), other.min()) - min(one.max(), other.max()))
    return float(max(gaps))


def _corners(box: Box) -> Matrix:
    import numpy as np

    return np.array(
        [
            [float(x), float(y), float(z)]
            for x in (box.x.lo, box.x.hi)
            for y in (box.y.lo, box.y.hi)
            for z in (box.z.lo, box.z.hi)
        ]
    )
