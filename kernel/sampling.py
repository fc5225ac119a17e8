"""Which polygon stands for a region with arcs?

Vertices lie on the true arcs, equal parts from end to end, a multiple of eight to a full turn:
mates of equal radius get the same vertices and leave nothing between them. Regions go in, arrays
of vertices come out, outer loops counterclockwise; nothing here clips.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from .curves import Curve, corner_turn, curve_of, heading, meeting, shifted
from .region import Arc, Edge, Line, Loop, Point2, Region

if TYPE_CHECKING:
    import numpy as np

    Ring: TypeAlias = np.ndarray[tuple[int, int], np.dtype[np.float64]]


LEAST_MITRE_COSINE = -0.98
"""Past this (corners sharper than 11 degrees) a mitre would run out ten times the growth."""


def segments_per_turn(radius: float, chord: float) -> int:
    """The least multiple of 8 whose chords stay within `chord` mm of a circle.

    >>> segments_per_turn(3.175, 0.004), segments_per_turn(3.175, 0.001), segments_per_turn(1, 2)
    (64, 128, 8)
    """
    if chord >= radius:
        return 8
    return 8 * math.ceil(math.pi / math.acos(1 - chord / radius) / 8)


def parts(arc: Arc, chord: float) -> int:
    """How many equal chords stand for the arc."""
    share = segments_per_turn(arc.radius, chord) * abs(arc.sweep) / (2 * math.pi)
    return max(1, math.ceil(share - 1e-6))


def arc_points(arc: Arc, count: int) -> list[Point2]:
    """The arc's start and the `count - 1` points that cut it into equal parts; not its end.

    Both directions of travel give the same points to the last bit.
    """
    if not arc.ccw:
        back = arc_points(Arc(arc.end, arc.start, arc.centre, True), count)
        return [arc.start, *reversed(back[1:])]
    (cx, cy), radius = arc.centre, arc.radius
    begin = math.atan2(arc.start[1] - cy, arc.start[0] - cx)
    step = arc.sweep / count
    turned = (begin + i * step for i in range(1, count))
    return [arc.start, *((cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in turned)]


def polygons(region: Region, chord: float) -> tuple[Ring, ...]:
    """The region's loops as (n, 2) arrays of vertices, no chord further than `chord` mm from its
    arc, the first vertex not repeated."""
    import numpy as np

    return tuple(np.array(loop_points(loop, chord)) for loop in region.loops)


def loop_points(loop: Loop, chord: float, counts: Sequence[int] | None = None) -> list[Point2]:
    """The loop's vertices; `counts` says into how many parts each edge goes where that is settled
    already."""
    points: list[Point2] = []
    for i, edge in enumerate(loop):
        match edge:
            case Line():
                points.append(edge.start)
            case Arc():
                points.extend(arc_points(edge, counts[i] if counts else parts(edge, chord)))
    return points


def grown_loop(
    loop: Loop, by: float, chord: float, counts: Sequence[int] | None = None
) -> list[Point2] | None:
    """The loop moved `by` mm outward, corners mitred, as vertices; as many parts to an arc as
    `polygons` gives it, or `counts`. None when an edge is too short or too tight to survive.

    A line moves sideways, an arc keeps its centre; neighbours are cut at the point where the moved
    curves meet, which for two lines with outward normals m and n is the corner plus
    by (m + n) / (1 + m.n).
    """
    size = len(loop)
    corners = [_grown_corner(loop[i - 1], loop[i], by) for i in range(size)]
    points: list[Point2] = []
    for i, edge in enumerate(loop):
        start, end = corners[i][-1], corners[(i + 1) % size][0]
        moved = _moved(edge, start, end, by)
        if moved is None:
            return None
        points.extend(corners[i][:-1])
        if isinstance(moved, Arc) and isinstance(edge, Arc):
            points.extend(arc_points(moved, counts[i] if counts else parts(edge, chord)))
        else:
            points.append(start)
    return points


def _moved(edge: Edge, start: Point2, end: Point2, by: float) -> Edge | None:
    """The edge between its new ends, None when it would run backwards or has no radius left."""
    if isinstance(edge, Line):
        (x0, y0), (x1, y1) = edge.start, edge.end
        onward = (end[0] - start[0]) * (x1 - x0) + (end[1] - start[1]) * (y1 - y0)
        return Line(start, end) if onward > 0 else None
    if edge.radius + (by if edge.ccw else -by) <= 0:
        return None
    moved = Arc(start, end, edge.centre, edge.ccw)
    return moved if abs(moved.sweep) <= abs(edge.sweep) + math.pi / 2 else None


def _grown_corner(before: Edge, after: Edge, by: float) -> tuple[Point2, ...]:
    """Where the moved edges meet: one point, or two where the mitre would run out too far."""
    x, y = after.start
    (au, av), (bu, bv) = heading(before, after.start), heading(after, after.start)
    m, n = (av, -au), (bv, -bu)
    cosine = m[0] * n[0] + m[1] * n[1]
    if cosine < LEAST_MITRE_COSINE:
        cut_off = (x + by * m[0], y + by * m[1]), (x + by * n[0], y + by * n[1])
        return _shortened_cusp(before, after, by) or cut_off
    scale = by / (1 + cosine)
    corner = (x + scale * (m[0] + n[0]), y + scale * (m[1] + n[1]))
    if isinstance(before, Line) and isinstance(after, Line):
        return (corner,)
    moved = (_outward(before, m, by), _outward(after, n, by))
    if cosine > 1 - 1e-12:
        return (corner,)
    met = meeting(moved[0], moved[1], corner)
    if met is None or math.dist(met, corner) > abs(by):
        return (x + by * m[0], y + by * m[1]), (x + by * n[0], y + by * n[1])
    return (met,)


def _outward(edge: Edge, normal: Point2, by: float) -> Curve:
    """The curve of the edge, moved `by` away from the region on its left."""
    if isinstance(edge, Arc) and not edge.ccw:
        return shifted(curve_of(edge), normal, -by)
    return shifted(curve_of(edge), normal, by)


def _shortened_cusp(before: Edge, after: Edge, by: float) -> tuple[Point2, ...]:
    """Where the moved edges meet beside a cusp of wood, nothing at other sharp corners."""
    if corner_turn(before, after) >= 0 or isinstance(before, Line) or isinstance(after, Line):
        return ()
    corner = after.start
    normals = [(v, -u) for u, v in (heading(before, corner), heading(after, corner))]
    moved = [_outward(e, n, by) for e, n in zip((before, after), normals, strict=True)]
    met = meeting(moved[0], moved[1], corner)
    return () if met is None else (met,)
