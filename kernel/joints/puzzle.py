"""Puzzle joint: `A to B with puzzle`, for parts longer than the machine.

Two boards in one plane, flush and end to end, overlap by the length of the knobs. A's end has round
knobs on necks, B's the sockets; they go together across their thickness and cannot be pulled apart.
With L what the boards share, every curve has the radius q = L / 3, so a bit up to that goes round
all of it and no corner needs a relief:

    the knob is a disc of radius q whose middle is 2 q from the line where the ends close
    the neck is left by discs of radius q that touch the knob and the line, sqrt(3) q to its sides

At its narrowest the neck is 2 (sqrt(3) - 1) q = 1.46 q wide, the knob 2 q: 0.27 q holds a side.

Fit. Each board's outline stands a quarter of `fit` back, so that a knob is `fit` narrower than its
socket everywhere.

Defaults. As many knobs as leave about two knobs' widths from one to the next, one at least.
`fit` 0.15 mm (plywood over the measured thickness: 0.15 to 0.3, common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..crossing_findings import NotEndToEnd, PiecesCrowd
from ..cuts import Cut, Mating, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import WrongSize
from ..region import Arc, Edge, Line, Loop, Point2, Region, reversed_loop
from ..region import moved as region_moved
from ..relief import Relief
from ..thresholds import OVERSHOOT, SAME
from .bits import Demand, pick
from .drawn import Tool, drawn_cut, in_plane
from .family import Family, JointCuts
from .meeting import Meeting, Part, both_sides, other_axis
from .options import NamedBit, Reading, ReliefAsked, bit_named, length, whole_number, written_at

FIT = length("fit", Fraction(3, 20), "0.15mm", "width of each socket less that of its knob")
KNOBS = whole_number("knobs", None, "as many as fit well", "how many knobs A has", least=1)
BIT = bit_named("bit", "the straight bit that cuts the outline")

ROOT3 = math.sqrt(3.0)


@dataclass(frozen=True, slots=True)
class Puzzle:
    fit: Fraction
    knobs: int | None
    bit: NamedBit | None


def _read(reading: Reading) -> Puzzle:
    return Puzzle(reading.take(FIT), reading.take(KNOBS), reading.take(BIT))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The knobs in the plane of the boards' faces: s runs from the line where the ends close into
    B, across A's width from `low` to `high`. `out` is +1 where s runs along the axis `run`."""

    run: Axis
    line: float
    out: float
    low: float
    high: float
    radius: float
    middles: tuple[float, ...]


def _cut(meeting: Meeting, options: Puzzle) -> Outcome[JointCuts]:
    row = _row(meeting, options)
    if isinstance(row, Finding):
        return Outcome(None, (row,))
    fit = float(options.fit)
    neck = Fraction(round((2 * (ROOT3 - 1) * row.radius + fit / 2) * 1000), 1000)
    need = Demand(narrowest=neck, deepest=meeting.a.box[meeting.a.thick].size)
    picked = pick(meeting, options.bit, ReliefAsked(Relief.NONE), need)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    tool = Tool(picked.bit.name)
    cuts = (
        _outline(meeting, meeting.a, row, -fit / 4, tool),
        _outline(meeting, meeting.b, row, fit / 4, tool),
    )
    made = JointCuts(
        cuts=cuts,
        matings=(_play(meeting, row, options.fit),),
        bit=picked.bit.name,
        bit_chosen=picked.chosen,
    )
    return Outcome(made)


def _row(meeting: Meeting, options: Puzzle) -> Row | Finding:
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    run = a.length
    ways = [s for s in both_sides(run) if b.beyond(s, a) > SAME and a.beyond(s.opposite, b) > SAME]
    wide = other_axis(run, a.thick)
    flush = all(a.box[axis] == b.box[axis] for axis in (a.thick, wide))
    if a.thick != b.thick or not ways or not flush:
        return NotEndToEnd(
            place=meeting.place, board=a.name, mate=b.name, family=meeting.join.family
        )
    if options.fit > shared[run].size / 3:  # the two curves would no longer follow each other
        return WrongSize(
            place=meeting.option_place(FIT.name),
            option=FIT.name,
            board=a.name,
            value=options.fit,
            size=shared[run].size / 3,
        )
    way = ways[0]
    span, across = shared[run], shared[wide]
    radius = float(span.size) / 3
    count = _count(meeting, options, across.size, span.size / 3)
    if isinstance(count, Finding):
        return count
    pitch = float(across.size) / count
    return Row(
        run=run,
        line=float(span.lo if way.positive else span.hi),
        out=1.0 if way.positive else -1.0,
        low=float(across.lo),
        high=float(across.hi),
        radius=radius,
        middles=tuple(float(across.lo) + (i + 0.5) * pitch for i in range(count)),
    )


