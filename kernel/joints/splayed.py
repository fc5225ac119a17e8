"""Tenons of boards that lean in the plane of their own faces, as splayed legs do.

The tenon is square to B, so the mortise is the one of an upright board with the tenon's section; on
A tenon and shoulders are one outline, cut straight through its face.

       /   /     A leans by t. Where A crosses B's face the tenon may have all of its width; at its
      /   /      end, d deep, A has moved on by d tan t. So on the side that A leans to one shoulder
    -+--+--      is that wide at least, and runs out at the tenon's end; off the other side a sliver
     |  |        comes off.
     +--+

The tenon ends square at the first corner of A's end, or flush with B's far face where A goes on
beyond it. Shoulders asked for are measured along B's face.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias

from ..board import Axis, Box, Run, Span
from ..cuts import Cut, Side, Work
from ..cutter import Bit
from ..finding import Finding, Outcome
from ..frames import Bridge
from ..joint_findings import NoWayIn
from ..region import Point2, Region, moved
from ..relief import Bite, Relief, relieved
from ..tenon_findings import LeansTooFar, NotWhereItLeans
from ..thresholds import SAME, SNAP_PER_MM
from .drawn import polygon
from .family import JointCuts
from .meeting import Meeting, Part, both_sides, with_face
from .options import written_at
from .shoulders import NO_SHOULDERS, Pair, in_the_middle, left_by
from .tenon_layout import (
    CHEEKS,
    EDGES,
    HAUNCH,
    RELIEF,
    ROOT,
    THICK,
    TWIN,
    WIDTH,
    Layout,
    Root,
    Tenon,
    laid_out,
)
from .tilted import TiltedMeeting, tilted_cut

CutSquare: TypeAlias = Callable[[Meeting, Tenon], Outcome[JointCuts]]

AIR = 20.0
"""How far a cut is drawn past the blank, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Splay:
    """How A comes into B, in the plane of B's own side across the shared axis.

    A comes in by B's side `entry`; x runs along B's axis `across`, depth from B's face inwards.
    A's run out of B goes `rise` along x for every mm square to B's face; `low` and `high` are where
    A's edges cross B's face; the ends of A's own end lie at `ends`, (x, depth). `swapped` when A's
    high edge lies at the low x. `along` is A's axis that runs out of B.
    """

    entry: Side
    across: Axis
    along: Axis
    rise: float
    low: float
    high: float
    ends: tuple[Point2, Point2]
    swapped: bool

    def edge_low(self, depth: float) -> float:
        """Where A's low edge is, that deep in B."""
        return self.low - depth * self.rise

    def edge_high(self, depth: float) -> float:
        return self.high - depth * self.rise

    def end_at(self, x: float) -> float:
        """How deep A's end lies at x: it runs square to A's edges."""
        (x0, d0), (x1, d1) = self.ends
        return d0 + (x - x0) * (d1 - d0) / (x1 - x0)


def cut_splayed(
    meeting: TiltedMeeting, options: Tenon, cut_square: CutSquare
) -> Outcome[JointCuts]:
    """The cuts of a splayed tenon: B's as of an upright board with its section, A's outline."""
    splay = _splay(meeting)
    wrong = _not_here(meeting, options)
    if isinstance(splay, Finding) or wrong is not None:
        return Outcome(None, tuple(f for f in (splay, wrong) if isinstance(f, Finding)))
    cheeks = _cheeks(meeting, options)
    if isinstance(cheeks, Finding):
        return Outcome(None, (cheeks,))
    section = _section(meeting, splay, options)
    if isinstance(section, Finding):
        return Outcome(None, (section,))
    seen = cheeks if meeting.b.sign > 0 else (cheeks[1], cheeks[0])
    plain = replace(options, edges=None, width=None, thick=None, cheeks=seen)
    upright = _upright(meeting, splay, section)
    made, layout = cut_square(upright, plain), laid_out(upright, plain)
    if made.value is None or isinstance(layout, Finding):
        return made
    bit = next(bit for bit in meeting.bits if bit.name == made.value.bit)
    hollows = (cut for cut in made.value.cuts if cut.board == meeting.b.name)
    own = (
        _outline(meeting, splay, layout, bit, options),
        *_pockets(meeting, splay, cheeks, bit),
        *_carried(meeting, made.value.cuts),
    )
    matings = tuple(
        replace(mating, axis=meeting.axis)
        for mating in made.value.matings
        if mating.axis == meeting.b.axis
    )
    cuts = (*hollows, *own)
    return Outcome(replace(made.value, cuts=cuts, matings=matings), made.findings)


def _not_here(meeting: TiltedMeeting, options: Tenon) -> Finding | None:
    """The finding that an option asks for what is not cut flat on a leaning board."""
    option, value, instead = "", None, None
    if options.twin > 1:
        option = TWIN.name
    elif options.haunch is not None:
        option = HAUNCH.name
    elif options.root is Root.FILLET:
        option, value, instead = ROOT.name, Root.FILLET.value, Root.RELIEVED.value
    elif options.relief.relief is Relief.HALF_ROUND:
        option, value, instead = RELIEF.name, Relief.HALF_ROUND.value, Relief.CORNER.value
    else:
        return None
    return NotWhereItLeans(
        place=meeting.option_place(option),
        option=option,
        value=value,
        board=meeting.a.name,
        degrees=meeting.degrees,
        instead=instead,
        value_place=written_at(meeting.join, option),
    )


