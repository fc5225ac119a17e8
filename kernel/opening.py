"""What does a disc that stays inside a region sweep over, edge by edge?

The disc's centre keeps its radius r away from every edge. Eroding by r moves each edge inward and
puts an arc of radius r round each reflex corner; in the eroded region every corner is convex.
Spreading by r moves each eroded edge back and puts an arc of radius r round each of those corners:
that arc is the fillet the cutter leaves. Both steps are closed forms once it is known which eroded
edges remain; `planar.py` finds that out by clipping away the pieces made here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from . import thresholds
from .curves import (
    Circle,
    Curve,
    Straight,
    arc_edges,
    closed,
    corner_turn,
    curve_of,
    heading,
    meeting,
    shifted,
    turn_between,
    unit,
)
from .naming import Chain, Run, angles_between, clipping_points, turned
from .region import Arc, Edge, Line, Loop, Point2, Region, disc

SMOOTH = 1e-7
"""Edges whose headings differ by less than this, radians, run on without a corner."""


@dataclass(frozen=True, slots=True)
class Wall:
    """An edge of the eroded region: the curve it lies on, and what it is moved back to.

    `normal` points from an eroded line to its wall. For a circle it is None, and `around` says
    whether the eroded region lies inside it. `radius` is that of the wall itself: 0 for a corner.
    """

    curve: Curve
    normal: Point2 | None
    around: bool
    radius: float


@dataclass(frozen=True, slots=True)
class Pieces:
    """What erosion takes away, clockwise polygons, and the walls their edges are named after."""

    walls: tuple[Wall, ...]
    chains: tuple[Chain, ...]


def eroded_pieces(region: Region, radius: float, chord: float) -> Pieces:
    """All points of the region nearer than `radius` (less a hair) to its boundary, as pieces whose
    chords keep within `chord` mm of their arcs."""
    walls: list[Wall] = []
    found: list[Chain] = []
    for loop in region.loops:
        for i, edge in enumerate(loop):
            after = loop[(i + 1) % len(loop)]
            found.extend(_edge_pieces(edge, radius, chord, walls))
            found.extend(_corner_piece(edge, after, radius, chord, walls))
    return Pieces(tuple(walls), tuple(found))


def _edge_pieces(edge: Edge, radius: float, chord: float, walls: list[Wall]) -> list[Chain]:
    """The band along the edge, as wide as the cutter's radius less a hair.

    It reaches a hair past the edge's ends and a hair outside the region, so that the clipping
    grid leaves no slits between bands or along the boundary; past the ends it leaves the true band
    by a hair squared over the radius, far below the grid.
    """
    hair = thresholds.OPENING_HAIR
    reach = radius - hair
    path = [*clipping_points(edge, chord, radius), edge.end]
    if isinstance(edge, Arc) and edge.ccw and edge.radius <= reach:
        rim = [_along(p, _left(edge, p), -hair) for p in path]
        pie = Chain((edge.centre, *reversed(rim)), (-1,) * (len(rim) + 1))
        return [pie, *(_disc_piece(p, radius, chord, walls) for p in (edge.start, edge.end))]
    lefts = [_left(edge, p) for p in path]
    inner = [_along(p, n, reach) for p, n in zip(path, lefts, strict=True)]
    outer = [_along(p, n, -hair) for p, n in zip(path, lefts, strict=True)]
    back, on = lefts[0], lefts[-1]
    for side in (inner, outer):
        side.insert(0, _along(side[0], (back[1], -back[0]), -hair))
        side.append(_along(side[-1], (on[1], -on[0]), hair))
    name = _wall_index(_wall_of(edge, radius), walls)
    names = (name,) * (len(inner) - 1) + (-1,) * (len(outer) + 1)
    return [Chain((*inner, *reversed(outer)), names)]


def _left(edge: Edge, at: Point2) -> Point2:
    x, y = heading(edge, at)
    return -y, x


def _along(point: Point2, direction: Point2, by: float) -> Point2:
    return point[0] + by * direction[0], point[1] + by * direction[1]


def _wall_of(edge: Edge, radius: float) -> Wall:
    if isinstance(edge, Arc):
        moved = edge.radius - radius if edge.ccw else edge.radius + radius
        return Wall(Circle(edge.centre, max(moved, 0.0)), None, edge.ccw, edge.radius)
    x, y = _left(edge, edge.start)
    return Wall(shifted(curve_of(edge), (x, y), radius), (-x, -y), False, 0.0)


def _corner_piece(
    before: Edge, after: Edge, radius: float, chord: float, walls: list[Wall]
) -> list[Chain]:
    """The sector of the disc round a reflex corner, between the two edges' own pieces."""
    turn = corner_turn(before, after)
    if turn > -SMOOTH:
        return []
    corner, reach = after.start, radius - thresholds.OPENING_HAIR
    first, last = _left(before, corner), _left(after, corner)
    begin = math.atan2(first[1], first[0])
    rim = [
        _along(corner, (math.cos(a), math.sin(a)), reach)
        for a in angles_between(begin, turn, radius, chord)
    ]
    points = (corner, _along(corner, first, reach), *rim, _along(corner, last, reach))
    name = _wall_index(Wall(Circle(corner, radius), None, False, 0.0), walls)
    return [Chain(points, (-1, *(name,) * (len(rim) + 1), -1))]


