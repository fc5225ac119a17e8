"""Sliding dovetail: `A into B with dovetail`.

A's end gets a tail along its whole width, B a slot of the same section across its face, as deep as
their boxes overlap; A slides in along the slot from the edge that the slot comes to. Both are cut
with one dovetail bit: the slot from B's face, the tail from A's end, standing. `shoulder` sets the
tail back from A's faces; `taper` makes the slot so much wider where A slides in, and the tail with
it, so that it draws tight only home. Where A ends inside B, or `stop` says so, the slot ends in the
bit's round and the tail is cut back to clear it, hidden under A.

In the plane of B's face, with z the depth below it, walls lean by the bit's angle a: at the floor
the slot is wider by 2 z tan a. Sizes are set at the mouth, where shoulders hide them:

    tail there    t - 2 shoulder - 2 d tan a    for thickness t and A's entry d
    slot there    fit more

Defaults. `fit` 0.1 mm across: what a glued slip joint takes in solid wood (0.1 to 0.2 mm, common
practice). `gap` 0.2 mm under the tail, so that the shoulders close. A slope of 1:8 (7.1 degrees) in
hardwood and 1:6 (9.5) in softwood is usual by hand, router bits are mostly 14 degrees (common
practice). `taper` 1.5 to 3 mm over a wide board eases it in (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Axis
from ..crossing_findings import DovetailTooDeep, NoOpenEnd
from ..cuts import Cut, Mating, Side
from ..cutter import Bit, BitKind
from ..design import Verb
from ..finding import Finding, Outcome
from ..findings import SocketNarrowerThanBit
from ..joint_findings import StopTakesAll, WrongSize
from ..region import Arc, Edge, Line, Loop, Point2, Region
from ..region import moved as region_moved
from ..thresholds import OVERSHOOT, SAME
from .bits import of_kind
from .carve import closed_sides
from .channel import entering, opens_at_edge
from .drawn import Tool, drawn_cut, in_plane, polygon
from .family import Family, JointCuts
from .meeting import Meeting, both_sides, other_axis
from .options import NamedBit, Reading, Stops, bit_named, length, stops

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the slot less that of the tail")
GAP = length("gap", Fraction(1, 5), "0.2mm", "room left under the tail")
SHOULDER = length(
    "shoulder", Fraction(0), "0mm", "how far the tail's end is set back from A's faces"
)
TAPER = length("taper", Fraction(0), "0mm", "how much wider slot and tail are where A slides in")
STOP = stops("stop", "how far short of A's edge the slot stops: `lo` or `hi` end")
BIT = bit_named("bit", "the dovetail bit that cuts slot and tail")


@dataclass(frozen=True, slots=True, kw_only=True)
class Dovetail:
    """Lengths in mm."""

    fit: Fraction
    gap: Fraction
    shoulder: Fraction
    taper: Fraction
    stop: Stops
    bit: NamedBit | None


def _read(reading: Reading) -> Dovetail:
    return Dovetail(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        shoulder=reading.take(SHOULDER),
        taper=reading.take(TAPER),
        stop=reading.take(STOP),
        bit=reading.take(BIT),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The joint in the plane of B's face: r along the slot, w across it.

    `low` and `high` are where the slot's straight part and the tail end, None where they run out.
    `middle` is A's mid-plane, `root(r)` half the tail's width at B's face: `half` at the `entry`,
    `narrower` less at the `far` end. `lean` is the tangent of the walls' angle.
    """

    side: Side
    run: Axis
    across: Axis
    middle: float
    entry: float
    far: float
    half: float
    narrower: float
    depth: float
    lean: float
    low: float | None
    high: float | None

    @property
    def slope(self) -> float:
        """Change of the tail's half width per mm of r."""
        return self.narrower / (self.entry - self.far)

    def root(self, r: float) -> float:
        return self.half - (self.entry - r) * self.slope

    def step(self, depth: float) -> float:
        """How much farther out along w a wall lies `depth` below B's face."""
        return depth * self.lean * math.hypot(1.0, self.slope)


