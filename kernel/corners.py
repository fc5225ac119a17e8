"""Which corners of a drawn cut lie in wood, and what does a rectangle look like with each of them
rounded in closed form?

A corner in air is none: where a cut runs out past the blank the cutter runs out too.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from . import thresholds
from .curves import closed, corner_turn, heading, turn_between
from .region import Arc, Edge, Line, Loop, Point2, Region, bounds

Bounds: TypeAlias = tuple[float, float, float, float]
"""(least u, least v, greatest u, greatest v), mm."""

SMOOTH = 1e-6
"""Walls that turn by less than this, radians, run on without a corner."""

SHARPEST = 0.01
"""Corners under half a degree, radians, are slits: no cutter goes in and no relief is made."""


@dataclass(frozen=True, slots=True)
class InsideCorner:
    """A corner of a cut with wood on both sides.

    `walls` are the unit directions from `point` along the two walls: first the wall that arrives
    there when the region is kept on the left, then the one that leaves. `lengths` says how far each
    wall runs in wood, mm, and `shared` whether another inside corner ends it.
    """

    point: Point2
    walls: tuple[Point2, Point2]
    lengths: tuple[float, float]
    shared: tuple[bool, bool]

    @property
    def half_angle(self) -> float:
        """Half the angle between the walls, radians."""
        return abs(turn_between(*self.walls)) / 2

    @property
    def inward(self) -> Point2:
        """The unit vector on the bisector, into the cut."""
        (ax, ay), (bx, by) = self.walls
        size = math.hypot(ax + bx, ay + by)
        return (ax + bx) / size, (ay + by) / size


def blank_bounds(blank: Region | Bounds) -> Bounds:
    return bounds(blank) if isinstance(blank, Region) else blank


def inside_corners(asked: Region, blank: Region | Bounds) -> tuple[InsideCorner, ...]:
    """The corners of `asked` that lie inside the blank and point into wood, in loop order."""
    limits = blank_bounds(blank)
    return tuple(c for loop in asked.loops for c in loop_corners(loop, limits) if c is not None)


def loop_corners(loop: Loop, limits: Bounds) -> tuple[InsideCorner | None, ...]:
    """For each edge of the loop the inside corner at its start, None where there is none."""
    size = len(loop)
    sharp = [_is_inside(loop[i - 1], loop[i], limits) for i in range(size)]
    found: list[InsideCorner | None] = []
    for i, edge in enumerate(loop):
        if not sharp[i]:
            found.append(None)
            continue
        before, point = loop[i - 1], edge.start
        hx, hy = heading(before, point)
        back, onward = (-hx, -hy), heading(edge, point)
        lengths = (
            min(_length(before), _to_air(point, back, limits)),
            min(_length(edge), _to_air(point, onward, limits)),
        )
        shared = (sharp[i - 1], sharp[(i + 1) % size])
        found.append(InsideCorner(point, (back, onward), lengths, shared))
    return tuple(found)


def _is_inside(before: Edge, after: Edge, limits: Bounds) -> bool:
    if not _lies_within(after.start, limits):
        return False
    return SMOOTH < corner_turn(before, after) < math.pi - SHARPEST


def _lies_within(point: Point2, limits: Bounds) -> bool:
    (u, v), (u0, v0, u1, v1), near = point, limits, thresholds.SAME
    return u0 + near < u < u1 - near and v0 + near < v < v1 - near


def _length(edge: Edge) -> float:
    if isinstance(edge, Arc):
        return edge.radius * abs(edge.sweep)
    return math.dist(edge.start, edge.end)


def _to_air(point: Point2, along: Point2, limits: Bounds) -> float:
    """How far one goes from the point before leaving the blank."""
    (u, v), (du, dv), (u0, v0, u1, v1) = point, along, limits
    steps = [math.inf]
    if abs(du) > thresholds.TANGENT:
        steps.append(((u1 if du > 0 else u0) - u) / du)
    if abs(dv) > thresholds.TANGENT:
        steps.append(((v1 if dv > 0 else v0) - v) / dv)
    return min(steps)


def fillet(corner: InsideCorner, radius: float) -> Loop:
    """The arc that a cutter of the radius leaves in the corner: it touches both walls at
    radius / tan(half angle) from the corner."""
    reach = radius / math.tan(corner.half_angle)
    away = radius / math.sin(corner.half_angle)
    start, end = (
        ahead(corner.point, corner.walls[0], reach),
        ahead(corner.point, corner.walls[1], reach),
    )
    return (Arc(start, end, ahead(corner.point, corner.inward, away), True),)


def ahead(point: Point2, along: Point2, by: float) -> Point2:
    return point[0] + by * along[0], point[1] + by * along[1]


def is_rectangle(region: Region) -> bool:
    """Whether the region is one rectangle square to the axes."""
    if len(region.loops) != 1 or len(region.loops[0]) != 4:
        return False
    return all(
        isinstance(edge, Line) and (edge.start[0] == edge.end[0]) != (edge.start[1] == edge.end[1])
        for edge in region.loops[0]
    )


def clears_rectangle(asked: Region, limits: Bounds, radius: float) -> bool:
    """Whether a cutter of the radius gets everywhere in the rectangle but its corners: walls that
    face each other leave it room, and beside each corner there is wood as far as the fillet goes.
    """
    u0, v0, u1, v1 = bounds(asked)
    near = thresholds.SAME
    if min(u1, limits[2]) - max(u0, limits[0]) <= near:
        return False
    if min(v1, limits[3]) - max(v0, limits[1]) <= near:
        return False
    across_u = u0 > limits[0] + near and u1 < limits[2] - near
    across_v = v0 > limits[1] + near and v1 < limits[3] - near
    return not (
        (across_u and u1 - u0 < 2 * radius - thresholds.TANGENT)
        or (across_v and v1 - v0 < 2 * radius - thresholds.TANGENT)
    )


def with_corners(loop: Loop, replaced: Mapping[int, Loop]) -> Loop | None:
    """The loop of lines with the corner at the start of edge i replaced by the edges given for it.

    None when two replacements need more of a wall than there is.
    """
    size = len(loop)
    edges: list[Edge] = []
    for i, wall in enumerate(loop):
        here, after = replaced.get(i, ()), replaced.get((i + 1) % size, ())
        start = here[-1].end if here else wall.start
        end = after[0].start if after else wall.end
        edges.extend(here)
        (x0, y0), (x1, y1) = wall.start, wall.end
        onward = (end[0] - start[0]) * (x1 - x0) + (end[1] - start[1]) * (y1 - y0)
        length = math.dist(start, end)
        if onward < 0 and length > thresholds.TANGENT:
            return None
        if length > thresholds.TANGENT:
            edges.append(Line(start, end))
    return closed(edges)