def _disc_piece(centre: Point2, radius: float, chord: float, walls: list[Wall]) -> Chain:
    reach = radius - thresholds.OPENING_HAIR
    angles = [0.0, *angles_between(0.0, -2 * math.pi, radius, chord)]
    points = tuple(_along(centre, (math.cos(a), math.sin(a)), reach) for a in angles)
    name = _wall_index(Wall(Circle(centre, radius), None, False, 0.0), walls)
    return Chain(points, (name,) * len(points))


def _wall_index(wall: Wall, walls: list[Wall]) -> int:
    for i, known in enumerate(walls):
        if _same_wall(wall, known):
            return i
    walls.append(wall)
    return len(walls) - 1


def _same_wall(a: Wall, b: Wall) -> bool:
    near = thresholds.TANGENT
    match a.curve, b.curve:
        case Circle(), Circle():
            return (
                a.around == b.around
                and math.dist(a.curve.centre, b.curve.centre) < near
                and abs(a.curve.radius - b.curve.radius) < near
            )
        case Straight(), Straight() if a.normal is not None and b.normal is not None:
            (px, py), (ux, uy) = b.curve.point, b.curve.along
            off = (a.curve.point[1] - py) * ux - (a.curve.point[0] - px) * uy
            return abs(off) < near and math.dist(a.normal, b.normal) < near
        case _:
            return False


@dataclass(frozen=True, slots=True)
class Side:
    """A run of the eroded boundary with its wall; `corner` is the exact point where it starts.

    `pinned` marks a corner where an arc of no radius was: there the fillet may turn past half.
    """

    run: Run
    wall: Wall
    corner: Point2
    pinned: bool = False


def spread(runs: Sequence[Run], walls: Sequence[Wall], radius: float) -> Loop | None:
    """The loop the disc sweeps over when its centre follows the eroded loop given by the runs.

    None when the runs do not make such a loop.
    """
    if any(run.name < 0 for run in runs):
        return None
    if len(runs) < 2:
        return _spread_circle(runs, walls)
    sides = _cornered(runs, walls)
    if sides is None:
        return None
    sides = _without_points(sides)
    sides = _without_reversed(sides)
    if len(sides) < 2:
        return disc(sides[0].corner, radius).loops[0]
    return _spread_sides(sides, radius)


def _spread_circle(runs: Sequence[Run], walls: Sequence[Wall]) -> Loop | None:
    if not runs:
        return ()
    wall = walls[runs[0].name]
    if not isinstance(wall.curve, Circle):
        return None
    (x, y), r = wall.curve.centre, wall.radius
    if r < thresholds.TANGENT:
        return ()
    angle = math.copysign(2 * math.pi, turned(runs[0].points, (x, y)))
    return arc_edges((x + r, y), (x + r, y), (x, y), angle)


def _cornered(runs: Sequence[Run], walls: Sequence[Wall]) -> list[Side] | None:
    sides = []
    for before, run in zip([runs[-1], *runs[:-1]], runs, strict=True):
        corner = _corner(before, run, walls)
        if corner is None:
            return None
        sides.append(Side(run, walls[run.name], corner))
    return sides


def _corner(before: Run, after: Run, walls: Sequence[Wall]) -> Point2 | None:
    (ax, ay), (bx, by) = before.points[-1], after.points[0]
    near = ((ax + bx) / 2, (ay + by) / 2)
    return meeting(walls[before.name].curve, walls[after.name].curve, near)


def _is_point(wall: Wall) -> bool:
    return (
        wall.around
        and isinstance(wall.curve, Circle)
        and wall.curve.radius < 2 * thresholds.OPENING_HAIR
    )