def _splay(meeting: TiltedMeeting) -> Splay | Finding:
    """How A comes in: by B's side that it goes on farthest beyond, with its length if it can."""
    ways = [
        (along == meeting.a.part.length, beyond, side, along)
        for axis in meeting.b.side.plane
        for side in both_sides(axis)
        if (beyond := _beyond(meeting, side)) > SAME
        for along in (_axis_along(meeting, side),)
    ]
    if not ways:
        return NoWayIn(
            place=meeting.place,
            board=meeting.a.name,
            mate=meeting.b.name,
            family=meeting.join.family,
        )
    _, _, entry, along = max(ways, key=lambda way: (way[0], way[1]))
    return _seen_from(meeting, entry, along)


def _corners(meeting: TiltedMeeting) -> list[Point2]:
    """A's corners in the plane of B's own side."""
    return [meeting.b.here.back.point(p) for p in meeting.a.outline]


def _beyond(meeting: TiltedMeeting, side: Side) -> float:
    face, index = (
        float(meeting.b.part.face(side)),
        meeting.b.side.plane.index(side.axis),
    )
    past = [p[index] - face for p in _corners(meeting)]
    return max(past) if side.positive else -min(past)


def _axis_along(meeting: TiltedMeeting, side: Side) -> Axis:
    """A's own axis that runs nearest to square to B's side."""
    index = meeting.b.side.plane.index(side.axis)
    plane = meeting.a.side.plane
    return max(plane, key=lambda axis: abs(_direction(meeting, axis)[index]))


def _direction(meeting: TiltedMeeting, axis: Axis) -> Point2:
    """The direction of one of A's own axes in the plane of B's side."""
    return meeting.b.here.back.direction(meeting.a.facing(axis))


def _seen_from(meeting: TiltedMeeting, entry: Side, along: Axis) -> Splay:
    plane = meeting.b.side.plane
    normal = plane.index(entry.axis)
    out, face = 1.0 if entry.positive else -1.0, float(meeting.b.part.face(entry))
    way = _direction(meeting, along)
    k, c = way[1 - normal], way[normal] * out
    if c < 0:
        k, c = -k, -c
    flat = [(p[1 - normal], (face - p[normal]) * out) for p in _corners(meeting)]
    crossings = sorted(x + depth * k / c for x, depth in flat)
    ends = sorted(flat, key=lambda p: p[1] * c - p[0] * k)[2:]  # farthest against A's way
    wide = next(axis for axis in meeting.a.side.plane if axis != along)
    return Splay(
        entry=entry,
        across=plane[1 - normal],
        along=along,
        rise=k / c,
        low=crossings[0],
        high=crossings[-1],
        ends=(ends[0], ends[1]),
        swapped=_direction(meeting, wide)[1 - normal] < 0,
    )


@dataclass(frozen=True, slots=True)
class Section:
    """The tenon along B's face, from x to x, and how deep it goes."""

    low: Fraction
    high: Fraction
    depth: Fraction


def _section(meeting: TiltedMeeting, splay: Splay, options: Tenon) -> Section | Finding:
    asked = options.edges or NO_SHOULDERS
    low, high = (float(off) for off in (reversed(asked) if splay.swapped else asked))
    low, high = splay.low + low, splay.high - high
    through = float(meeting.b.part.box[splay.entry.axis].size)
    depth = splay.end_at(low if splay.rise > 0 else high)
    depth = through if depth >= through - SAME else depth
    low, high = max(low, splay.edge_low(depth)), min(high, splay.edge_high(depth))
    if high - low <= SAME or depth <= SAME:
        return LeansTooFar(
            place=meeting.option_place(EDGES.name),
            board=meeting.a.name,
            mate=meeting.b.name,
            degrees=meeting.degrees,
            width=meeting.a.part.box[_wide(meeting, splay)].size,
            depth=depth,
            shoulders=sum(asked, Fraction(0)),
            board_place=meeting.a.part.board.place,
        )
    section = Section(_snapped(low), _snapped(high), _snapped(depth))
    return _narrowed(meeting, section, options)


def _narrowed(meeting: TiltedMeeting, section: Section, options: Tenon) -> Section | Finding:
    """The section with a width asked for, in its middle."""
    if options.width is None:
        return section
    room = section.high - section.low
    off = in_the_middle(meeting, meeting.a.part, room, options.width, WIDTH)
    if isinstance(off, Finding):
        return off
    return Section(section.low + off[0], section.high - off[1], section.depth)


def _wide(meeting: TiltedMeeting, splay: Splay) -> Axis:
    return next(axis for axis in meeting.a.side.plane if axis != splay.along)


