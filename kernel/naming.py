"""Which arcs and lines does a clipped polygon stand for?

Clipping works on polygons; every edge of its result lies on an edge of an input polygon, and that
one is a chord of a known curve. So each result edge is named by its source curve, runs of one name
are joined, and neighbouring runs are cut where their curves meet exactly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

from . import thresholds
from .curves import Circle, Curve, Straight, arc_edges, closed, curve_of, meeting
from .region import Arc, Edge, Line, Loop, Point2, Region
from .sampling import segments_per_turn

if TYPE_CHECKING:
    import numpy as np

    from .sampling import Ring

Ends: TypeAlias = tuple[int, int, int, int]

LEAST_SEGMENTS = 64
"""Chords to a full turn when clipping, however small the arc."""

GRID_PER_MM = 2.0**27
"""The clipping library rounds coordinates to this many steps a millimetre; where it should not,
edges are found by measuring instead of by looking up."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Vertices in order round a loop; `names[i]` is the curve that the edge from vertex i on
    stands for, -1 for an edge that must not remain."""

    points: tuple[Point2, ...]
    names: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive edges on one curve: its name and the vertices from first to last."""

    name: int
    points: tuple[Point2, ...]

    @property
    def length(self) -> float:
        return sum(math.dist(a, b) for a, b in pairwise(self.points))


def clipping_points(edge: Edge, chord: float, reach: float = 0.0) -> list[Point2]:
    """The edge's start and, on an arc, points at fixed angles round its centre: arcs of one circle
    share vertices however they are cut. `reach` is how far the arc will be moved outward, mm, and
    `chord` how far its chords may then be from it."""
    if isinstance(edge, Line):
        return [edge.start]
    (cx, cy), radius = edge.centre, edge.radius
    begin = math.atan2(edge.start[1] - cy, edge.start[0] - cx)
    inner = [
        (cx + radius * math.cos(angle), cy + radius * math.sin(angle))
        for angle in angles_between(begin, edge.sweep, radius + reach, chord)
    ]
    return [edge.start, *inner]


def angles_between(begin: float, sweep: float, radius: float, chord: float) -> list[float]:
    """The multiples of the clipping step that lie inside a turn of `sweep` radians, in order."""
    step = 2 * math.pi / max(LEAST_SEGMENTS, segments_per_turn(radius, chord))
    first, last = sorted((begin, begin + sweep))
    inner = range(math.ceil(first / step + 1e-3), math.floor(last / step - 1e-3) + 1)
    return [i * step for i in (inner if sweep > 0 else reversed(inner))]


def chains(
    regions: Sequence[Region], chord: float
) -> tuple[tuple[Curve, ...], tuple[tuple[Chain, ...], ...]]:
    """The curves the regions' edges lie on, each once, and the named vertices of every loop, no
    chord further than `chord` mm from its arc."""
    curves: list[Curve] = []
    every = tuple(tuple(_named_loop(loop, curves, chord) for loop in r.loops) for r in regions)
    return tuple(curves), every


def _named_loop(loop: Loop, curves: list[Curve], chord: float) -> Chain:
    points: list[Point2] = []
    names: list[int] = []
    for edge in loop:
        found = clipping_points(edge, chord)
        points.extend(found)
        names.extend([_index(edge, curves)] * len(found))
    return Chain(tuple(points), tuple(names))


def _index(edge: Edge, curves: list[Curve]) -> int:
    """The position of the edge's curve, appended unless it is there already."""
    for i, known in enumerate(curves):
        if _lies_on(edge, known):
            return i
    curves.append(curve_of(edge))
    return len(curves) - 1


def _lies_on(edge: Edge, curve: Curve) -> bool:
    near = thresholds.NAMING
    match edge, curve:
        case Line(), Straight():
            return _off(edge.start, curve) < near and _off(edge.end, curve) < near
        case Arc(), Circle():
            return math.dist(edge.centre, curve.centre) < near and (
                abs(edge.radius - curve.radius) < near
            )
        case _:
            return False


def _off(point: Point2, line: Straight) -> float:
    (px, py), (ux, uy) = line.point, line.along
    return abs((point[1] - py) * ux - (point[0] - px) * uy)


@dataclass(frozen=True, slots=True)
class Sources:
    """All edges that went into a clipping: ends and names, and the named ones by their ends on the
    clipping grid, either way round."""

    starts: Ring
    ends: Ring
    names: np.ndarray[tuple[int], np.dtype[np.int64]]
    whole: dict[Ends, int]


def sources_of(every: Sequence[Chain]) -> Sources:
    import numpy as np

    starts = np.array([p for c in every for p in c.points])
    ends = np.array([p for c in every for p in (*c.points[1:], c.points[0])])
    names = [n for c in every for n in c.names]
    whole: dict[Ends, int] = {}
    for name, (u0, v0), (u1, v1) in zip(names, _gridded(starts), _gridded(ends), strict=True):
        if name >= 0:
            whole[u0, v0, u1, v1] = whole[u1, v1, u0, v0] = name
    return Sources(starts, ends, np.array(names), whole)


