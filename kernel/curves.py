"""Where do lines and circles meet, and what does an edge look like once shifted sideways?

Closed forms only, in float millimetres. A region's edge lies on a `Straight` or a `Circle`; which
part of it is the edge is not known here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias, assert_never

from . import thresholds
from .region import Arc, Edge, Line, Loop, Point2

CUSP = 1e-6
"""Corners within this angle of a full reversal, radians, are cusps."""


@dataclass(frozen=True, slots=True)
class Straight:
    """The whole line through `point` along the unit vector `along`."""

    point: Point2
    along: Point2


@dataclass(frozen=True, slots=True)
class Circle:
    centre: Point2
    radius: float


Curve: TypeAlias = Straight | Circle


def unit(start: Point2, end: Point2) -> Point2:
    """The unit vector from `start` to `end`; ZeroDivisionError when they are one point."""
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def curve_of(edge: Edge) -> Curve:
    match edge:
        case Line():
            return Straight(edge.start, unit(edge.start, edge.end))
        case Arc():
            return Circle(edge.centre, edge.radius)
        case _:
            assert_never(edge)


def heading(edge: Edge, at: Point2) -> Point2:
    """The unit vector of travel where the edge passes `at`."""
    match edge:
        case Line():
            return unit(edge.start, edge.end)
        case Arc():
            x, y = unit(edge.centre, at)
            return (-y, x) if edge.ccw else (y, -x)
        case _:
            assert_never(edge)


def shifted(curve: Curve, normal_side: Point2, by: float) -> Curve:
    """A line moved `by` along the unit vector `normal_side`."""
    match curve:
        case Straight():
            x, y = curve.point
            return Straight((x + by * normal_side[0], y + by * normal_side[1]), curve.along)
        case Circle():
            return Circle(curve.centre, curve.radius + by)
        case _:
            assert_never(curve)


def meeting(a: Curve, b: Curve, near: Point2) -> Point2 | None:
    """The common point of two curves that is nearest to `near`.

    Curves that miss each other by less than `thresholds.SAME` count as touching. None when they do
    not meet or run along each other.
    """
    match a, b:
        case Straight(), Straight():
            return _lines_meet(a, b)
        case Straight(), Circle():
            return _nearest(_line_on_circle(a, b), near)
        case Circle(), Straight():
            return _nearest(_line_on_circle(b, a), near)
        case Circle(), Circle():
            return _nearest(_circles_meet(a, b), near)
        case _:
            raise AssertionError((a, b))


def _lines_meet(a: Straight, b: Straight) -> Point2 | None:
    cross = a.along[0] * b.along[1] - a.along[1] * b.along[0]
    if abs(cross) < thresholds.TANGENT:
        return None
    if a.along[0] == 0 and b.along[1] == 0:  # square to the axes: keep the drawn numbers
        return a.point[0], b.point[1]
    if a.along[1] == 0 and b.along[0] == 0:
        return b.point[0], a.point[1]
    dx, dy = b.point[0] - a.point[0], b.point[1] - a.point[1]
    t = (dx * b.along[1] - dy * b.along[0]) / cross
    return a.point[0] + t * a.along[0], a.point[1] + t * a.along[1]


def _line_on_circle(line: Straight, circle: Circle) -> tuple[Point2, ...]:
    (px, py), (ux, uy) = line.point, line.along
    cx, cy = circle.centre
    t = (cx - px) * ux + (cy - py) * uy
    foot = (px + t * ux, py + t * uy)
    offset = (cy - py) * ux - (cx - px) * uy
    half = _half_chord(circle.radius, abs(offset))
    return _either_side(foot, line.along, half)


def _circles_meet(a: Circle, b: Circle) -> tuple[Point2, ...]:
    apart = math.dist(a.centre, b.centre)
    if apart < thresholds.TANGENT:
        return ()
    ux, uy = unit(a.centre, b.centre)
    reach = (apart**2 + a.radius**2 - b.radius**2) / (2 * apart)
    foot = (a.centre[0] + reach * ux, a.centre[1] + reach * uy)
    touching = min(abs(apart - a.radius - b.radius), abs(apart - abs(a.radius - b.radius)))
    half = 0.0 if touching < thresholds.TANGENT else _half_chord(a.radius, abs(reach))
    return _either_side(foot, (-uy, ux), half)


def _half_chord(radius: float, offset: float) -> float | None:
    """Half the chord at `offset` from the centre; 0 where the line just touches, None past that."""
    if abs(radius - offset) < thresholds.TANGENT:
        return 0.0
    if offset > radius:
        return 0.0 if offset - radius < thresholds.SAME else None
    return math.sqrt((radius - offset) * (radius + offset))


def _either_side(foot: Point2, along: Point2, half: float | None) -> tuple[Point2, ...]:
    if half is None:
        return ()
    if half == 0.0:
        return (foot,)
    dx, dy = half * along[0], half * along[1]
    return (foot[0] - dx, foot[1] - dy), (foot[0] + dx, foot[1] + dy)


def _nearest(points: tuple[Point2, ...], near: Point2) -> Point2 | None:
    return min(points, key=lambda p: math.dist(p, near), default=None)


def turn_between(a: Point2, b: Point2) -> float:
    """The angle from unit vector `a` counterclockwise to `b`, radians in -pi..pi."""
    return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])


def corner_turn(before: Edge, after: Edge) -> float:
    """How far the boundary turns left where one edge follows another, radians: negative at a reflex
    corner, -pi where wood runs out to a cusp, pi where the region does.

    At a cusp both edges leave the corner the same way, so their curvatures decide on which side of
    each other they lie: bending left in sum, the region folds back round a cusp of wood.
    """
    turn = turn_between(heading(before, after.start), heading(after, after.start))
    if abs(turn) < math.pi - CUSP:
        return turn
    return -math.pi if _bend(before) + _bend(after) > 0 else math.pi


def _bend(edge: Edge) -> float:
    """Signed curvature, 1/mm, positive to the left."""
    if isinstance(edge, Line):
        return 0.0
    return 1 / edge.radius if edge.ccw else -1 / edge.radius


def arc_edges(start: Point2, end: Point2, centre: Point2, sweep: float) -> Loop:
    """Arcs of at most half a turn that together turn through `sweep` radians, signed."""
    ccw = sweep > 0
    if abs(sweep) <= math.pi + thresholds.TANGENT:
        return (Arc(start, end, centre, ccw),)
    radius = math.dist(start, centre)
    angle = math.atan2(start[1] - centre[1], start[0] - centre[0]) + sweep / 2
    middle = (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
    return Arc(start, middle, centre, ccw), Arc(middle, end, centre, ccw)


def closed(edges: Sequence[Edge]) -> Loop:
    """The edges, each ending exactly where the next one starts; those of no length left out."""
    edges = [e for e in edges if _has_length(e)]
    size = len(edges)
    joined: list[Edge] = []
    for i, edge in enumerate(edges):
        end = edges[(i + 1) % size].start
        match edge:
            case Line():
                joined.append(Line(edge.start, end))
            case Arc():
                joined.append(Arc(edge.start, end, edge.centre, edge.ccw))
    return tuple(joined)


def _has_length(edge: Edge) -> bool:
    """Half turns and more are long whatever their chord."""
    if math.dist(edge.start, edge.end) > thresholds.TANGENT:
        return True
    return isinstance(edge, Arc) and 1 < abs(edge.sweep) < 6
