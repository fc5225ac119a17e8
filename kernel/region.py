"""What is a flat region bounded by straight lines and true arcs?

Coordinates are float millimetres in the plane of the side a cut is made from. Nothing here cuts or
offsets: that is `planar.py`; this module only holds the records and their closed-form measures.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

Point2: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc of at most half a turn, from `start` to `end` round `centre`."""

    start: Point2
    end: Point2
    centre: Point2
    ccw: bool

    @property
    def radius(self) -> float:
        return math.dist(self.start, self.centre)

    @property
    def sweep(self) -> float:
        """The angle turned through, radians, positive counterclockwise."""
        a0 = math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])
        a1 = math.atan2(self.end[1] - self.centre[1], self.end[0] - self.centre[0])
        if self.ccw:
            return (a1 - a0) % (2 * math.pi)
        return -((a0 - a1) % (2 * math.pi))


Edge: TypeAlias = Line | Arc
Loop: TypeAlias = tuple[Edge, ...]


@dataclass(frozen=True)
class Region:
    """Closed loops, each edge starting where the one before ends: outer ones run counterclockwise
    with the region on their left, holes clockwise. No loops is the empty region.

    Its hash and the box round it are asked for again and again, and worked out once.
    """

    loops: tuple[Loop, ...] = ()

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash(self.loops)

    @cached_property
    def _bounds(self) -> tuple[float, float, float, float]:
        points: list[Point2] = []
        for loop in self.loops:
            for edge in loop:
                points.append(edge.start)
                if isinstance(edge, Arc):
                    points.extend(_quadrant_points(edge))
        us, vs = [p[0] for p in points], [p[1] for p in points]
        return min(us), min(vs), max(us), max(vs)

    @property
    def is_empty(self) -> bool:
        return not self.loops


def rectangle(u0: float, v0: float, u1: float, v1: float) -> Region:
    """The region `u0..u1` by `v0..v1`."""
    corners = [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]
    return Region((tuple(Line(corners[i], corners[(i + 1) % 4]) for i in range(4)),))


def disc(centre: Point2, radius: float) -> Region:
    """A full disc as two half arcs."""
    east, west = (centre[0] + radius, centre[1]), (centre[0] - radius, centre[1])
    return Region(((Arc(east, west, centre, True), Arc(west, east, centre, True)),))


def moved(region: Region, point: Callable[[Point2], Point2], *, mirrored: bool) -> Region:
    """The region with each point moved; a mirrored one keeps its outer loops counterclockwise."""

    def edge(old: Edge) -> Edge:
        if isinstance(old, Line):
            return Line(point(old.start), point(old.end))
        ccw = old.ccw != mirrored
        return Arc(point(old.start), point(old.end), point(old.centre), ccw)

    loops = (tuple(edge(old) for old in loop) for loop in region.loops)
    return Region(tuple(reversed_loop(loop) if mirrored else loop for loop in loops))


def reversed_loop(loop: Loop) -> Loop:
    """The loop run through the other way."""

    def edge(old: Edge) -> Edge:
        if isinstance(old, Line):
            return Line(old.end, old.start)
        return Arc(old.end, old.start, old.centre, not old.ccw)

    return tuple(edge(old) for old in reversed(loop))


def area(region: Region) -> float:
    """The area in mm2, in closed form (Green's theorem; an arc adds its circular segment)."""
    total = 0.0
    for loop in region.loops:
        for edge in loop:
            (x0, y0), (x1, y1) = edge.start, edge.end
            total += (x0 * y1 - x1 * y0) / 2
            if isinstance(edge, Arc):
                turn = edge.sweep
                total += edge.radius**2 * (turn - math.sin(turn)) / 2
    return total


def bounds(region: Region) -> tuple[float, float, float, float]:
    """(least u, least v, greatest u, greatest v); ValueError for the empty region."""
    return region._bounds


def _quadrant_points(arc: Arc) -> list[Point2]:
    """Points of the arc where it runs along an axis: its extremes lie there or at its ends."""
    begin = math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])
    found = []
    for quarter in range(4):
        angle = quarter * math.pi / 2
        ahead = (angle - begin) % (2 * math.pi) if arc.ccw else (begin - angle) % (2 * math.pi)
        if ahead <= abs(arc.sweep):
            found.append(
                (
                    arc.centre[0] + arc.radius * math.cos(angle),
                    arc.centre[1] + arc.radius * math.sin(angle),
                )
            )
    return found


def contains(region: Region, point: Point2) -> bool:
    """True when the point lies inside; either answer on the boundary itself.

    The winding number of the chords, corrected by each arc's circular segment: a point between
    chord and arc is on the other side of the true boundary.
    """
    winding = 0
    for loop in region.loops:
        for edge in loop:
            winding += _crossing(edge.start, edge.end, point)
            if isinstance(edge, Arc) and _in_segment(edge, point):
                winding += 1 if edge.ccw else -1
    return winding != 0


def _side(start: Point2, end: Point2, point: Point2) -> float:
    """Positive when the point lies to the left of the line from `start` to `end`."""
    du, dv = end[0] - start[0], end[1] - start[1]
    return du * (point[1] - start[1]) - dv * (point[0] - start[0])


def _crossing(start: Point2, end: Point2, point: Point2) -> int:
    """How the chord crosses the ray from the point towards +u: 1 upwards, -1 downwards, else 0."""
    if start[1] <= point[1] < end[1] and _side(start, end, point) > 0:
        return 1
    if end[1] <= point[1] < start[1] and _side(start, end, point) < 0:
        return -1
    return 0


def _in_segment(arc: Arc, point: Point2) -> bool:
    """Whether the point lies between the arc and its chord.

    A point on the chord itself counts as a trifle further along u, on a chord along u as a trifle
    further along v: so `_crossing` counts it too, and half discs leave no gap between them.
    """
    if math.dist(point, arc.centre) >= arc.radius:
        return False
    side = _side(arc.start, arc.end, point)
    if side == 0:
        rise = arc.end[1] - arc.start[1]
        side = -rise if rise else arc.end[0] - arc.start[0]
    return side < 0 if arc.ccw else side > 0
