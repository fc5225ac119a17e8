"""How is the round corner a cutter leaves got out of the way of a square mate?

Each relief is a path for the cutter's centre near an inside corner; what the cutter clears on it is
given in closed form as the edges that replace the corner. p is the corner, a and b the unit
directions along its walls, c = (a + b) / |a + b| the bisector into the cut, w half the angle
between the walls, r the cutter's radius.

- CORNER: in along the bisector until the centre is at p + r c and the rim passes through p; the rim
  meets the walls 2 r cos w from it. In a corner under 90 degrees the sides of that path meet the
  walls first, r / sin w from p.
- SIDE: in along wall b to the centre p + r a. In a square corner the disc there touches wall b in p
  and takes a half disc out of wall a.
- SWEPT: the centre's path runs parallel to wall a at distance r, turns towards the wood on a blend
  arc of radius R (centre B, wood side), away from it on a middle arc of radius q (centre M, on the
  bisector), and out along wall b on a second blend arc. The rim passes through p when the centre
  comes as near as r to it, so M = p + (q + r) c. With x along wall a and y off it,
      M = ((q + r) cos w, (q + r) sin w)   and   B = (x, r - R);
  blend and middle arc touch when |BM| = R + q:
      x = (q + r) cos w + sqrt((R + q)^2 - ((q + r) sin w - r + R)^2).
  The wall is left at x. What is cleared is bounded by the path moved r towards the wood: a convex
  wood arc of radius R - r round B that touches the wall, an arc of radius q + r round M through p,
  and the mirror image. With R = r (1 + t), q = r t the path has no corner for any t > 0, and
  t -> 0 is CORNER. t = 1 unless a wall is too short; with l = x / r, s = sin w, k = cos w,
      2 (s - 1) t^2 + (2 s (1 + s) - 4 - 2 k (l - k)) t + (l - k)^2 - k^2 = 0.
- HALF_ROUND, LONG, NONE leave the fillet: the mate's edge is rounded, or the socket runs on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import assert_never

from . import thresholds
from .corners import (
    Bounds,
    InsideCorner,
    ahead,
    blank_bounds,
    clears_rectangle,
    inside_corners,
    is_rectangle,
    loop_corners,
    with_corners,
)
from .curves import unit
from .planar import as_cut, union
from .region import Arc, Line, Loop, Point2, Region, area, contains, disc

__all__ = [
    "Bite",
    "InsideCorner",
    "Relief",
    "Relieved",
    "inside_corners",
    "long_extension",
    "relief_discs",
    "relieve",
    "relieved",
    "roundover_spandrel",
]

LEAST_BLEND = 0.1
"""The least t of a swept relief: below it the blend arcs are shorter than a cutter notices."""


class Relief(Enum):
    CORNER = "corner"
    SIDE = "side"
    SWEPT = "swept"
    HALF_ROUND = "half_round"
    LONG = "long"
    NONE = "none"


class Bite(Enum):
    """Which wall a side relief is set into: the one that runs along u or v, or by its length."""

    U = "u"
    V = "v"
    LONGER = "longer"
    SHORTER = "shorter"


@dataclass(frozen=True, slots=True)
class Relieved:
    """What the cutter clears, and the corners where the relief asked for had no room or no meaning
    and a corner relief was made instead."""

    region: Region
    replaced: tuple[InsideCorner, ...] = ()


def relieved(
    asked: Region,
    blank: Region | Bounds,
    radius: float,
    relief: Relief,
    bite: Bite = Bite.LONGER,
) -> Region:
    """What a cutter of `radius` mm clears of `asked`, relieved at each inside corner."""
    return relieve(asked, blank, radius, relief, bite).region


def relieve(
    asked: Region,
    blank: Region | Bounds,
    radius: float,
    relief: Relief,
    bite: Bite = Bite.LONGER,
) -> Relieved:
    """`relieved`, with the corners where another relief was made than the one asked for."""
    if relief in (Relief.HALF_ROUND, Relief.LONG, Relief.NONE):
        return Relieved(as_cut(asked, blank, radius))
    limits = blank_bounds(blank)
    corners = inside_corners(asked, limits)
    replaced = tuple(c for c in corners if _edges(c, radius, relief, bite) is None)
    direct = _direct(asked, limits, radius, relief, bite)
    if direct is not None:
        return Relieved(direct, replaced)
    plain = as_cut(asked, limits, radius)
    if plain.is_empty:
        return Relieved(plain)
    bitten = (_piece(c, radius, relief, bite) for c in corners if _is_reached(c, plain, radius))
    together = union((plain, *bitten))
    cut = as_cut(together, limits, radius)
    lost = area(together) - area(cut)
    return Relieved(cut if lost > thresholds.SAME else together, replaced)


def _is_reached(corner: InsideCorner, plain: Region, radius: float) -> bool:
    """Whether the cutter left its whole fillet there: what lies just inside the arc is cleared."""
    gap = radius / math.sin(corner.half_angle) - radius
    return contains(plain, ahead(corner.point, corner.inward, gap + radius / 1000))


def relief_discs(
    asked: Region,
    blank: Region | Bounds,
    radius: float,
    relief: Relief,
    bite: Bite = Bite.LONGER,
) -> tuple[Region, ...]:
    """The discs of corner and side reliefs, in the order of the corners; empty for the others."""
    if relief not in (Relief.CORNER, Relief.SIDE):
        return ()
    every = (_edges_or_disc(c, radius, relief, bite) for c in inside_corners(asked, blank))
    arcs = (next(e for e in edges if isinstance(e, Arc)) for edges in every)
    return tuple(disc(arc.centre, radius) for arc in arcs)


def _direct(
    asked: Region, limits: Bounds, radius: float, relief: Relief, bite: Bite
) -> Region | None:
    """The relieved rectangle with each corner replaced; None where reliefs run into each other."""
    if not is_rectangle(asked) or not clears_rectangle(asked, limits, radius):
        return None
    replaced: dict[int, Loop] = {}
    for i, corner in enumerate(loop_corners(asked.loops[0], limits)):
        if corner is None:
            continue
        if min(corner.lengths) < radius:
            return None
        edges = _edges_or_disc(corner, radius, relief, bite)
        reaches = (math.dist(edges[0].start, corner.point), math.dist(edges[-1].end, corner.point))
        if any(reach > length for reach, length in zip(reaches, corner.lengths, strict=True)):
            return None
        replaced[i] = edges
    loop = with_corners(asked.loops[0], replaced)
    return None if loop is None else Region((loop,))


def _edges(corner: InsideCorner, radius: float, relief: Relief, bite: Bite) -> Loop | None:
    """The edges that stand in for the corner, None where the relief cannot be made there."""
    match relief:
        case Relief.CORNER:
            return _corner_edges(corner, radius)
        case Relief.SIDE:
            return _side_edges(corner, radius, bite)
        case Relief.SWEPT:
            return _swept_edges(corner, radius)
        case Relief.HALF_ROUND | Relief.LONG | Relief.NONE:
            return ()
        case _:
            assert_never(relief)


def _edges_or_disc(corner: InsideCorner, radius: float, relief: Relief, bite: Bite) -> Loop:
    edges = _edges(corner, radius, relief, bite)
    return _corner_edges(corner, radius) if edges is None else edges


def _piece(corner: InsideCorner, radius: float, relief: Relief, bite: Bite) -> Region:
    """The corner relieved, as a region of its own: what it clears beyond the plain cut."""
    edges = _edges_or_disc(corner, radius, relief, bite)
    start, end = edges[0].start, edges[-1].end
    if relief is not Relief.SIDE or len(edges) > 1:
        return Region(((*edges, Line(end, start)),))
    a, b = corner.walls
    if end == corner.point:
        onward = (ahead(end, b, radius), ahead(start, b, radius))
    else:
        onward = (ahead(end, a, radius), ahead(start, a, radius))
    path = (end, *onward, start)
    return Region(((*edges, *(Line(p, q) for p, q in pairwise(path))),))


def _corner_edges(corner: InsideCorner, radius: float) -> Loop:
    p, (a, b), c = corner.point, corner.walls, corner.inward
    centre = ahead(p, c, radius)
    s, k = math.sin(corner.half_angle), math.cos(corner.half_angle)
    if k - s < thresholds.SAME:
        start, end = ahead(p, a, 2 * radius * k), ahead(p, b, 2 * radius * k)
        return Arc(start, p, centre, True), Arc(p, end, centre, True)
    start, end = ahead(p, a, radius / s), ahead(p, b, radius / s)
    left, right = ahead(centre, (-c[1], c[0]), radius), ahead(centre, (c[1], -c[0]), radius)
    return (
        Line(start, left),
        Arc(left, p, centre, True),
        Arc(p, right, centre, True),
        Line(right, end),
    )


def _side_edges(corner: InsideCorner, radius: float, bite: Bite) -> Loop | None:
    p, (a, b) = corner.point, corner.walls
    if abs(a[0] * b[0] + a[1] * b[1]) > thresholds.SAME:
        return None
    if _takes_bite(corner, bite) == 0:
        return (Arc(ahead(p, a, 2 * radius), p, ahead(p, a, radius), True),)
    return (Arc(p, ahead(p, b, 2 * radius), ahead(p, b, radius), True),)


def _takes_bite(corner: InsideCorner, bite: Bite) -> int:
    """Which of the corner's two walls is set back."""
    (a, b), (la, lb) = corner.walls, corner.lengths
    match bite:
        case Bite.U:
            return 0 if abs(a[0]) > abs(b[0]) else 1
        case Bite.V:
            return 0 if abs(a[1]) > abs(b[1]) else 1
        case Bite.LONGER:
            return 0 if la > lb + thresholds.SAME else 1
        case Bite.SHORTER:
            return 0 if la < lb - thresholds.SAME else 1
        case _:
            assert_never(bite)