def _cut(meeting: Meeting, options: Dovetail) -> Outcome[JointCuts]:
    side = entering(meeting)
    if isinstance(side, Finding):
        return Outcome(None, (side,))
    bits = of_kind(meeting, options.bit, BitKind.DOVETAIL)
    if isinstance(bits, Finding):
        return Outcome(None, (bits,))
    tried = [(bit, _plan_for(meeting, side, options, bit)) for bit in bits]
    bit, plan = next((both for both in tried if isinstance(both[1], Plan)), tried[-1])
    if isinstance(plan, Finding):
        return Outcome(None, (plan,))
    cuts = (_slot(meeting, plan, options, bit), *_tail(meeting, plan, bit))
    made = JointCuts(
        cuts=cuts,
        matings=(_play(meeting, plan, options),),
        bit=bit.name,
        bit_chosen=options.bit is None,
    )
    return Outcome(made)


def _plan_for(meeting: Meeting, side: Side, options: Dovetail, bit: Bit) -> Plan | Finding:
    """The joint as this bit cuts it, or why it does not."""
    plan = _plan(meeting, side, options, bit)
    if isinstance(plan, Finding):
        return plan
    return (
        _too_deep(meeting, plan, options, bit) or _too_narrow(meeting, plan, options, bit) or plan
    )


def _plan(meeting: Meeting, side: Side, options: Dovetail, bit: Bit) -> Plan | Finding:
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    across, run = a.thick, other_axis(side.axis, a.thick)
    closed = closed_sides(b, side, shared)
    for edge in both_sides(across):
        if edge not in closed:
            return opens_at_edge(meeting, edge)
    whole = a.box[across].size
    if 2 * options.shoulder >= whole:
        return WrongSize(
            place=meeting.option_place(SHOULDER.name),
            option=SHOULDER.name,
            board=a.name,
            value=options.shoulder,
            size=whole / 2,
        )
    ends = _ends(meeting, run, closed, options.stop, float(bit.radius))
    if isinstance(ends, Finding):
        return ends
    low, high = ends
    span = shared[run]
    entry, far = (span.hi, span.lo) if high is None else (span.lo, span.hi)
    lean = math.tan(math.radians(float(bit.angle or 0)))
    plan = Plan(
        side=side,
        run=run,
        across=across,
        middle=float(a.box[across].lo + a.box[across].hi) / 2,
        entry=float(entry),
        far=float(far),
        half=0.0,
        narrower=float(options.taper) / 2,
        depth=float(shared[side.axis].size),
        lean=lean,
        low=low,
        high=high,
    )
    return replace(plan, half=float(whole / 2 - options.shoulder) - plan.step(plan.depth))


def _ends(
    meeting: Meeting, run: Axis, closed: tuple[Side, ...], stop: Stops, radius: float
) -> tuple[float | None, float | None] | Finding:
    """Where the straight part of the slot ends at its low and high end; None where it runs out.

    The bit's round goes on from there, and not past A's edge or the stop asked for.
    """
    a, b, span = meeting.a, meeting.b, meeting.overlap[run]
    found: list[float | None] = []
    for edge, asked in zip(both_sides(run), (stop.lo, stop.hi), strict=True):
        if asked is None and edge not in closed:
            found.append(None)
            continue
        inward = float(asked or 0) + radius
        found.append(float(span.hi) - inward if edge.positive else float(span.lo) + inward)
    low, high = found
    if low is not None and high is not None:
        return NoOpenEnd(place=meeting.place, board=a.name, mate=b.name, board_place=a.board.place)
    if (float(span.lo) if low is None else low) >= (float(span.hi) if high is None else high):
        return StopTakesAll(
            place=meeting.option_place(STOP.name),
            stops=(stop.lo or Fraction(0)) + (stop.hi or Fraction(0)) + Fraction(radius),
            length=span.size,
        )
    return low, high


