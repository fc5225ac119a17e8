"""Which flat shapes are cut into boards? Regions with true arcs, each with its closed-form area.

Shapes along an edge are drawn in `s`, along the edge, and `d`, from the edge into the wood; what
lies at `d < 0` is air, `OUT` wide. `EdgeFrame` carries them into the plane of the face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from ..board import Axis
from ..cuts import Side
from ..region import Arc, Line, Loop, Point2, Region, moved
from .workpiece import OUT

AIR = float(OUT)


@dataclass(frozen=True, slots=True)
class EdgeFrame:
    """The plane of `face` seen from the board's `edge`, which lies at `at` along its own axis."""

    face: Side
    edge: Side
    at: float

    @property
    def along(self) -> Axis:
        return Axis(3 - self.face.axis - self.edge.axis)

    def placed(self, region: Region) -> Region:
        """A region drawn in (s, d), in the plane of the face."""
        inward = -1.0 if self.edge.positive else 1.0
        along_u = self.face.plane[0] == self.along

        def point(p: Point2) -> Point2:
            off = self.at + inward * p[1]
            return (p[0], off) if along_u else (off, p[0])

        return moved(region, point, mirrored=along_u == self.edge.positive)


def hollow(start: float, end: float, rise: float) -> Region:
    """An arch over an edge: a circular segment `rise` high on the chord `start..end`, with air.

    Its radius is ((c/2)^2 + h^2) / 2h for chord c and rise h, its area in the wood
    R^2 (a - sin a) / 2 with a = 4 atan(2h/c). `rise` is at most half the chord.
    """
    half = (end - start) / 2
    radius = arch_radius(2 * half, rise)
    middle = (start + end) / 2
    low, high = (start, 0.0), (end, 0.0)
    centre = (middle, rise - radius)
    arc = Arc(high, low, centre, True)
    return Region(((*_path((low, (start, -AIR), (end, -AIR), high)), arc),))


def arch_radius(chord: float, rise: float) -> float:
    """The radius of a circular segment, mm.

    >>> arch_radius(100, 50), arch_radius(80, 20)
    (50.0, 50.0)
    """
    return ((chord / 2) ** 2 + rise**2) / (2 * rise)


def rounding(radius: float) -> Region:
    """What a roundover takes off the edge at (0, 0) of wood at s > 0 and d > 0, with air.

    Area in the wood: (1 - pi/4) r^2.
    """
    over = Arc((radius, 0.0), (0.0, radius), (radius, radius), False)
    return Region(((*_around(radius, radius), over),))


def bevel(across: float, down: float) -> Region:
    """What a chamfer takes off the same edge: `across` along s and `down` along d.

    Area in the wood: across * down / 2.
    """
    over = Line((across, 0.0), (0.0, down))
    return Region(((*_around(across, down), over),))


def _around(across: float, down: float) -> tuple[Line, ...]:
    """From (0, down) through the air round the edge to (across, 0)."""
    return _path(((0.0, down), (-AIR, down), (-AIR, -AIR), (across, -AIR), (across, 0.0)))


def stadium(start: Point2, end: Point2, radius: float) -> Region:
    """Everything within `radius` of the line from `start` to `end`, which runs along u or v.

    Area 2 r l + pi r^2 for a line of length l.
    """
    length = math.dist(start, end)
    if length == 0:
        raise ValueError("a stadium without length is a disc")
    across = (-(end[1] - start[1]) / length * radius, (end[0] - start[0]) / length * radius)
    left = (_plus(start, across), _plus(end, across))
    right = (_minus(start, across), _minus(end, across))
    return Region(
        (
            (
                Line(right[0], right[1]),
                Arc(right[1], left[1], end, True),
                Line(left[1], left[0]),
                Arc(left[0], right[0], start, True),
            ),
        )
    )


def rounded_rectangle(low: Point2, high: Point2, radius: float) -> Region:
    """A rectangle with its corners rounded. Area w h - (4 - pi) r^2."""
    (u0, v0), (u1, v1), r = low, high, radius
    loop: Loop = (
        Line((u0 + r, v0), (u1 - r, v0)),
        Arc((u1 - r, v0), (u1, v0 + r), (u1 - r, v0 + r), True),
        Line((u1, v0 + r), (u1, v1 - r)),
        Arc((u1, v1 - r), (u1 - r, v1), (u1 - r, v1 - r), True),
        Line((u1 - r, v1), (u0 + r, v1)),
        Arc((u0 + r, v1), (u0, v1 - r), (u0 + r, v1 - r), True),
        Line((u0, v1 - r), (u0, v0 + r)),
        Arc((u0, v0 + r), (u0 + r, v0), (u0 + r, v0 + r), True),
    )
    return Region((tuple(e for e in loop if isinstance(e, Arc) or e.start != e.end),))


def _path(points: tuple[Point2, ...]) -> tuple[Line, ...]:
    return tuple(Line(a, b) for a, b in pairwise(points))


def _plus(p: Point2, q: Point2) -> Point2:
    return p[0] + q[0], p[1] + q[1]


def _minus(p: Point2, q: Point2) -> Point2:
    return p[0] - q[0], p[1] - q[1]
