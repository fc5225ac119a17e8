"""Loose tenon: `A to B with loose_tenon`.

Two boards touch, each gets a mortise, and a tenon of its own holds them. The tenon is made stock,
planed to thickness and cut to length, listed beside the boards. It lies in the middle of the board
that does not lie flat there, along its width; `row` sets several side by side.

A tenon that is a board of the design, with a place in the cut list, needs no words of its own:
`board slip …` across the seam and `join slip into a, b with tenon`.

Relief. The mortises are left round at their ends, as the bit leaves them, and the stock's edges
are rounded to match (`none`); or their corners are relieved and the stock keeps its square edges.

Defaults. `thick` a third of the board's thickness, `width` half of what the boards share, or its
share of that in a row. `depth` into each board half of what there is, 25 mm at most: a loose tenon
should enter about as deep as one cut on the board would (common practice). `fit` 0.1 mm, `gap` 1 mm
for glue under each end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Box
from ..cuts import Cut, Hardware, Side, Ware
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import NothingLeftUnder
from ..relief import Relief
from .bits import pick
from .carve import Bench, Socket, Wall, closed_sides, demand, dug, finished
from .channel import opens_at_edge
from .family import Contact, Family, JointCuts
from .meeting import Meeting, Part, both_sides, moved, with_face
from .options import (
    NamedBit,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    length,
    pair_of_lengths,
    relief,
    whole_number,
)
from .shoulders import Pair, in_the_middle
from .spline import Touch, touch_of
from .tenon_layout import shares

THICK = above_zero("thick", None, "a third of A's", "thickness of the loose tenon")
WIDTH = above_zero("width", None, "half of what meets", "width of all loose tenons and spaces")
DEPTH = pair_of_lengths(
    "depth", "how deep it enters each board, or a list: A's, then B's", "half the board"
)
ROW = whole_number("row", 1, "1", "how many side by side", least=1)
FIT = length("fit", Fraction(1, 10), "0.1mm", "size of the mortises less that of the tenon")
GAP = length("gap", Fraction(1), "1mm", "room left under each of its ends")
RELIEF = relief(Relief.NONE, (Relief.NONE, Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.LONG))
BIT = bit_named("bit", "the straight bit that cuts the mortises")

USUAL_DEPTH = Fraction(25)
"""The most that a loose tenon enters unless told, mm (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseTenon:
    """Lengths in mm; None for the default."""

    thick: Fraction | None
    width: Fraction | None
    depth: Pair | None
    row: int
    fit: Fraction
    gap: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> LooseTenon:
    return LooseTenon(
        thick=reading.take(THICK),
        width=reading.take(WIDTH),
        depth=reading.take(DEPTH),
        row=reading.take(ROW),
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: LooseTenon) -> Outcome[JointCuts]:
    touch = touch_of(meeting)
    if isinstance(touch, Finding):
        return Outcome(None, (touch,))
    section = _section(meeting, touch, options)
    if isinstance(section, Finding):
        return Outcome(None, (section,))
    depths = _depths(meeting, touch, options)
    mortises = _mortises(meeting, touch, (section, depths), options)
    if isinstance(mortises, Finding):
        return Outcome(None, (mortises,))
    picked = pick(meeting, options.bit, options.relief, demand(*mortises))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cuts: list[Cut] = []
    for mortise in mortises:
        cut = dug(bench, mortise)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    wood = mortises[0].wood
    slip = Hardware(
        ware=Ware.TENON,
        sizes=(wood[touch.across].size, wood[touch.run].size, sum(depths, Fraction(0))),
        count=options.row,
        joint=meeting.name,
    )
    made = finished(bench, cuts)
    if made.value is None:
        return made
    return Outcome(replace(made.value, hardware=(slip,)), made.findings)


def _section(meeting: Meeting, touch: Touch, options: LooseTenon) -> Box | Finding:
    """The room of the tenons along the seam, flat: in the middle of what the boards share."""
    shared = meeting.overlap
    entering = meeting.a if meeting.a.thick == touch.across else meeting.b
    thick = entering.stock.thick / 3 if options.thick is None else options.thick
    width = shared[touch.run].size / 2 if options.width is None else options.width
    box = shared
    for axis, size, option in ((touch.across, thick, THICK), (touch.run, width, WIDTH)):
        off = in_the_middle(meeting, entering, shared[axis].size, size, option)
        if isinstance(off, Finding):
            return off
        for side, each in zip(both_sides(axis), off, strict=True):
            box = moved(box, side, -each)
    return box


def _depths(meeting: Meeting, touch: Touch, options: LooseTenon) -> Pair:
    """How deep the tenon enters A and B."""
    if options.depth is not None:
        return options.depth
    a, b = (part.box[touch.side.axis].size / 2 for part in (meeting.a, meeting.b))
    return min(a, USUAL_DEPTH), min(b, USUAL_DEPTH)


def _mortises(
    meeting: Meeting, touch: Touch, sizes: tuple[Box, Pair], options: LooseTenon
) -> tuple[Socket, ...] | Finding:
    section, depths = sizes
    found: list[Socket] = []
    hosts = (
        (meeting.a, meeting.b, touch.side, depths[0]),
        (meeting.b, meeting.a, touch.side.opposite, depths[1]),
    )
    for host, guest, side, depth in hosts:
        if depth + options.gap >= host.box[side.axis].size:
            return _no_floor(meeting, (host, guest), side, depth + options.gap, options.gap)
        face = with_face(with_face(section, side, host.face(side)), side.opposite, host.face(side))
        for wood in shares(moved(face, side.opposite, depth), touch.run, options.row):
            closed = closed_sides(host, side, wood)
            if len(closed) < 4:
                edges = (edge for axis in side.plane for edge in both_sides(axis))
                return opens_at_edge(meeting, next(e for e in edges if e not in closed))
            found.append(
                Socket(
                    host=host,
                    guest=guest,
                    side=side,
                    wood=wood,
                    walls=tuple(Wall(edge, options.fit / 2) for edge in closed),
                    run=touch.run,
                    gap=options.gap,
                )
            )
    return tuple(found)


def _no_floor(
    meeting: Meeting, boards: tuple[Part, Part], side: Side, depth: Fraction, gap: Fraction
) -> Finding:
    host, guest = boards
    return NothingLeftUnder(
        place=meeting.option_place(DEPTH.name),
        board=guest.name,
        mate=host.name,
        family=meeting.join.family,
        axis=host.own.axis(side.axis)[0],
        depth=depth,
        gap=gap,
        board_place=guest.board.place,
    )


LOOSE_TENON = Family(
    name="loose_tenon",
    title="loose tenon",
    words="a tenon of its own, in a mortise of each board",
    verbs=(Verb.TO,),
    options=(THICK, WIDTH, DEPTH, ROW, FIT, GAP, RELIEF, BIT),
    read=_read,
    cut=_cut,
    contact=Contact.TOUCHING,
)
