"""Tenons of boards that lean: which lean a straight bit can cut, and how.

A and B share the direction of one axis.

- It is A's thickness: A leans in the plane of its own faces, as a splayed leg does (`splayed.py`).
- It is A's length: A is turned about it, like a turned post in a flat seat. Its end is cut as any,
  and the mortise lies turned in B's face: that of a square meeting, carried over.
- It is A's width: A leans over its faces. Shoulders and mortise would slant through the thickness,
  which no straight cut makes: a finding.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from ..board import Axis, Box, Run, Span
from ..cuts import Cut, Side
from ..finding import Finding, Outcome
from ..frames import Bridge
from ..joint_findings import OpensAtEdge
from ..region import Region, bounds, moved
from ..tenon_findings import NotWhereItLeans, TiltNotFlat
from ..thresholds import SAME
from .family import JointCuts
from .meeting import Meeting, Part, both_sides, with_face
from .splayed import cut_splayed
from .tenon_layout import Tenon
from .tilted import TiltedMeeting

CutSquare: TypeAlias = Callable[[Meeting, Tenon], Outcome[JointCuts]]

FAR = Fraction(10**6)
"""A face nothing reaches, mm."""


def cut_leaning(
    meeting: TiltedMeeting, options: Tenon, cut_square: CutSquare
) -> Outcome[JointCuts]:
    """The cuts of a tenon on a board that is not square to its mate; `cut_square` makes those of
    boards that are."""
    a = meeting.a.part
    if meeting.axis == a.thick:
        return cut_splayed(meeting, options, cut_square)
    if meeting.axis == a.length:
        return _turned(meeting, options, cut_square)
    wrong = TiltNotFlat(
        place=meeting.place,
        board=a.name,
        mate=meeting.b.name,
        family=meeting.join.family,
        degrees=meeting.degrees,
        lean=meeting.axis,
        wanted=a.thick,
        board_place=a.board.place,
    )
    return Outcome(None, (wrong,))


def _turned(meeting: TiltedMeeting, options: Tenon, cut_square: CutSquare) -> Outcome[JointCuts]:
    """The joint cut as if B lay square below A and had no edges; B's cuts are then turned."""
    straight = Meeting(
        name=meeting.name,
        join=meeting.join,
        a=meeting.a.part,
        b=_endless(meeting),
        overlap=_with_span(meeting.a.part.box, meeting.axis, _shared(meeting)),
        bits=meeting.bits,
    )
    made = cut_square(straight, options)
    if made.value is None:
        return made
    cuts = []
    for cut in made.value.cuts:
        if cut.board == meeting.b.name and cut.side.axis != meeting.axis:
            return Outcome(None, (_not_turned(meeting),))
        own = _carried(meeting, cut) if cut.board == meeting.b.name else cut
        wrong = _breaks_out(meeting, own) if own is not cut else None
        if wrong is not None:
            return Outcome(None, (wrong,))
        cuts.append(own)
    matings = tuple(replace(m, socket_axis=meeting.b.axis) for m in made.value.matings)
    return Outcome(replace(made.value, cuts=tuple(cuts), matings=matings), made.findings)


def _shared(meeting: TiltedMeeting) -> Span:
    a, b = meeting.a.span, meeting.b.span
    return Span(max(a.lo, b.lo), min(a.hi, b.hi))


def _with_span(box: Box, axis: Axis, span: Span) -> Box:
    low, high = both_sides(axis)
    return with_face(with_face(box, low, span.lo), high, span.hi)


def _endless(meeting: TiltedMeeting) -> Part:
    """B in A's coordinates, as long and wide as can be."""
    part, axis = meeting.b.part, meeting.axis
    box = _with_span(Box(*(Span(-FAR, FAR),) * 3), axis, meeting.b.span)
    u, v = Side(axis, True).plane
    return Part(
        ref=part.ref,
        board=replace(part.board, box=box),
        stock=part.stock,
        run=Run(length=u, width=v, thick=axis),
        box=box,
        own=Bridge(),
    )


def _carried(meeting: TiltedMeeting, cut: Cut) -> Cut:
    """A cut in A's coordinates as one of B's own."""
    leaf = meeting.b

    def own(region: Region) -> Region:
        return moved(region, leaf.here.back.point, mirrored=leaf.here.mirrors)

    side = Side(leaf.axis, cut.side.positive == (leaf.sign > 0))
    floor = None if cut.floor is None else own(cut.floor)
    return replace(cut, side=side, region=own(cut.region), asked=own(cut.asked), floor=floor)


def _not_turned(meeting: TiltedMeeting) -> Finding:
    """The finding that holes across A's faces do not lie square to any side of B."""
    return NotWhereItLeans(
        place=meeting.join.family_place or meeting.place,
        option=meeting.join.family,
        value=None,
        board=meeting.a.name,
        degrees=meeting.degrees,
    )


def _breaks_out(meeting: TiltedMeeting, cut: Cut) -> Finding | None:
    """The finding that a mortise comes out at an edge of B."""
    (u0, v0, u1, v1), limits = bounds(cut.asked), meeting.b.limits
    past = (limits[0] - u0, limits[1] - v0, u1 - limits[2], v1 - limits[3])
    worst = max(range(4), key=lambda i: past[i])
    if past[worst] < -SAME:
        return None
    axis = cut.side.plane[worst % 2]
    span = meeting.b.part.box[axis]
    return OpensAtEdge(
        place=meeting.place,
        board=meeting.a.name,
        mate=meeting.b.name,
        family=meeting.join.family,
        axis=axis,
        at=span.lo if worst < 2 else span.hi,
        board_place=meeting.a.part.board.place,
    )