def _swept_edges(corner: InsideCorner, radius: float) -> Loop | None:
    blend = _blend(corner, radius)
    if blend < LEAST_BLEND:
        return None
    p, (a, b) = corner.point, corner.walls
    middle, big = radius * blend, radius * (1 + blend)
    s, k = math.sin(corner.half_angle), math.cos(corner.half_angle)
    x = (middle + radius) * k + math.sqrt(
        (big + middle) ** 2 - ((middle + radius) * s + big - radius) ** 2
    )
    if x < radius * k / s - thresholds.SAME:  # sharp corner: the path would cut the other wall
        return None
    m = ahead(p, corner.inward, middle + radius)
    start, end = ahead(p, a, x), ahead(p, b, x)
    left, right = (
        _wood_centre(corner, start, a, big - radius),
        _wood_centre(corner, end, b, big - radius),
    )
    on, off = ahead(left, unit(left, m), big - radius), ahead(right, unit(right, m), big - radius)
    return (
        Arc(start, on, left, False),
        Arc(on, p, m, True),
        Arc(p, off, m, True),
        Arc(off, end, right, False),
    )


def _wood_centre(corner: InsideCorner, at: Point2, wall: Point2, depth: float) -> Point2:
    """The point `depth` behind the wall at `at`."""
    nx, ny = -wall[1], wall[0]
    if nx * corner.inward[0] + ny * corner.inward[1] > 0:
        nx, ny = -nx, -ny
    return ahead(at, (nx, ny), depth)