def _too_deep(meeting: Meeting, plan: Plan, options: Dovetail, bit: Bit) -> Finding | None:
    """Nothing left of the bit's neck or of the tail at B's face."""
    slot = Fraction(plan.depth) + options.gap
    neck = float(bit.radius) - float(slot) * plan.lean
    root = min(plan.root(plan.entry), plan.root(plan.far))
    if neck > 0 and root > 0:
        return None
    of_tail = neck > 0
    most = float(bit.radius) / plan.lean - float(options.gap)
    if of_tail:
        most = plan.depth + root / plan.step(1.0)
    return DovetailTooDeep(
        place=meeting.place,
        board=meeting.a.name,
        mate=meeting.b.name,
        bit=bit.name,
        angle=bit.angle or Fraction(0),
        depth=Fraction(plan.depth),
        most=max(most, 0.0),
        of_tail=of_tail,
        bit_place=bit.place,
    )


def _too_narrow(meeting: Meeting, plan: Plan, options: Dovetail, bit: Bit) -> Finding | None:
    deep = plan.depth + float(options.gap)
    least = min(plan.root(plan.entry), plan.root(plan.far)) + plan.step(deep)
    width = 2 * least + float(options.fit)
    if width * math.cos(math.atan(plan.slope)) >= 2 * float(bit.radius) - SAME:
        return None
    return SocketNarrowerThanBit(
        place=options.bit.place if options.bit is not None else meeting.join.family_place,
        joint=meeting.name,
        family=meeting.join.family,
        width=Fraction(round(width * 1000), 1000),
        bit=bit.name,
        diameter=bit.diameter,
        named=options.bit is not None,
        bit_place=bit.place,
    )


# --- the slot ------------------------------------------------------------------------------------


def _slot(meeting: Meeting, plan: Plan, options: Dovetail, bit: Bit) -> Cut:
    """The centre of the bit runs over a trapezoid; mouth and floor are that spread by the bit's
    radius there."""
    deep = Fraction(plan.depth) + options.gap
    radius = float(bit.radius)
    neck = radius - float(deep) * plan.lean
    stretch = math.hypot(1.0, plan.slope)
    ends = []
    for edge, end in zip(both_sides(plan.run), (plan.low, plan.high), strict=True):
        past = OVERSHOOT if edge.positive else -OVERSHOOT
        r = float(meeting.b.face(edge)) + past if end is None else end
        ends.append((r, max(plan.root(r) + float(options.fit) / 2 - neck * stretch, 0.0), end))
    (r0, p0, low), (r1, p1, high) = ends

    def spread(by: float) -> Region:
        loop = _spread((r0, p0, low is not None), (r1, p1, high is not None), by)
        return _placed(plan, loop)

    return drawn_cut(
        meeting,
        meeting.b,
        plan.side,
        spread(neck),
        floor=spread(radius),
        depth=deep,
        tool=Tool(bit.name, bit.by_hand),
    )


End = tuple[float, float, bool]


def _spread(low: End, high: End, by: float) -> Loop:
    """All within `by` of the trapezoid with half widths at two places along r, counterclockwise;
    an end is rounded off, or cut square at its place where it lies in air."""
    (r0, p0, _), (r1, p1, _) = low, high
    slope = (p1 - p0) / (r1 - r0)
    stretch = math.hypot(1.0, slope)
    normal = (-slope / stretch * by, by / stretch)  # of the wall on the positive side

    def corner(end: End) -> Point2:
        r, p, is_round = end
        return (r + normal[0], p + normal[1]) if is_round else (r, p + by * stretch)

    up0, up1 = corner(low), corner(high)
    edges: list[Edge] = [Line((up0[0], -up0[1]), (up1[0], -up1[1]))]
    edges += _end(high, up1, by, 1.0)
    edges.append(Line(up1, up0))
    edges += _end(low, up0, by, -1.0)
    return tuple(edges)


def _end(end: End, up: Point2, by: float, outward: float) -> list[Edge]:
    """From one wall round the end to the other, counterclockwise."""
    r, p, is_round = end
    start, stop = ((up[0], -up[1] * outward), (up[0], up[1] * outward))
    if not is_round:
        return [Line(start, stop)]
    first, last = (r, -p * outward), (r, p * outward)
    tips = (first[0] + outward * by, first[1]), (last[0] + outward * by, last[1])
    arcs = Arc(start, tips[0], first, True), Arc(tips[1], stop, last, True)
    return [arcs[0], Line(*tips), arcs[1]] if p > SAME else [arcs[0], arcs[1]]


