"""Rabbet (rebate): `A into B with rabbet`.

B's edge gets a step that takes the edge of A: as deep as A enters B's face, as wide as their boxes
share. The step is open to B's edge and runs on out of B wherever A comes to B's end; where A ends
inside B the step stops with it.

Defaults. `fit` 0: the step has one wall, so there is no socket to leave room in; a `fit` moves the
wall off A by that much, and A then stands that much inside B's edge. `relief corner` for stopped
ends. A depth of a quarter to a third of B's thickness is usual; it follows from the boards.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..cuts import Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import NoStepAtEdge, NothingLeftUnder, NoWayIn
from ..relief import Relief
from .bits import pick
from .carve import Bench, Socket, Wall, closed_sides, demand, dug, finished, rounded, third
from .family import Family, JointCuts
from .meeting import Meeting, passes_through, way_in
from .options import NamedBit, Reading, ReliefAsked, bit_named, length, relief

FIT = length("fit", Fraction(0), "0mm", "how far the step's wall stands off A")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts the step")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rabbet:
    fit: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> Rabbet:
    return Rabbet(fit=reading.take(FIT), relief=reading.take(RELIEF), bit=reading.take(BIT))


def _cut(meeting: Meeting, options: Rabbet) -> Outcome[JointCuts]:
    step = _step(meeting, options)
    if isinstance(step, Finding):
        return Outcome(None, (step,))
    picked = pick(meeting, options.bit, options.relief, demand(step))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cut = dug(bench, step)
    if isinstance(cut, Finding):
        return Outcome(None, (cut,))
    return finished(bench, (cut, *rounded(bench, step)))


def _step(meeting: Meeting, options: Rabbet) -> Socket | Finding:
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    place, family = meeting.place, meeting.join.family
    if passes_through(b, shared) == b.thick:
        return NothingLeftUnder(
            place=place,
            board=a.name,
            mate=b.name,
            family=family,
            axis=b.own.axis(b.thick)[0],
            depth=b.box[b.thick].size,
            board_place=a.board.place,
        )
    side = way_in(b, shared)
    if side is None:
        return NoWayIn(place=place, board=a.name, mate=b.name, family=family)
    closed = closed_sides(b, side, shared)
    across = _across(meeting, side, closed)
    walls = tuple(edge for edge in closed if edge.axis == across)
    if len(walls) != 1:
        return NoStepAtEdge(place=place, board=a.name, mate=b.name, walls=len(walls))
    return Socket(
        host=b,
        guest=a,
        side=side,
        wood=shared,
        walls=tuple(
            Wall(edge, options.fit if edge in walls else options.fit / 2) for edge in closed
        ),
        run=third(side, across),
    )


def _across(meeting: Meeting, side: Side, closed: tuple[Side, ...]) -> Axis:
    """The axis across the step: one with a single wall, A's thickness first, then the narrower."""
    shared, thick = meeting.overlap, meeting.a.thick

    def rank(axis: Axis) -> tuple[bool, bool, object, Axis]:
        single = sum(edge.axis == axis for edge in closed) == 1
        return (not single, axis != thick, shared[axis].size, axis)

    return min(side.plane, key=rank)


RABBET = Family(
    name="rabbet",
    title="rabbet",
    words="a step in B's edge takes the edge of A",
    verbs=(Verb.INTO,),
    options=(FIT, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
