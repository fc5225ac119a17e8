"""Dowels: `A to B with dowels`.

Boards that touch are held by round pins: a row of holes in each, opposite one another, in the
middle of A's end or edge (of the board that does not lie flat there). The holes are drilled, or cut
round and round with a straight bit no wider. Every dowel is listed beside the boards.

Defaults. `diameter` the largest of 5, 6, 8, 10, 12, 16 mm that is at most half as thick as the
thinner board (a third to a half: common practice). `deep` into each board two diameters, or whole
millimetres that leave 3 mm or more under the hole, both together a length that dowels are sold in.
`every` about 100 mm, two dowels at least, the outer ones `inset` two diameters from the ends of
what the boards share. `gap` 1 mm of room for glue at both ends together. `fit` 0: holes as wide as
the dowel (all common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..crossing_findings import BoreBreaksOut, PiecesCrowd
from ..cuts import Cut, Hardware, Side, Ware, Work
from ..design import Verb
from ..finding import Finding, Outcome
from ..region import disc
from ..thresholds import LEAST_TONGUE
from .bits import drilling
from .drawn import Tool, drawn_cut, in_plane
from .family import Contact, Family, JointCuts
from .meeting import Meeting, Part
from .options import NamedBit, Reading, above_zero, bit_named, length, whole_number, written_at
from .spline import Touch, touch_of

FIT = length("fit", Fraction(0), "0mm", "width of the holes less that of the dowel")
DIAMETER = above_zero("diameter", None, "up to half the thinner board", "how wide the dowels are")
COUNT = whole_number("count", None, "from `every`", "how many dowels", least=1)
EVERY = above_zero("every", Fraction(100), "100mm", "about how far dowels are apart at most")
INSET = length("inset", None, "two diameters", "from the boards' ends to the outer dowels' middle")
DEEP = above_zero("deep", None, "two diameters", "how far a dowel enters each board")
GAP = length("gap", Fraction(1), "1mm", "room left at the dowel's two ends together")
BIT = bit_named(
    "bit", "the drill, or the straight bit that goes round in the hole", "a drill of that size"
)

USUAL = tuple(map(Fraction, (5, 6, 8, 10, 12, 16)))
"""Diameters sold, mm (common practice)."""

STEP_SOLD = Fraction(5)
"""Dowels are sold in lengths of so many mm and their multiples (common practice)."""

LEAST_UNDER = Fraction(LEAST_TONGUE)
"""Wood left under a hole and beside it, mm: the least tongue that a bit does not chip."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowels:
    """Lengths in mm; None for the default."""

    fit: Fraction
    diameter: Fraction | None
    count: int | None
    every: Fraction
    inset: Fraction | None
    deep: Fraction | None
    gap: Fraction
    bit: NamedBit | None


def _read(reading: Reading) -> Dowels:
    reading.not_both(COUNT, EVERY)
    return Dowels(
        fit=reading.take(FIT),
        diameter=reading.take(DIAMETER),
        count=reading.take(COUNT),
        every=reading.take(EVERY),
        inset=reading.take(INSET),
        deep=reading.take(DEEP),
        gap=reading.take(GAP),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: Dowels) -> Outcome[JointCuts]:
    touch = touch_of(meeting)
    if isinstance(touch, Finding):
        return Outcome(None, (touch,))
    thinner = min(part.stock.thick for part in (meeting.a, meeting.b))
    diameter = options.diameter or usual_diameter(thinner)
    hole = diameter + options.fit
    wrong = too_wide(meeting, touch, hole, DIAMETER.name)
    if wrong is not None:
        return Outcome(None, (wrong,))
    deep = _depths(meeting, touch, diameter, options)
    if isinstance(deep, Finding):
        return Outcome(None, (deep,))
    inset = options.inset if options.inset is not None else 2 * diameter
    row = spots(meeting, touch, Row(options.count, options.every, inset, 2 * hole))
    if isinstance(row, Finding):
        return Outcome(None, (row,))
    picked = drilling(meeting, options.bit, hole, max(deep))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    tool = Tool(picked.bit.name, picked.bit.by_hand)
    cuts = [
        bored(meeting, touch, side, at, (Hole(hole, depth), tool))
        for side, depth in zip((touch.side, touch.side.opposite), deep, strict=True)
        for at in row
    ]
    long = sum(deep, Fraction(0)) - options.gap
    dowels = Hardware(ware=Ware.DOWEL, sizes=(diameter, long), count=len(row), joint=meeting.name)
    made = JointCuts(
        cuts=tuple(cuts),
        hardware=(dowels,),
        bit=picked.bit.name,
        bit_chosen=picked.chosen,
    )
    return Outcome(made)


def usual_diameter(thick: Fraction) -> Fraction:
    """The largest dowel sold that is at most half of `thick`; the smallest where none is.

    >>> usual_diameter(Fraction(18)), usual_diameter(Fraction(12)), usual_diameter(Fraction(6))
    (Fraction(8, 1), Fraction(6, 1), Fraction(5, 1))
    """
    return max((d for d in USUAL if 2 * d <= thick), default=USUAL[0])


