"""Which way does the bit's centre go along the walls of a cut, and where must it come to rest?

In: the region a bit really clears, the blank it is cut from, the bit's radius r. Out: the headings
of the centre's path along the walls, r off them, and the places where the heading changes. Air is
no wall: where a cut runs out past the blank the path ends, and nothing is counted there.

Each edge of the region, kept on the left, gives a piece of path:

- a straight wall gives a straight piece, a wall that bulges into the cut (radius R) an arc of
  radius R + r, a hollow wall an arc of radius R - r;
- a hollow of just the bit's radius gives a point: the centre comes in, stands still and leaves with
  its heading turned by as much as the hollow sweeps. That is every fillet, and the end of every
  round relief, where it turns by half a turn: the bit goes in and comes back out;
- round a sharp edge of wood the centre runs straight on, off one wall, to where it can go straight
  on along the other. It does not roll round the edge: an edge is left crisp so, and a bit that goes
  into a relief and out of it goes straight. There the heading jumps by the edge's own turn.

So in a square corner, w = 45 degrees, the centre turns

    left round         90 at the fillet
    corner relief      45 to the bisector, 180 at its end, 45 back to the other wall
    side relief        180 at the end of the one wall, 90 to the other
    swept relief       nowhere at once: three arcs in a row
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from . import thresholds
from .corners import Bounds
from .curves import corner_turn
from .region import Arc, Edge, Loop, Point2, Region

STOP = 15.0
"""A heading that turns by more than this in one place, degrees, is a stop.

By the rule of motion controls, v = sqrt(a d s / (1 - s)) with s the sine of half the angle between
two stretches of path, a machine of 1 m/s2 that may leave its path by d = 0.01 mm still goes 34 mm/s
round 15 degrees, 11 round 45, 5 round 90, and stands still to go back: the first is as good as its
feed, the others are as good as a rest (common practice). Chords of an arc turn by less, corners of
joints by more."""

RUNS_ON = 0.1
"""A turn below this, degrees, is none: what rounding leaves where an arc touches its wall."""

SAME_RADIUS = 1e-4
"""Hollows within this of the bit's radius, mm, are the bit's own: ten times the hair by which a
region is opened less than its cutter asks."""


@dataclass(frozen=True, slots=True)
class Change:
    """The centre's heading turns by `degrees`, left above 0, in one place or along an arc.

    `at` is the place on the walls, or where the arc begins.
    """

    degrees: float
    at_once: bool
    at: Point2

    @property
    def is_stop(self) -> bool:
        return self.at_once and abs(self.degrees) > STOP


def changes(region: Region, limits: Bounds, radius: float) -> tuple[Change, ...]:
    """Every change of heading along the walls of a cut of square walls, loop by loop.

    `limits` is the blank in the plane of the cut. Arcs that follow each other round one centre are
    one change.
    """
    return tuple(change for loop in region.loops for change in _of_loop(loop, limits, radius))


def stops(found: tuple[Change, ...]) -> int:
    """How many of them are stops."""
    return sum(change.is_stop for change in found)


def _of_loop(loop: Loop, limits: Bounds, radius: float) -> list[Change]:
    found: list[Change] = []
    edges = _from_an_end(loop)
    for i, edge in enumerate(edges):
        before = edges[i - 1]
        runs_on = isinstance(edge, Arc) and isinstance(before, Arc) and _one_arc(before, edge)
        if not runs_on and _is_in_wood(edge.start, limits):
            found += _at_corner(before, edge)
        if not isinstance(edge, Arc) or not _touches_wood(edge, limits):
            continue
        turn = math.degrees(edge.sweep)
        if runs_on and found:
            last = found.pop()
            found.append(Change(last.degrees + turn, last.at_once, last.at))
        else:
            found.append(Change(turn, _is_the_bits_own(edge, radius), edge.start))
    return found


def _from_an_end(loop: Loop) -> Loop:
    """The loop begun where no arc runs on, so that none is counted in two halves."""
    for i, edge in enumerate(loop):
        before = loop[i - 1]
        if not (isinstance(edge, Arc) and isinstance(before, Arc) and _one_arc(before, edge)):
            return (*loop[i:], *loop[:i])
    return loop


def _one_arc(before: Arc, after: Arc) -> bool:
    return before.ccw == after.ccw and math.dist(before.centre, after.centre) < thresholds.SAME


def _at_corner(before: Edge, after: Edge) -> list[Change]:
    """The jump where two walls meet in wood; none where one runs on into the other."""
    turn = math.degrees(corner_turn(before, after))
    return [Change(turn, True, after.start)] if abs(turn) > RUNS_ON else []


def _is_the_bits_own(arc: Arc, radius: float) -> bool:
    return arc.ccw and arc.radius < radius + SAME_RADIUS


def _is_in_wood(point: Point2, limits: Bounds) -> bool:
    (u, v), (u0, v0, u1, v1), near = point, limits, thresholds.SAME
    return u0 + near < u < u1 - near and v0 + near < v < v1 - near


def _touches_wood(arc: Arc, limits: Bounds) -> bool:
    """Whether an arc lies in the blank, by its ends and its middle: no arc of a joint is long."""
    begin = math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])
    half = begin + arc.sweep / 2
    middle = (
        arc.centre[0] + arc.radius * math.cos(half),
        arc.centre[1] + arc.radius * math.sin(half),
    )
    return any(_is_in_wood(point, limits) for point in (arc.start, middle, arc.end))
