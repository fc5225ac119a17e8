"""Mortise and tenon: `A into B with tenon`.

A's end enters B as far as their boxes overlap; B gets a mortise in the face A comes in by. The
mortise goes through where A's end reaches B's far face, and the tenon stands proud where A's box
goes on beyond it. `cheeks` are the shoulders on A's faces, `edges` those on A's edges, each from
A's own surface (so the tenon follows the thickness delivered); `thick` and `width` ask for a tenon
of that size in the middle instead. With neither the whole section enters.

Relief. The mortise's corners are relieved, or lengthened along A's width, or left round and the
tenon's four long edges rounded. The corner at the foot of each edge shoulder is an inside corner of
A: it is relieved as the mortise is, and at the corner where the mortise has no relief of its own to
share (`long`, `half_round`).

Defaults. `fit` 0.1 mm in all, across both the thickness and the width: 0.13 mm (0.005 in) in all
is the published figure for a tenon (Fine Woodworking, Jan/Feb 2017, as quoted). `gap` 1 mm under a
blind tenon's end for glue; up to 3.2 mm (1/8 in) is usual in hand work. Tenon thickness of a third
of the stock and shoulders of 3 to 6 mm are usual in solid wood (common practice); sheet parts
mostly enter whole, which is the default.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Axis, Box
from ..cuts import Cut, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import LiesFlat, NoTenonLeft, NothingLeftUnder, NoWayIn, WrongSize
from ..relief import Relief
from ..thresholds import SAME
from .bits import pick
from .carve import (
    Bench,
    Socket,
    Step,
    Wall,
    closed_sides,
    demand,
    dug,
    finished,
    plays,
    rounded,
    stepped,
)
from .channel import opens_at_edge
from .family import Family, JointCuts
from .meeting import Meeting, at, both_sides, moved, other_axis, with_face
from .options import (
    NamedBit,
    OptionSpec,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    length,
    pair_of_lengths,
    relief,
)

Pair = tuple[Fraction, Fraction]

FIT = length("fit", Fraction(1, 10), "0.1mm", "size of the mortise less that of the tenon")
GAP = length("gap", Fraction(1), "1mm", "room left under a blind tenon's end")
CHEEKS = pair_of_lengths("cheeks", "shoulders on A's two faces, or a list of both")
EDGES = pair_of_lengths("edges", "shoulders on A's two edges, or a list of both")
THICK = above_zero("thick", None, "A's thickness", "thickness of a tenon in the middle")
WIDTH = above_zero("width", None, "A's width", "width of a tenon in the middle")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts mortise and shoulders")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenon:
    """Lengths in mm; `cheeks` and `edges` None where `thick` and `width` decide, if anything."""

    fit: Fraction
    gap: Fraction
    cheeks: Pair | None
    edges: Pair | None
    thick: Fraction | None
    width: Fraction | None
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> Tenon:
    reading.not_both(CHEEKS, THICK)
    reading.not_both(EDGES, WIDTH)
    return Tenon(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        cheeks=reading.take(CHEEKS),
        edges=reading.take(EDGES),
        thick=reading.take(THICK),
        width=reading.take(WIDTH),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: Tenon) -> Outcome[JointCuts]:
    entry = _entry(meeting)
    if isinstance(entry, Finding):
        return Outcome(None, (entry,))
    shoulders = _shoulders(meeting, entry, options)
    if isinstance(shoulders, Finding):
        return Outcome(None, (shoulders,))
    mortise = _mortise(meeting, entry, shoulders, options)
    if isinstance(mortise, Finding):
        return Outcome(None, (mortise,))
    picked = pick(meeting, options.bit, options.relief, demand(mortise))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    hollow = dug(bench, mortise)
    if isinstance(hollow, Finding):
        return Outcome(None, (hollow,))
    cut_off = _cut_off(bench, entry, shoulders)
    matings = plays(meeting, mortise, options.fit)
    if options.relief.relief is Relief.LONG:
        run = meeting.a.own.axis(mortise.run)[0]
        matings = tuple(mating for mating in matings if mating.axis != run)
    return finished(bench, (hollow, *cut_off, *rounded(bench, mortise)), matings)


def _entry(meeting: Meeting) -> Side | Finding:
    """The side of B that A comes in by: where A goes on farthest beyond B, its length first."""
    a, b = meeting.a, meeting.b

    def rank(side: Side) -> tuple[bool, Fraction, bool]:
        return (side.axis == a.length, a.beyond(side, b), side.positive)

    ways = [s for axis in Axis for s in both_sides(axis) if a.beyond(s, b) > SAME]
    ends = [side for side in ways if side.axis != a.thick]
    if ends:
        return max(ends, key=rank)
    place, family = meeting.place, meeting.join.family
    if not ways:
        return NoWayIn(place=place, board=a.name, mate=b.name, family=family)
    axis = a.own.axis(a.thick)[0]
    return LiesFlat(place=place, board=a.name, mate=b.name, family=family, axis=axis)


@dataclass(frozen=True, slots=True)
class _Shoulders:
    """How much comes off A's faces and edges, and the axes these face along."""

    thick: Axis
    cheeks: Pair
    wide: Axis
    edges: Pair