def _snapped(value: float) -> Fraction:
    return Fraction(round(value * SNAP_PER_MM), SNAP_PER_MM)


def _cheeks(meeting: TiltedMeeting, options: Tenon) -> Pair | Finding:
    part = meeting.a.part
    whole = part.box[part.thick].size
    if options.thick is not None:
        return in_the_middle(meeting, part, whole, options.thick, THICK)
    return left_by(meeting, part, whole, options.cheeks or NO_SHOULDERS, CHEEKS)


def _upright(meeting: TiltedMeeting, splay: Splay, section: Section) -> Meeting:
    """B and, in its coordinates, an upright board with the tenon's section and the tenon's end."""
    a, b = meeting.a.part, meeting.b.part
    low, high = both_sides(splay.across)
    face, out = b.face(splay.entry), 1 if splay.entry.positive else -1
    box = with_face(with_face(b.box, low, section.low), high, section.high)
    box = with_face(box, splay.entry.opposite, face - out * section.depth)
    box = with_face(box, splay.entry, face + out * a.box[splay.along].size)
    thick = meeting.b.own_span(meeting.a.span)
    low, high = both_sides(meeting.b.axis)
    box = with_face(with_face(box, low, thick.lo), high, thick.hi)
    guest = Part(
        ref=a.ref,
        board=replace(a.board, box=box),
        stock=a.stock,
        run=Run(length=splay.entry.axis, width=splay.across, thick=meeting.b.axis),
        box=box,
        own=Bridge(),
    )
    shared = Box(
        *(
            Span(max(box[axis].lo, b.box[axis].lo), min(box[axis].hi, b.box[axis].hi))
            for axis in Axis
        )
    )
    return Meeting(
        name=meeting.name, join=meeting.join, a=guest, b=b, overlap=shared, bits=meeting.bits
    )


# ---- A's own cuts --------------------------------------------------------------------------------


def _outline(meeting: TiltedMeeting, splay: Splay, layout: Layout, bit: Bit, options: Tenon) -> Cut:
    """All of A beyond B's face but the tenons, cut through its face."""
    left, right, deep = _reach(meeting, splay)
    depth = float(layout.whole[splay.entry.axis].size)
    path = [(left, 0.0)]
    for tenon in layout.tenons:
        span = tenon[splay.across]
        low, high = float(span.lo), float(span.hi)
        path += [(low, 0.0), (low, depth), (high, depth), (high, 0.0)]
    path += [(right, 0.0), (right, deep), (left, deep)]
    asked = meeting.a.own_region(polygon(tuple(_flat(meeting, splay, p) for p in path)))
    at_foot = options.relief.relief
    if at_foot is Relief.LONG:
        at_foot = Relief.CORNER
    bite = Bite.V if meeting.a.side.plane[0] == splay.along else Bite.U
    region = relieved(asked, meeting.a.limits, float(bit.radius), at_foot, bite)
    return tilted_cut(meeting, meeting.a, asked=asked, region=region, bit=bit)


def _pockets(meeting: TiltedMeeting, splay: Splay, cheeks: Pair, bit: Bit) -> tuple[Cut, ...]:
    """What comes off A's faces, from B's face to A's end."""
    left, right, deep = _reach(meeting, splay)
    path = [(left, 0.0), (right, 0.0), (right, deep), (left, deep)]
    region = meeting.a.own_region(polygon(tuple(_flat(meeting, splay, p) for p in path)))
    top = meeting.a.side
    return tuple(
        replace(
            tilted_cut(meeting, meeting.a, asked=region, region=region, bit=bit, depth=off),
            side=side,
        )
        for side, off in ((top.opposite, cheeks[0]), (top, cheeks[1]))
        if off
    )


def _carried(meeting: TiltedMeeting, cuts: tuple[Cut, ...]) -> tuple[Cut, ...]:
    """Holes and saw cuts through the upright board's face, carried over to A's."""
    leaf = meeting.b

    def own(region: Region) -> Region:
        return moved(region, leaf.here.point, mirrored=leaf.here.mirrors)

    return tuple(
        replace(cut, side=meeting.a.side, region=own(cut.region), asked=own(cut.asked))
        for cut in cuts
        if cut.board == meeting.a.name
        and cut.side.axis == leaf.axis
        and (cut.work is Work.BORE or cut.by_hand)
    )


def _reach(meeting: TiltedMeeting, splay: Splay) -> tuple[float, float, float]:
    """Left, right and below of all of A that lies beyond B's face, and air round it."""
    xs = [x for x, _ in splay.ends] + [splay.low, splay.high]
    deepest = max(depth for _, depth in splay.ends)
    return min(xs) - AIR, max(xs) + AIR, deepest + AIR


def _flat(meeting: TiltedMeeting, splay: Splay, point: Point2) -> Point2:
    """A point given by x and depth, in the meeting's plane."""
    out, face = 1.0 if splay.entry.positive else -1.0, float(meeting.b.part.face(splay.entry))
    height = face - out * point[1]
    first = meeting.b.side.plane[0] == splay.across
    return meeting.b.here.point((point[0], height) if first else (height, point[0]))