APART = Fraction(48, 10)
"""Knob to knob, in radii: the discs that leave two necks lie beside each other with the width of a
neck between them. Less than 2 sqrt(3) + 0.2 and they would run into each other."""

LEAST_APART = Fraction(37, 10)


def _count(meeting: Meeting, options: Puzzle, width: Fraction, radius: Fraction) -> int | Finding:
    most = int(width / (LEAST_APART * radius))
    count = options.knobs if options.knobs is not None else max(1, int(width / (APART * radius)))
    if count <= most:
        return count
    return PiecesCrowd(
        place=meeting.option_place(KNOBS.name),
        family=meeting.join.family,
        option=KNOBS.name,
        count=count,
        most=most,
        room=width,
        apart=LEAST_APART * radius,
        value_place=written_at(meeting.join, KNOBS.name),
    )


# --- the outline ---------------------------------------------------------------------------------


def _outline(meeting: Meeting, host: Part, row: Row, by: float, tool: Tool) -> Cut:
    """What comes off a board: beyond the line and the knobs for A, the line's near side for B.

    The curve is moved `by` along s (that is, out of the knob for a positive `by`).
    """
    is_a = host is meeting.a
    face = Side(host.thick, True)
    curve = _curve(row, by)
    far = 3 * row.radius + OVERSHOOT if is_a else -OVERSHOOT
    start, end = curve[0].start, curve[-1].end
    back = (
        Line(end, (far, end[1])),
        Line((far, end[1]), (far, start[1])),
        Line((far, start[1]), start),
    )
    # from low to high the curve has A's wood on its left: round what comes off A it runs backwards
    loop: Loop = (*curve, *back)
    region = Region((loop,))
    is_first = face.plane[0] == row.run

    def point(p: Point2) -> Point2:
        return in_plane(face, row.run, row.line + row.out * p[0], p[1])

    # (s, t) -> the plane: mirrored once when s runs down the axis, once when the axes change places
    turned = (row.out < 0) != (not is_first)
    drawn = region_moved(region if not is_a else _flip(region), point, mirrored=turned)
    return drawn_cut(meeting, host, face, drawn, depth=None, tool=tool)


def _flip(region: Region) -> Region:
    return Region(tuple(reversed_loop(loop) for loop in region.loops))


def _curve(row: Row, by: float) -> tuple[Edge, ...]:
    """From below the low edge to above the high one, in (s, t): the line with its knobs."""
    edges: list[Edge] = []
    at: Point2 = (by, row.low - OVERSHOOT)
    for middle in row.middles:
        knob = _knob(row.radius, middle, by)
        edges.append(Line(at, knob[0].start))
        edges.extend(knob)
        at = knob[-1].end
    edges.append(Line(at, (by, row.high + OVERSHOOT)))
    return tuple(edges)


def _knob(q: float, middle: float, by: float) -> tuple[Edge, ...]:
    """The neck's two arcs and the knob's two, at `middle`, from low to high t.

    The neck's discs keep their middles and lose `by`, the knob's gains it.
    """
    side, head = ROOT3 * q, (2 * q, middle)
    low, high = (q, middle - side), (q, middle + side)
    small, large = q - by, q + by
    # disc and knob touch half way between their middles, which are 2 q apart along (q, sqrt(3) q)
    lower = (low[0] + small / 2, low[1] + small * ROOT3 / 2)
    upper = (high[0] + small / 2, high[1] - small * ROOT3 / 2)
    tip = (head[0] + large, middle)
    return (
        Arc((by, low[1]), lower, low, False),
        Arc(lower, tip, head, True),
        Arc(tip, upper, head, True),
        Arc(upper, (by, high[1]), high, False),
    )


def _play(meeting: Meeting, row: Row, fit: Fraction) -> Mating:
    a, b = meeting.a, meeting.b
    across = other_axis(row.run, a.thick)
    knob = 2 * row.radius - float(fit) / 2
    return Mating(
        joint=meeting.name,
        part=a.name,
        socket=b.name,
        axis=a.own.axis(across)[0],
        socket_axis=b.own.axis(across)[0],
        socket_size=knob + float(fit),
        part_size=knob,
        asked=float(fit),
        leans=True,
        place=meeting.join.place,
    )


PUZZLE = Family(
    name="puzzle",
    title="puzzle joint",
    words="round knobs hold two boards end to end, for parts longer than the machine",
    verbs=(Verb.TO,),
    options=(FIT, KNOBS, BIT),
    read=_read,
    cut=_cut,
)