def _shoulders(meeting: Meeting, entry: Side, options: Tenon) -> _Shoulders | Finding:
    a = meeting.a
    wide = other_axis(entry.axis, a.thick)
    taken = []
    for axis, pair, size, names in (
        (a.thick, options.cheeks, options.thick, (CHEEKS, THICK)),
        (wide, options.edges, options.width, (EDGES, WIDTH)),
    ):
        both = _both_shoulders(meeting, axis, pair, size, names)
        if isinstance(both, Finding):
            return both
        taken.append(both)
    return _Shoulders(a.thick, taken[0], wide, taken[1])


def _both_shoulders(
    meeting: Meeting,
    axis: Axis,
    pair: Pair | None,
    size: Fraction | None,
    names: tuple[OptionSpec[Pair | None], OptionSpec[Fraction | None]],
) -> Pair | Finding:
    """The shoulders at A's low and high side along an axis."""
    whole = meeting.a.box[axis].size
    if size is not None:
        if size <= whole:
            return (whole - size) / 2, (whole - size) / 2
        return WrongSize(
            place=meeting.option_place(names[1].name),
            option=names[1].name,
            board=meeting.a.name,
            value=size,
            size=whole,
        )
    low, high = pair or (Fraction(0), Fraction(0))
    if low + high < whole:
        return low, high
    return NoTenonLeft(
        place=meeting.option_place(names[0].name),
        option=names[0].name,
        board=meeting.a.name,
        size=whole,
        shoulders=low + high,
    )


def _mortise(
    meeting: Meeting, entry: Side, shoulders: _Shoulders, options: Tenon
) -> Socket | Finding:
    a, b = meeting.a, meeting.b
    wood = _with_span(meeting.overlap, a.box, shoulders.thick, shoulders.cheeks)
    wood = _with_span(wood, a.box, shoulders.wide, shoulders.edges)
    through = b.reaches(entry.opposite, wood)
    closed = closed_sides(b, entry, wood)
    for axis in entry.plane:
        for edge in both_sides(axis):
            if edge not in closed:
                return opens_at_edge(meeting, edge)
    longer = max((shoulders.wide, shoulders.thick), key=lambda axis: wood[axis].size)
    mortise = Socket(
        host=b,
        guest=a,
        side=entry,
        wood=wood,
        walls=tuple(Wall(edge, options.fit / 2) for edge in closed),
        run=longer,
        gap=options.gap,
        through=through,
    )
    if not through and mortise.depth >= b.box[entry.axis].size:
        return NothingLeftUnder(
            place=meeting.option_place(GAP.name),
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            axis=b.own.axis(entry.axis)[0],
            depth=mortise.depth,
            gap=options.gap,
            board_place=a.board.place,
        )
    return mortise


def _with_span(box: Box, section: Box, axis: Axis, taken: Pair) -> Box:
    """`box` with the span of A's section along `axis`, less what is taken at its two sides."""
    low, high = both_sides(axis)
    for side, off in ((low, taken[0]), (high, taken[1])):
        box = moved(with_face(box, side, at(section, side)), side, -off)
    return box


def _cut_off(bench: Bench, entry: Side, shoulders: _Shoulders) -> tuple[Cut, ...]:
    """What comes off A's end: a pocket for each cheek, a notch for each edge."""
    a, b = bench.meeting.a, bench.meeting.b
    end = with_face(a.box, entry, b.face(entry))
    round_mortise = bench.relief in (Relief.LONG, Relief.HALF_ROUND)
    at_foot = Relief.CORNER if round_mortise else bench.relief
    cuts = []
    for axis, pair in ((shoulders.thick, shoulders.cheeks), (shoulders.wide, shoulders.edges)):
        is_cheek = axis == a.thick
        own_bench = replace(bench, relief=Relief.NONE if is_cheek else at_foot)
        for side, off in zip(both_sides(axis), pair, strict=True):
            if off == 0:
                continue
            box = moved(with_face(end, side.opposite, at(end, side)), side.opposite, off)
            face = side if is_cheek else Side(a.thick, True)
            step = Step(host=a, mate=b, side=face, box=box, run=entry.axis)
            cuts.append(stepped(own_bench, step))
    return tuple(cuts)


TENON = Family(
    name="tenon",
    title="mortise and tenon",
    words="A's end, shouldered if asked, enters a mortise in B",
    verbs=(Verb.INTO,),
    options=(FIT, GAP, CHEEKS, EDGES, THICK, WIDTH, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
