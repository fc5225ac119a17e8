"""Where does the slanting plane of a mitre lie in each of its two boards?

All in the plane across the corner. A board there is a strip with an inside and an outside face that
goes off along `away`; the mitre runs from the corner's inside edge, where the two inside faces
meet, to its outside edge, where the two outside faces do. Boards square to each other and boards
turned about the corner's edge come to the same `Slant`, which draws on its own board.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..crossing_findings import StandsProud
from ..cuts import Cut, Side, Work
from ..finding import Finding
from ..joint_findings import NoCorner, StopsShort
from ..region import Point2, Region
from ..thresholds import MITRE_SHORT, OVERSHOOT, SAME
from .corner import corner_of
from .drawn import Tool, on_own_side, polygon
from .meeting import Meeting, Part, at
from .tilted import Leaf, TiltedMeeting

AnyMeeting = Meeting | TiltedMeeting


@dataclass(frozen=True, slots=True, kw_only=True)
class Slant:
    """One board's part of a corner. `side` is its own side that faces along the corner's edge,
    `draw` takes a region there; `outward` is square to its faces, `away` along it, of length 1;
    `end` is how far the blank goes on beyond `inner` towards the corner. `mate` is the other board.
    """

    part: Part
    mate: Part
    side: Side
    draw: Callable[[Region], Region]
    inner: Point2
    outer: Point2
    away: Point2
    outward: Point2
    end: float

    @property
    def size(self) -> float:
        """From the inside to the outside edge, mm."""
        return math.dist(self.inner, self.outer)

    @property
    def along(self) -> Point2:
        """The direction of length 1 from the inside edge to the outside edge."""
        return _unit(_minus(self.outer, self.inner))

    @property
    def into(self) -> Point2:
        """The direction of length 1 square to the slant, into the wood that stays."""
        x, y = self.along
        return (-y, x) if _dot((-y, x), self.away) > 0 else (y, -x)

    @property
    def thick(self) -> Fraction:
        return self.part.box[self.part.thick].size

    @property
    def degrees(self) -> float:
        """How far the slant leans off the square through the board."""
        across = _dot(self.along, self.outward)
        return math.degrees(math.acos(min(across, 1.0)))

    def depth(self, p: Point2) -> float:
        """How far a point lies from the board's inside face towards the outside face."""
        return _dot(_minus(p, self.inner), self.outward)

    def point(self, along: float, into: float) -> Point2:
        """A point by its distances from the inside edge, along the slant and into the wood."""
        a, i = self.along, self.into
        return (
            self.inner[0] + along * a[0] + into * i[0],
            self.inner[1] + along * a[1] + into * i[1],
        )

    def beyond(self, back: float) -> tuple[Point2, ...]:
        """Round all of the board beyond the slant moved `back` into it, with air about it."""
        steep = _dot(self.along, self.outward)
        low, high = (
            self.point((depth - back * _dot(self.into, self.outward)) / steep, back)
            for depth in (-OVERSHOOT, float(self.thick) + OVERSHOOT)
        )
        ends = [-_dot(_minus(p, self.inner), self.away) for p in (low, high)]
        far = max(self.end, *ends) + OVERSHOOT
        out = tuple(
            (p[0] - (far - end) * self.away[0], p[1] - (far - end) * self.away[1])
            for p, end in zip((low, high), ends, strict=True)
        )
        return low, high, out[1], out[0]

    def cut(self, meeting: AnyMeeting, points: tuple[Point2, ...], work: Work, tool: Tool) -> Cut:
        """What lies between the points, right along the corner."""
        region = self.draw(polygon(points))
        return Cut(
            board=self.part.name,
            side=self.side,
            work=work,
            region=region,
            asked=region,
            depth=None,
            bit=tool.name,
            by_hand=tool.by_hand,
            joint=meeting.name,
            mate=self.mate.name,
            place=meeting.join.place,
        )


Slants = tuple[Slant, Slant]


# --- boards square to each other ---------------------------------------------------------------


def square_slants(meeting: Meeting) -> Slants | Finding:
    """A's and B's part of a square corner; neither stands proud of the other."""
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return corner
    a, b = meeting.a, meeting.b
    for part, mate, away in ((a, b, corner.a_away), (b, a, corner.b_away)):
        proud = part.beyond(away.opposite, mate)
        if proud > SAME:
            return _proud(meeting, part, mate, away)
    side = Side(corner.along, True)
    return (
        _square(meeting, (a, b), (corner.a_away, corner.b_away), side),
        _square(meeting, (b, a), (corner.b_away, corner.a_away), side),
    )


def _square(
    meeting: Meeting, parts: tuple[Part, Part], ways: tuple[Side, Side], side: Side
) -> Slant:
    """The inside edge lies where both boards go away to, the outside edge opposite."""
    (host, mate), (away, others) = parts, ways
    inner = {way.axis: float(at(meeting.overlap, way)) for way in ways}
    outer = {way.axis: float(at(meeting.overlap, way.opposite)) for way in ways}
    u, v = side.plane

    def direction(way: Side) -> Point2:
        sign = 1.0 if way.positive else -1.0
        return (sign, 0.0) if way.axis == u else (0.0, sign)

    return Slant(
        part=host,
        mate=mate,
        side=host.own_side(side),
        draw=lambda region: on_own_side(host, side, region),
        inner=(inner[u], inner[v]),
        outer=(outer[u], outer[v]),
        away=direction(away),
        outward=direction(others.opposite),
        end=abs(float(host.face(away.opposite)) - inner[away.axis]),
    )


