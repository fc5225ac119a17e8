"""Spline (loose tongue): `A to B with spline`.

Boards that touch get a groove each where they touch, and a strip between them that belongs to
neither: along the edges of two boards in one plane, or from the end of one into the face of the
other. The grooves run out at the boards' ends or stop short of them.

Defaults. A strip a third as `thick` as the thinner board, set in as `deep` on either side, the
groove `fit` 0.1 mm wider (0.1 to 0.2 mm for a slip joint in solid wood) and
`gap` 0.5 mm deeper for glue (all common practice).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Axis, Box, Span
from ..cuts import Cut, Hardware, Side, Ware
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import LiesFlat, NothingLeftUnder, StopTakesAll, WrongSize
from ..relief import Relief
from ..thresholds import SAME
from .bits import pick
from .carve import Bench, Socket, Wall, closed_sides, demand, dug, finished
from .family import Contact, Family, JointCuts
from .meeting import Meeting, Part, both_sides, moved, other_axis, with_face
from .options import NamedBit, Reading, ReliefAsked, Stops, above_zero, bit_named, length, stops

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of each groove less the strip's thickness")
THICK = above_zero("thick", None, "a third of the thinner board", "how thick the strip is")
DEEP = above_zero(
    "deep", None, "a third of the thinner board", "how far the strip enters each board"
)
GAP = length("gap", Fraction(1, 2), "0.5mm", "room left in each groove under the strip's edge")
STOP = stops("stop", "how far short of the boards' ends the grooves stop: `lo`, `hi` or `both`")
BIT = bit_named("bit", "the straight bit that cuts the grooves")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spline:
    """Lengths in mm; None for the default."""

    fit: Fraction
    thick: Fraction | None
    deep: Fraction | None
    gap: Fraction
    stop: Stops
    bit: NamedBit | None


def _read(reading: Reading) -> Spline:
    return Spline(
        fit=reading.take(FIT),
        thick=reading.take(THICK),
        deep=reading.take(DEEP),
        gap=reading.take(GAP),
        stop=reading.take(STOP),
        bit=reading.take(BIT),
    )


@dataclass(frozen=True, slots=True)
class Touch:
    """Where two boards touch: A's side there, B's is the opposite; `across` runs across the strip's
    thickness, `run` along it."""

    side: Side
    across: Axis
    run: Axis


def touch_of(meeting: Meeting) -> Touch | Finding:
    """How two touching boards lie; a finding for two faces, which nothing can be set between."""
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    axis = min(Axis, key=lambda one: abs(shared[one].size))
    if a.thick == b.thick == axis:
        return LiesFlat(
            place=meeting.place,
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            axis=a.own.axis(axis)[0],
        )
    high = abs(a.box[axis].hi - b.box[axis].lo) <= SAME
    entering = a if a.thick != axis else b
    return Touch(Side(axis, high), entering.thick, other_axis(axis, entering.thick))


def _cut(meeting: Meeting, options: Spline) -> Outcome[JointCuts]:
    touch = touch_of(meeting)
    if isinstance(touch, Finding):
        return Outcome(None, (touch,))
    thinner = min(part.stock.thick for part in (meeting.a, meeting.b))
    thick = options.thick if options.thick is not None else thinner / 3
    deep = options.deep if options.deep is not None else thinner / 3
    grooves = _grooves(meeting, touch, (thick, deep), options)
    if isinstance(grooves, Finding):
        return Outcome(None, (grooves,))
    relief = ReliefAsked(Relief.NONE)
    picked = pick(meeting, options.bit, relief, demand(*grooves))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, Relief.NONE)
    cuts: list[Cut] = []
    for groove in grooves:
        cut = dug(bench, groove)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    strip = Hardware(
        ware=Ware.SPLINE,
        sizes=(thick, 2 * deep, grooves[0].wood[touch.run].size),
        count=1,
        joint=meeting.name,
    )
    made = finished(bench, cuts)
    if made.value is None:
        return made
    return Outcome(replace(made.value, hardware=(strip,)), made.findings)


def _grooves(
    meeting: Meeting, touch: Touch, sizes: tuple[Fraction, Fraction], options: Spline
) -> tuple[Socket, Socket] | Finding:
    thick, deep = sizes
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    if thick >= shared[touch.across].size:
        return WrongSize(
            place=meeting.option_place(THICK.name),
            option=THICK.name,
            board=a.name,
            value=thick,
            size=shared[touch.across].size,
        )
    for part in (a, b):
        if deep + options.gap >= part.box[touch.side.axis].size:
            return _through(meeting, part, touch, deep, options)
    wood = _strip(shared, touch, thick, options.stop)
    if wood is None:
        return StopTakesAll(
            place=meeting.option_place(STOP.name),
            stops=(options.stop.lo or Fraction(0)) + (options.stop.hi or Fraction(0)),
            length=shared[touch.run].size,
        )
    return (
        _groove((a, b), touch, wood, deep, options),
        _groove((b, a), replace(touch, side=touch.side.opposite), wood, deep, options),
    )


def _through(
    meeting: Meeting, part: Part, touch: Touch, deep: Fraction, options: Spline
) -> Finding:
    return NothingLeftUnder(
        place=meeting.option_place(DEEP.name),
        board=(meeting.b if part is meeting.a else meeting.a).name,
        mate=part.name,
        family=meeting.join.family,
        axis=part.own.axis(touch.side.axis)[0],
        depth=deep + options.gap,
        gap=options.gap,
        board_place=part.board.place,
    )


def _strip(shared: Box, touch: Touch, thick: Fraction, stop: Stops) -> Box | None:
    """The strip where the boards touch, flat along the touching axis; None when nothing is left."""
    middle = (shared[touch.across].lo + shared[touch.across].hi) / 2
    spans = [shared.x, shared.y, shared.z]
    spans[touch.across] = Span(middle - thick / 2, middle + thick / 2)
    low, high = both_sides(touch.run)
    box = moved(Box(*spans), low, -(stop.lo or Fraction(0)))
    box = moved(box, high, -(stop.hi or Fraction(0)))
    return box if box[touch.run].size > 0 else None


def _groove(
    boards: tuple[Part, Part], touch: Touch, strip: Box, deep: Fraction, options: Spline
) -> Socket:
    """The groove in the first board, cut from the side where it touches the other."""
    (host, guest), side = boards, touch.side
    face = host.face(side)
    bottom = face - deep if side.positive else face + deep
    wood = with_face(with_face(strip, side, face), side.opposite, bottom)
    ends = (options.stop.lo, options.stop.hi)
    walls = [
        Wall(edge, options.fit / 2 if edge.axis == touch.across else Fraction(0))
        for edge in closed_sides(host, side, wood)
    ]
    for edge, asked in zip(both_sides(touch.run), ends, strict=True):
        if asked is not None and all(wall.side != edge for wall in walls):
            walls.append(Wall(edge, Fraction(0)))
    return Socket(
        host=host,
        guest=guest,
        side=side,
        wood=wood,
        walls=tuple(walls),
        run=touch.run,
        gap=options.gap,
    )


SPLINE = Family(
    name="spline",
    title="spline",
    words="a loose strip in a groove of each board",
    verbs=(Verb.TO,),
    options=(FIT, THICK, DEEP, GAP, STOP, BIT),
    read=_read,
    cut=_cut,
    contact=Contact.TOUCHING,
)
