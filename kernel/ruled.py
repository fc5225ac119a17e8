"""What lies between a cut's mouth and its floor when the walls are not square to the side?

Mouth and floor are two regions whose loops and edges correspond one to one: line to line, arc to
an arc of the same sweep. Every wall is ruled, straight from a point of the mouth to the point of
the floor that lies as far along its edge: planes under lines, cones under concentric arcs. So a
section between the two is again a region of lines and arcs, in closed form.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from .region import Arc, Edge, Line, Loop, Point2, Region
from .sampling import grown_loop, loop_points, parts

if TYPE_CHECKING:
    from .sampling import Ring


def between(mouth: Region, floor: Region, share: float) -> Region:
    """The section at `share` of the way from the mouth (0) down to the floor (1)."""

    def point(p: Point2, q: Point2) -> Point2:
        return (p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1]))

    def edge(one: Edge, other: Edge) -> Edge:
        start, end = point(one.start, other.start), point(one.end, other.end)
        if isinstance(one, Arc) and isinstance(other, Arc):
            return Arc(start, end, point(one.centre, other.centre), one.ccw)
        return Line(start, end)

    pairs = zip(mouth.loops, floor.loops, strict=True)
    return Region(
        tuple(tuple(edge(p, q) for p, q in zip(a, b, strict=True)) for a, b in pairs if a)
    )


def corresponds(mouth: Region, floor: Region) -> bool:
    """Whether the two have like loops of like edges, arcs of equal sweep (within a thousandth of a
    degree) included."""
    if [len(loop) for loop in mouth.loops] != [len(loop) for loop in floor.loops]:
        return False
    pairs = zip(_edges(mouth), _edges(floor), strict=True)
    return all(_alike(one, other) for one, other in pairs)


def _alike(one: Edge, other: Edge) -> bool:
    if isinstance(one, Arc) and isinstance(other, Arc):
        return abs(one.sweep - other.sweep) < math.radians(0.001)
    return isinstance(one, Line) and isinstance(other, Line)


def _edges(region: Region) -> tuple[Edge, ...]:
    return tuple(edge for loop in region.loops for edge in loop)


def widest_step(mouth: Region, floor: Region) -> float:
    """How far, square to the walls, the floor's edges lie from the mouth's at most, mm."""
    pairs = zip(_edges(mouth), _edges(floor), strict=True)
    return max((_apart(one, other) for one, other in pairs), default=0.0)


def _apart(one: Edge, other: Edge) -> float:
    if isinstance(one, Arc) and isinstance(other, Arc):
        return abs(one.radius - other.radius) + math.dist(one.centre, other.centre)
    (x0, y0), (x1, y1) = one.start, one.end
    length = math.dist(one.start, one.end)
    if length == 0:
        return math.dist(one.start, other.start)
    across = ((y0 - y1) / length, (x1 - x0) / length)
    offs = [(q[0] - x0) * across[0] + (q[1] - y0) * across[1] for q in (other.start, other.end)]
    return max(abs(off) for off in offs)


def ruled_polygons(
    mouth: Region, floor: Region, by: float, chord: float
) -> tuple[tuple[Ring, ...], tuple[Ring, ...]]:
    """Mouth and floor grown by `by` mm (0 or more) as polygons with like numbers of vertices, no
    chord further than `chord` mm from its arc. ValueError where growing breaks the likeness."""
    import numpy as np

    tops: list[Ring] = []
    bottoms: list[Ring] = []
    for top, bottom in zip(mouth.loops, floor.loops, strict=True):
        counts = [
            max(parts(edge, chord) for edge in pair if isinstance(edge, Arc))
            if isinstance(pair[0], Arc)
            else 1
            for pair in zip(top, bottom, strict=True)
        ]
        one, other = (_ring(loop, by, chord, counts) for loop in (top, bottom))
        if len(one) != len(other):
            raise ValueError("mouth and floor do not grow alike")
        tops.append(np.array(one))
        bottoms.append(np.array(other))
    return tuple(tops), tuple(bottoms)


def _ring(loop: Loop, by: float, chord: float, counts: list[int]) -> list[Point2]:
    if by == 0:
        return loop_points(loop, chord, counts)
    grown = grown_loop(loop, by, chord, counts)
    if grown is None:
        raise ValueError("an edge is too short to grow")
    return grown