def _proud(meeting: Meeting, part: Part, mate: Part, away: Side) -> Finding:
    proud = part.beyond(away.opposite, mate)
    own = part.own_side(away.opposite)
    end = at(part.board.box, own)
    return StandsProud(
        place=part.ref.place or meeting.place,
        board=part.name,
        mate=mate.name,
        family=meeting.join.family,
        axis=own.axis,
        face=end - proud if own.positive else end + proud,
        proud=proud,
        board_place=part.board.place,
    )


# --- boards turned about the edge ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Strip:
    """A board in the plane of the meeting: a point of its inside face, the direction it goes away
    in, and the direction out of its outside face."""

    leaf: Leaf
    inside: Point2
    away: Point2
    outward: Point2

    @property
    def outside(self) -> Point2:
        thick = float(self.leaf.part.box[self.leaf.part.thick].size)
        return (
            self.inside[0] + thick * self.outward[0],
            self.inside[1] + thick * self.outward[1],
        )


def turned_slants(meeting: TiltedMeeting) -> Slants | Finding:
    """The same for boards turned about the corner's edge. A blank may go on past the outside edge:
    the mitre takes what is beyond it."""
    one, other = meeting.a, meeting.b
    for leaf in (one, other):
        if leaf.axis == leaf.part.thick:
            return _no_corner(meeting, leaf, parallel=True)
    a, b = _strip(meeting, one, other), _strip(meeting, other, one)
    inner = _crossing(a.inside, a.away, b.inside, b.away)
    outer = _crossing(a.outside, a.away, b.outside, b.away)
    slants = tuple(_turned(meeting, strip, inner, outer) for strip in (a, b))
    if _dot(slants[0].into, slants[1].into) > -0.5:  # both lie on one side of the slant
        return _no_corner(meeting, one, parallel=False)
    for slant, leaf in zip(slants, (one, other), strict=True):
        wrong = _short(meeting, slant, leaf)
        if wrong is not None:
            return wrong
    return slants[0], slants[1]


def _strip(meeting: TiltedMeeting, leaf: Leaf, other: Leaf) -> _Strip:
    """The strip goes away from the middle of the other board's near end, and its inside face is
    the one on the side that the other board goes off to."""
    own, far = _centre(leaf), _centre(other)
    run = leaf.facing(Axis(3 - leaf.axis - leaf.part.thick))
    across = leaf.facing(leaf.part.thick)
    away = run if _dot(run, _minus(own, far)) > 0 else (-run[0], -run[1])
    outward = across if _dot(across, _minus(far, own)) < 0 else (-across[0], -across[1])
    inside = min(leaf.outline, key=lambda p: _dot(p, outward))
    return _Strip(leaf, inside, away, outward)


def _centre(leaf: Leaf) -> Point2:
    points = leaf.outline
    return (sum(p[0] for p in points) / 4, sum(p[1] for p in points) / 4)


def _turned(meeting: TiltedMeeting, strip: _Strip, inner: Point2, outer: Point2) -> Slant:
    leaf = strip.leaf
    end = max(-_dot(_minus(p, inner), strip.away) for p in leaf.outline)
    return Slant(
        part=leaf.part,
        mate=meeting.mate(leaf).part,
        side=leaf.side,
        draw=leaf.own_region,
        inner=inner,
        outer=outer,
        away=strip.away,
        outward=strip.outward,
        end=end,
    )


def _short(meeting: TiltedMeeting, slant: Slant, leaf: Leaf) -> Finding | None:
    """The finding that a board ends before the mitre does, or goes on beyond its mate both ways."""
    needed = max(-_dot(_minus(slant.outer, slant.inner), slant.away), 0.0)
    length = max(_dot(_minus(p, slant.inner), slant.away) for p in leaf.outline)
    if length <= SAME or slant.end > needed + 2 * float(slant.mate.stock.thick):
        return _no_corner(meeting, leaf, parallel=False)
    if slant.end >= needed - MITRE_SHORT:
        return None
    axis = Axis(3 - leaf.axis - leaf.part.thick)
    positive = _dot(leaf.facing(axis), slant.away) < 0
    span = leaf.part.box[axis]
    short = Fraction(round((needed - slant.end) * 1000), 1000)
    end = span.hi if positive else span.lo
    return StopsShort(
        place=leaf.part.ref.place or meeting.place,
        board=leaf.name,
        mate=slant.mate.name,
        family=meeting.join.family,
        axis=axis,
        end=end,
        face=end + short if positive else end - short,
        board_place=leaf.part.board.place,
    )


def _no_corner(meeting: TiltedMeeting, leaf: Leaf, *, parallel: bool) -> Finding:
    return NoCorner(
        place=leaf.part.ref.place or meeting.place,
        board=leaf.name,
        mate=meeting.mate(leaf).name,
        family=meeting.join.family,
        parallel=parallel,
    )


def _crossing(p: Point2, d: Point2, q: Point2, e: Point2) -> Point2:
    """Where the line through p along d meets that through q along e; tilted boards are never
    parallel."""
    turn = d[0] * e[1] - d[1] * e[0]
    off = _minus(q, p)
    share = (off[0] * e[1] - off[1] * e[0]) / turn
    return (p[0] + share * d[0], p[1] + share * d[1])


def _minus(p: Point2, q: Point2) -> Point2:
    return (p[0] - q[0], p[1] - q[1])


def _dot(p: Point2, q: Point2) -> float:
    return p[0] * q[0] + p[1] * q[1]


def _unit(p: Point2) -> Point2:
    size = math.hypot(*p)
    return (p[0] / size, p[1] / size)
