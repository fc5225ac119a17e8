"""Flat regions that tests of two-dimensional work share."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dryfit.kernel.region import Line, Point2, Region, rectangle

SOCKET_BLANK = (-50.0, -50.0, 100.0, 100.0)
"""A blank that reaches well past every region drawn near the origin: all its corners are wood."""


def polygon(points: Sequence[Point2]) -> Region:
    """The region inside the closed polygon, vertices counterclockwise."""
    ends = [*points[1:], points[0]]
    return Region((tuple(Line(a, b) for a, b in zip(points, ends, strict=True)),))


def turned(region: Region, degrees: float) -> Region:
    """A region of lines, turned round the origin."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def at(p: Point2) -> Point2:
        return c * p[0] - s * p[1], s * p[0] + c * p[1]

    return Region(tuple(tuple(Line(at(e.start), at(e.end)) for e in loop) for loop in region.loops))


def wedge(degrees: float, length: float = 60.0) -> Region:
    """A triangle with the given angle at the origin, its sides there `length` long."""
    half = math.radians(degrees) / 2
    end = (length * math.cos(half), length * math.sin(half))
    return polygon([(0.0, 0.0), (end[0], -end[1]), end])


def ell() -> Region:
    """An L of 60 long arms, 20 wide."""
    return polygon([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)])


def square_ring() -> Region:
    """An 80 mm square round a 20 mm square island."""
    island = polygon([(30, 30), (30, 50), (50, 50), (50, 30)])
    return Region((*rectangle(0, 0, 80, 80).loops, *island.loops))
