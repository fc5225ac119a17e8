"""How do two boards lie that are not square to each other, but share the direction of one axis?

One is turned against the other about that axis alone, as a splayed leg is against its seat, or the
sides of a polygon against each other. All that differs from boards square to each other happens in
the plane across the axis: a `Carry` leads from the one's plane to the other's. Along the axis the
two lie as square boards do. Where no axis is shared nothing here helps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from .board import Axis, Board
from .frames import pose_matrix
from .region import Point2
from .thresholds import SNAP_PER_MM, SQUARE


@dataclass(frozen=True, slots=True)
class Carry:
    """A rigid move of the plane, which may mirror it: `(u, v)` goes to `u * of_u + v * of_v + by`,
    where `of_u` and `of_v` are unit directions square to each other."""

    of_u: Point2 = (1.0, 0.0)
    of_v: Point2 = (0.0, 1.0)
    by: Point2 = (0.0, 0.0)

    def point(self, p: Point2) -> Point2:
        return (
            p[0] * self.of_u[0] + p[1] * self.of_v[0] + self.by[0],
            p[0] * self.of_u[1] + p[1] * self.of_v[1] + self.by[1],
        )

    def direction(self, d: Point2) -> Point2:
        """Where a direction goes: the move without its shift."""
        return (
            d[0] * self.of_u[0] + d[1] * self.of_v[0],
            d[0] * self.of_u[1] + d[1] * self.of_v[1],
        )

    @property
    def mirrors(self) -> bool:
        return self.of_u[0] * self.of_v[1] - self.of_u[1] * self.of_v[0] < 0

    @property
    def back(self) -> Carry:
        """The way back."""
        (ux, uy), (vx, vy) = self.of_u, self.of_v
        turned = Carry((ux, vx), (uy, vy))
        x, y = turned.point(self.by)
        return Carry(turned.of_u, turned.of_v, (-x, -y))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tilt:
    """From `b`'s own coordinates to `a`'s, where `a_axis` and `b_axis` are the shared direction.

    Along it `a`'s coordinate is `sign * b's + along`; across it `carry` leads from the plane of
    `b_axis` to that of `a_axis` (planes as in `cuts.Side`: the two next axes in cyclic order).
    """

    a_axis: Axis
    b_axis: Axis
    sign: int
    along: Fraction
    carry: Carry

    @property
    def degrees(self) -> float:
        """How far the boards are from square to each other, 0 to 45 degrees."""
        u, v = (abs(c) for c in self.carry.of_u)
        return math.degrees(math.atan2(min(u, v), max(u, v)))


def tilt(b: Board, a: Board) -> Tilt | None:
    """How `b` is turned against `a`; None when they share no axis direction."""
    import numpy as np

    relative = np.linalg.inv(pose_matrix(a.pose)) @ pose_matrix(b.pose)
    turn, shift = relative[:3, :3], relative[:3, 3]
    for a_axis in Axis:
        b_axis = Axis(int(np.argmax(np.abs(turn[a_axis]))))
        across = [np.delete(turn[a_axis], b_axis), np.delete(turn[:, b_axis], a_axis)]
        if max(float(np.abs(rest).max()) for rest in across) > SQUARE:
            continue
        rows, columns = _plane(a_axis), _plane(b_axis)
        (uu, uv), (vu, vv) = ([float(turn[row, column]) for column in columns] for row in rows)
        return Tilt(
            a_axis=a_axis,
            b_axis=b_axis,
            sign=1 if turn[a_axis, b_axis] > 0 else -1,
            along=Fraction(round(float(shift[a_axis]) * SNAP_PER_MM), SNAP_PER_MM),
            carry=Carry((uu, vu), (uv, vv), (float(shift[rows[0]]), float(shift[rows[1]]))),
        )
    return None


def _plane(axis: Axis) -> tuple[int, int]:
    return (axis + 1) % 3, (axis + 2) % 3