def too_wide(meeting: Meeting, touch: Touch, hole: Fraction, option: str) -> Finding | None:
    """A hole in the middle of what the boards share leaves wood on either side."""
    for part in (meeting.a, meeting.b):
        middle = _middle(meeting, touch.across)
        span = part.box[touch.across]
        most = 2 * (min(middle - span.lo, span.hi - middle) - LEAST_UNDER)
        if hole > most:
            return _breaks_out(meeting, part, (option, True), hole, most)
    return None


def _breaks_out(
    meeting: Meeting, part: Part, what: tuple[str, bool], asked: Fraction, most: Fraction
) -> Finding:
    option, across = what
    return BoreBreaksOut(
        place=meeting.option_place(option),
        board=part.name,
        mate=(meeting.b if part is meeting.a else meeting.a).name,
        family=meeting.join.family,
        option=option,
        across=across,
        asked=asked,
        most=max(most, Fraction(0)),
        board_place=part.board.place,
        value_place=written_at(meeting.join, option),
    )


def _middle(meeting: Meeting, axis: Axis) -> Fraction:
    span = meeting.overlap[axis]
    return (span.lo + span.hi) / 2


def _depths(
    meeting: Meeting, touch: Touch, diameter: Fraction, options: Dowels
) -> tuple[Fraction, Fraction] | Finding:
    """How deep the holes go into A and B; each takes half of the gap."""
    found = []
    for part in (meeting.a, meeting.b):
        most = part.box[touch.side.axis].size - LEAST_UNDER - options.gap / 2
        deep = options.deep or min(2 * diameter, Fraction(max(int(most) - 1, 1)))
        if deep > most:
            return _breaks_out(meeting, part, (DEEP.name, False), deep, most)
        found.append(deep)
    if options.deep is None:
        found = _of_a_length_sold(found)
    return found[0] + options.gap / 2, found[1] + options.gap / 2


def _of_a_length_sold(deep: list[Fraction]) -> list[Fraction]:
    """The depths with the greater taken back so far that both make whole fives of millimetres.

    >>> _of_a_length_sold([Fraction(20), Fraction(18)])
    [Fraction(17, 1), Fraction(18, 1)]
    """
    over = sum(deep, Fraction(0)) % STEP_SOLD
    longer = deep.index(max(deep))
    if over >= deep[longer]:
        return deep
    return [d - over if i == longer else d for i, d in enumerate(deep)]


@dataclass(frozen=True, slots=True)
class Row:
    """How pieces stand in a row: so many, or about so far apart; the outer ones `inset` from the
    ends; `apart` is the least from middle to middle."""

    count: int | None
    every: Fraction
    inset: Fraction
    apart: Fraction


def spots(meeting: Meeting, touch: Touch, row: Row) -> tuple[Fraction, ...] | Finding:
    """Where the pieces stand along the run, evenly spaced; one alone in the middle."""
    span = meeting.overlap[touch.run]
    room = span.size - 2 * row.inset
    most = 1 + max(int(room / row.apart), 0) if room >= 0 else (1 if span.size > row.apart else 0)
    count = row.count if row.count is not None else min(max(2, 1 + -int(-room // row.every)), most)
    if count > most or count < 1:
        return PiecesCrowd(
            place=meeting.option_place(COUNT.name if row.count is not None else INSET.name),
            family=meeting.join.family,
            option=COUNT.name,
            count=max(count, 1),
            most=most,
            room=max(room, Fraction(0)),
            apart=row.apart,
            value_place=written_at(meeting.join, COUNT.name),
        )
    if count == 1:
        return ((span.lo + span.hi) / 2,)
    return tuple(span.lo + row.inset + i * room / (count - 1) for i in range(count))


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole: its diameter, and its depth or None for right through."""

    diameter: Fraction
    depth: Fraction | None


def bored(meeting: Meeting, touch: Touch, side: Side, at: Fraction, how: tuple[Hole, Tool]) -> Cut:
    """A hole from `side` of the board that touches there, in the middle of what the boards share,
    `at` so far along the run."""
    hole, tool = how
    part = meeting.a if side == touch.side else meeting.b
    point = in_plane(side, touch.run, float(at), float(_middle(meeting, touch.across)))
    return drawn_cut(
        meeting,
        part,
        side,
        disc(point, float(hole.diameter) / 2),
        depth=hole.depth,
        tool=tool,
        work=Work.BORE,
    )


DOWELS = Family(
    name="dowels",
    title="dowels",
    words="round pins in holes of both boards",
    verbs=(Verb.TO,),
    options=(FIT, DIAMETER, COUNT, EVERY, INSET, DEEP, GAP, BIT),
    read=_read,
    cut=_cut,
    contact=Contact.TOUCHING,
)