def _blend(corner: InsideCorner, radius: float) -> float:
    """The greatest t up to 1 for which the relief stays on its share of both walls."""
    s, k = math.sin(corner.half_angle), math.cos(corner.half_angle)
    pairs = zip(corner.lengths, corner.shared, strict=True)
    share = min(length / 2 if shared else length for length, shared in pairs) / radius
    if share < 2 * k:
        return 0.0
    full = 2 * k + math.sqrt(9 - (2 * s + 1) ** 2)
    if share >= full:
        return 1.0
    two_a, b = 4 * (s - 1), 2 * s * (1 + s) - 4 - 2 * k * (share - k)
    c = (share - k) ** 2 - k**2
    return (-b - math.sqrt(b * b - 2 * two_a * c)) / two_a


def long_extension(radius: float, side_clearance: float) -> float:
    """How much longer than its mate, at each end, a socket must be for the mate's square edge to
    clear the fillet: r - sqrt(r^2 - (r - c)^2) with the clearance c beside it, mm."""
    left = max(radius - side_clearance, 0.0)
    return radius - math.sqrt(radius * radius - left * left)


def roundover_spandrel(corner: Point2, walls: tuple[Point2, Point2], radius: float) -> Region:
    """What a roundover of `radius` mm takes off a convex edge: the corner less the disc that
    touches both faces. `walls` are the unit directions from the corner along the two faces."""
    (ax, ay), (bx, by) = walls
    first, second = walls if ax * by - ay * bx > 0 else (walls[1], walls[0])
    sharp = InsideCorner(corner, (first, second), (math.inf, math.inf), (False, False))
    reach = radius / math.tan(sharp.half_angle)
    centre = ahead(corner, sharp.inward, radius / math.sin(sharp.half_angle))
    start, end = ahead(corner, first, reach), ahead(corner, second, reach)
    return Region(((Line(corner, start), Arc(start, end, centre, False), Line(end, corner)),))