def _without_points(sides: Sequence[Side]) -> list[Side]:
    """Arcs as tight as the cutter shrink to their centre, which becomes the next side's corner."""
    kept: list[Side] = []
    pin: Point2 | None = None
    for side in (*sides, *sides):
        if isinstance(side.wall.curve, Circle) and _is_point(side.wall):
            pin = side.wall.curve.centre
            continue
        kept.append(side if pin is None else replace(side, corner=pin, pinned=True))
        pin = None
    solid = sum(not _is_point(side.wall) for side in sides)
    return kept[len(kept) - solid :] if solid else [replace(sides[0], pinned=True)]


def _without_reversed(sides: list[Side]) -> list[Side]:
    """Leave out edges that exist only by the hair eroded too little and now run backwards."""
    while len(sides) > 1:
        back = [i for i in range(len(sides)) if _runs_backwards(sides, i)]
        if not back:
            break
        i = back[0]
        after = sides[(i + 1) % len(sides)]
        before = sides[i - 1]
        (ax, ay), (bx, by) = sides[i].corner, after.corner
        middle = ((ax + bx) / 2, (ay + by) / 2)
        met = meeting(before.wall.curve, after.wall.curve, middle)
        near = met is not None and math.dist(met, middle) < 100 * thresholds.OPENING_HAIR
        merged = replace(after, corner=met if met is not None and near else middle)
        sides[(i + 1) % len(sides)] = merged
        del sides[i]
    return sides


def _runs_backwards(sides: Sequence[Side], i: int) -> bool:
    (ax, ay), (bx, by) = sides[i].corner, sides[(i + 1) % len(sides)].corner
    (px, py), (qx, qy) = sides[i].run.points[0], sides[i].run.points[-1]
    length = math.dist((ax, ay), (bx, by))
    if not thresholds.TANGENT < length < 100 * thresholds.OPENING_HAIR:
        return False
    return (bx - ax) * (qx - px) + (by - ay) * (qy - py) < 0


def _normal(wall: Wall, at: Point2) -> Point2:
    """The unit vector from the eroded edge to its wall."""
    if wall.normal is not None:
        return wall.normal
    assert isinstance(wall.curve, Circle)  # noqa: S101 - a wall without a normal is a circle
    return unit(wall.curve.centre, at) if wall.around else unit(at, wall.curve.centre)


def _spread_sides(sides: Sequence[Side], radius: float) -> Loop | None:
    edges: list[Edge] = []
    size = len(sides)
    for i, side in enumerate(sides):
        after = sides[(i + 1) % size]
        start = _along(side.corner, _normal(side.wall, side.corner), radius)
        end = _along(after.corner, _normal(side.wall, after.corner), radius)
        edges.extend(_moved_back(side, start, end, after.corner))
        turn = _fillet_turn(side, after)
        if turn is None:
            return None
        begin = _along(after.corner, _normal(after.wall, after.corner), radius)
        if turn > thresholds.SAME:
            edges.extend(arc_edges(end, begin, after.corner, turn))
        elif math.dist(end, begin) > thresholds.TANGENT:
            edges.append(Line(end, begin))
    return _joined_arcs(edges)


def _fillet_turn(before: Side, after: Side) -> float | None:
    a, b = _normal(before.wall, after.corner), _normal(after.wall, after.corner)
    turn = turn_between(a, b)
    if turn >= -1e-3:
        return max(turn, 0.0)
    if after.pinned or turn < 1e-3 - math.pi:
        return turn + 2 * math.pi
    return None


def _moved_back(side: Side, start: Point2, end: Point2, next_corner: Point2) -> Loop:
    if not isinstance(side.wall.curve, Circle):
        return (Line(start, end),) if math.dist(start, end) > thresholds.TANGENT else ()
    if side.wall.radius < thresholds.TANGENT:
        return ()
    path = (side.corner, *side.run.points[1:-1], next_corner)
    return arc_edges(start, end, side.wall.curve.centre, turned(path, side.wall.curve.centre))


def _joined_arcs(edges: Sequence[Edge]) -> Loop:
    """The edges joined end to start, arcs that run on round one centre made one."""
    joined: list[Edge] = []
    for edge in edges:
        last = joined[-1] if joined else None
        if isinstance(last, Arc) and isinstance(edge, Arc) and _run_on(last, edge):
            joined.pop()
            joined.extend(arc_edges(last.start, edge.end, last.centre, last.sweep + edge.sweep))
        else:
            joined.append(edge)
    return closed(joined)


def _run_on(a: Arc, b: Arc) -> bool:
    near = math.dist(a.centre, b.centre) < thresholds.TANGENT and a.ccw == b.ccw
    return near and abs(a.sweep + b.sweep) <= math.pi + thresholds.TANGENT