def _placed(plan: Plan, loop: Loop) -> Region:
    """A loop drawn with r first and w from A's middle, in the plane of the side."""
    is_first = plan.side.plane[0] == plan.run

    def point(p: Point2) -> Point2:
        return in_plane(plan.side, plan.run, p[0], plan.middle + p[1])

    return region_moved(Region((loop,)), point, mirrored=not is_first)


# --- the tail ------------------------------------------------------------------------------------


def _tail(meeting: Meeting, plan: Plan, bit: Bit) -> tuple[Cut, ...]:
    """What comes off A's end, standing: a strip beside each cheek, and at a stopped end the wood
    between them. The tail's end is the mouth, its root the floor."""
    a = meeting.a
    end = plan.side.opposite
    low, high = (
        float(a.face(edge)) + (OVERSHOOT if edge.positive else -OVERSHOOT)
        for edge in both_sides(plan.run)
    )
    # a tapered tail that goes on past the slot must not widen out of the room taken beside it
    wider = abs(plan.slope) * float(a.box[plan.run].size)
    outer = float(a.box[plan.across].size) / 2 + OVERSHOOT + wider
    step = plan.depth * plan.lean
    loops = _tail_loops(plan, (low, high), outer)
    return tuple(
        drawn_cut(
            meeting,
            a,
            end,
            _on_end(plan, end, loop(plan.step(plan.depth), 0.0)),
            floor=_on_end(plan, end, loop(0.0, step)),
            depth=Fraction(plan.depth),
            tool=Tool(bit.name, bit.by_hand),
        )
        for loop in loops
    )


def _tail_loops(
    plan: Plan, reach: tuple[float, float], outer: float
) -> tuple[Callable[[float, float], tuple[Point2, ...]], ...]:
    """The corners of each piece that comes off, given how far the cheeks stand out beyond the root
    and how far the tail's stopped end stands back."""
    low, high = reach

    def cheek(r: float, wider: float) -> float:
        return plan.root(r) + wider

    if plan.low is None and plan.high is None:

        def strip(sign: float) -> Callable[[float, float], tuple[Point2, ...]]:
            return lambda wider, _: (
                (low, sign * cheek(low, wider)),
                (high, sign * cheek(high, wider)),
                (high, sign * outer),
                (low, sign * outer),
            )

        return strip(1.0), strip(-1.0)
    stopped, back, air, free = (
        (plan.low, 1.0, low, high) if plan.low is not None else (plan.high, -1.0, high, low)
    )

    def horseshoe(wider: float, back_by: float) -> tuple[Point2, ...]:
        tip = (stopped or 0.0) + back * back_by
        return (
            (free, cheek(free, wider)),
            (free, outer),
            (air, outer),
            (air, -outer),
            (free, -outer),
            (free, -cheek(free, wider)),
            (tip, -cheek(tip, wider)),
            (tip, cheek(tip, wider)),
        )

    return (horseshoe,)


def _on_end(plan: Plan, end: Side, points: tuple[Point2, ...]) -> Region:
    return polygon(tuple(in_plane(end, plan.run, r, plan.middle + w) for r, w in points))


def _play(meeting: Meeting, plan: Plan, options: Dovetail) -> Mating:
    a, b = meeting.a, meeting.b
    part = 2 * plan.root(plan.far)
    return Mating(
        joint=meeting.name,
        part=a.name,
        socket=b.name,
        axis=a.own.axis(plan.across)[0],
        socket_axis=b.own.axis(plan.across)[0],
        socket_size=part + float(options.fit),
        part_size=part,
        asked=float(options.fit),
        leans=True,
        place=meeting.join.place,
    )


DOVETAIL = Family(
    name="dovetail",
    title="sliding dovetail",
    words="A's tail slides along a slot in B that holds it",
    verbs=(Verb.INTO,),
    options=(FIT, GAP, SHOULDER, TAPER, STOP, BIT),
    read=_read,
    cut=_cut,
)