def _gridded(points: Ring) -> list[list[int]]:
    """The points in steps of the clipping grid."""
    import numpy as np

    steps: list[list[int]] = np.rint(points * GRID_PER_MM).astype(np.int64).tolist()
    return steps


def names_of(ring: Ring, sources: Sources) -> list[int]:
    """For each edge of a clipped ring the name of the source edge it lies on, -1 for none.

    Most edges come through clipping whole and are looked up; the cut ones are measured.
    """
    import numpy as np

    steps = _gridded(ring)
    pairs = zip(steps, [*steps[1:], steps[0]], strict=True)
    found = [sources.whole.get((u0, v0, u1, v1), -1) for (u0, v0), (u1, v1) in pairs]
    cut = [i for i, name in enumerate(found) if name < 0]
    if cut:
        starts, ends = ring[cut], np.roll(ring, -1, axis=0)[cut]
        for i, name in zip(cut, _measured(starts, ends, sources), strict=True):
            found[i] = name
    return found


def _measured(begin: Ring, finish: Ring, sources: Sources) -> list[int]:
    """The name of the source edge that each edge lies closest along, -1 past the tolerance."""
    import numpy as np

    span = sources.ends - sources.starts
    length = np.hypot(span[:, 0], span[:, 1])
    ux, uy = span[:, 0] / length, span[:, 1] / length
    off, along = [], []
    for points in (begin, finish):
        x, y = points[:, :1] - sources.starts[:, 0], points[:, 1:] - sources.starts[:, 1]
        off.append(np.abs(y * ux - x * uy))
        along.append(x * ux + y * uy)
    worst, middle = np.maximum(*off), (along[0] + along[1]) / 2
    near = thresholds.NAMING
    worst[(middle < -near) | (middle > length + near)] = math.inf
    best = worst.argmin(axis=1)
    least = worst[np.arange(len(begin)), best]
    return [int(n) for n in np.where(least <= near, sources.names[best], -1)]


def runs_of(ring: Ring, names: Sequence[int]) -> list[Run]:
    """The ring as runs of one name, in order, those under `thresholds.LEAST_RUN` left out."""
    points = [(float(p[0]), float(p[1])) for p in ring]
    long = [r for r in _joined(points, names) if r.length >= thresholds.LEAST_RUN]
    merged: list[Run] = []
    for run in long:
        if merged and merged[-1].name == run.name:
            merged[-1] = Run(run.name, merged[-1].points + run.points)
        else:
            merged.append(run)
    if len(merged) > 1 and merged[0].name == merged[-1].name:
        last = merged.pop()
        merged[0] = Run(last.name, last.points + merged[0].points)
    return merged


def _joined(points: list[Point2], names: Sequence[int]) -> list[Run]:
    size = len(points)
    breaks = [i for i in range(size) if names[i] != names[i - 1]]
    if not breaks:
        return [Run(names[0], (*points, points[0]))]
    found = []
    for start, stop in zip(breaks, [*breaks[1:], breaks[0] + size], strict=True):
        found.append(Run(names[start], tuple(points[i % size] for i in range(start, stop + 1))))
    return found


def exact_loop(runs: Sequence[Run], curves: Sequence[Curve]) -> Loop | None:
    """The loop of true lines and arcs, () for a sliver between edges of one curve, None when
    neighbouring curves do not meet."""
    if any(run.name < 0 for run in runs):
        return None
    if len(runs) < 2:
        return _whole(runs[0], curves[runs[0].name]) if runs else ()
    corners = []
    for before, after in zip([runs[-1], *runs[:-1]], runs, strict=True):
        (ax, ay), (bx, by) = before.points[-1], after.points[0]
        near = ((ax + bx) / 2, (ay + by) / 2)
        corner = meeting(curves[before.name], curves[after.name], near)
        if corner is None:
            return None
        corners.append(corner)
    edges: list[Edge] = []
    for i, run in enumerate(runs):
        edges.extend(_edges(run, curves[run.name], corners[i], corners[(i + 1) % len(runs)]))
    return closed(edges)


def _whole(run: Run, curve: Curve) -> Loop:
    """A full circle as two halves; a sliver otherwise."""
    if isinstance(curve, Straight):
        return ()
    angle = turned(run.points, curve.centre)
    if abs(abs(angle) - 2 * math.pi) > 1:
        return ()
    start = (curve.centre[0] + curve.radius, curve.centre[1])
    return arc_edges(start, start, curve.centre, math.copysign(2 * math.pi, angle))


def _edges(run: Run, curve: Curve, start: Point2, end: Point2) -> Loop:
    if isinstance(curve, Straight):
        return (Line(start, end),)
    return arc_edges(
        start, end, curve.centre, turned((start, *run.points[1:-1], end), curve.centre)
    )


def turned(points: Sequence[Point2], centre: Point2) -> float:
    """The angle the points turn round the centre, radians, summed step by step."""
    total = 0.0
    for (ax, ay), (bx, by) in pairwise(points):
        px, py, qx, qy = ax - centre[0], ay - centre[1], bx - centre[0], by - centre[1]
        total += math.atan2(px * qy - py * qx, px * qx + py * qy)
    return total
