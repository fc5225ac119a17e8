"""Bridle (open mortise and tenon): `A into B with bridle`, for boards that lie in one plane.

B's end is forked, A's wood between the two tines is thinned to a tongue. With A's end in the fork
it is a corner bridle; where A goes on both ways, a tee. The fork is cut from B's end, the tongue's
cheeks from both faces of A, so that the tongue follows the thickness delivered.

Fit. The fork is `fit` wider than the tongue is thick. A trench across A is `fit` wider than B; a
shoulder alone closes tight. `gap` is left under the tongue at the bottom of the fork.

Defaults. `thick` a third of A's thickness, `fit` 0.1 mm (both common practice; a third is also a
school's rule for mortise and tenon: Port Townsend, as quoted on a weblog 2015).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Box
from ..crossing_findings import NoEndToFork
from ..cuts import Cut, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import WrongSize
from ..relief import Relief
from ..thresholds import SAME
from .bits import pick
from .carve import Bench, Socket, Wall, closed_sides, demand, dug, finished, plays
from .family import Family, JointCuts
from .lap import otherwise
from .meeting import Meeting, both_sides, other_axis, with_face
from .options import NamedBit, Reading, ReliefAsked, above_zero, bit_named, length, relief

FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the fork less the tongue's thickness")
GAP = length("gap", Fraction(0), "0mm", "room left at the bottom of the fork")
THICK = above_zero("thick", None, "a third of A's thickness", "how thick the tongue is")
RELIEF = relief(Relief.CORNER, (Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.NONE))
BIT = bit_named("bit", "the straight bit that cuts fork and tongue")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridle:
    """`thick` is None for a third; lengths in mm."""

    fit: Fraction
    gap: Fraction
    thick: Fraction | None
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> Bridle:
    return Bridle(
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        thick=reading.take(THICK),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: Bridle) -> Outcome[JointCuts]:
    sockets = _sockets(meeting, options)
    if isinstance(sockets, Finding):
        return Outcome(None, (sockets,))
    picked = pick(meeting, options.bit, options.relief, demand(*sockets))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cuts: list[Cut] = []
    for socket in sockets:
        cut = dug(bench, socket)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    fork, *cheeks = sockets
    matings = plays(meeting, fork, options.fit)
    across = [plays(meeting, cheek, options.fit) for cheek in cheeks[:1]]
    return finished(bench, cuts, (*matings, *(m for found in across for m in found)))


def _sockets(meeting: Meeting, options: Bridle) -> tuple[Socket, ...] | Finding:
    """The fork in B, then the cheeks of A."""
    a, b = meeting.a, meeting.b
    if a.thick != b.thick:
        return otherwise(meeting, "edge_lap", flat=False)
    mouth = _mouth(meeting)
    if mouth is None:
        return NoEndToFork(
            place=b.ref.place or meeting.place,
            board=b.name,
            mate=a.name,
            board_place=b.board.place,
        )
    tongue = _tongue(meeting, options)
    if isinstance(tongue, Finding):
        return tongue
    walls = tuple(
        Wall(side, options.fit / 2 if side.axis == a.thick else Fraction(0))
        for side in closed_sides(b, mouth, tongue)
    )
    fork = Socket(host=b, guest=a, side=mouth, wood=tongue, walls=walls,
                  run=other_axis(mouth.axis, a.thick), gap=options.gap)  # fmt: skip
    return (fork, *(_cheek(meeting, face, tongue, options.fit) for face in both_sides(a.thick)
                    if (tongue[a.thick].lo if not face.positive else tongue[a.thick].hi)
                    != a.face(face)))  # fmt: skip


def _mouth(meeting: Meeting) -> Side | None:
    """The side of B's end that the fork opens on: B goes on past A on the other side alone."""
    a, b = meeting.a, meeting.b
    for axis in (b.length, b.width):
        if axis == a.thick:
            continue
        past = [side for side in both_sides(axis) if b.beyond(side, a) > SAME]
        if len(past) == 1 and a.length != axis:
            return past[0].opposite
    return None


def _tongue(meeting: Meeting, options: Bridle) -> Box | Finding:
    """A's wood in the fork: in the middle of what the boards share along their thickness."""
    a, shared = meeting.a, meeting.overlap
    whole = shared[a.thick]
    thick = options.thick if options.thick is not None else a.box[a.thick].size / 3
    if thick >= whole.size:
        return WrongSize(
            place=meeting.option_place(THICK.name),
            option=THICK.name,
            board=a.name,
            value=thick,
            size=whole.size,
        )
    middle = (whole.lo + whole.hi) / 2
    low, high = both_sides(a.thick)
    return with_face(with_face(shared, low, middle - thick / 2), high, middle + thick / 2)


def _cheek(meeting: Meeting, face: Side, tongue: Box, fit: Fraction) -> Socket:
    """What comes off A on one face, to make room for a tine of B."""
    a, b = meeting.a, meeting.b
    at = tongue[face.axis].hi if face.positive else tongue[face.axis].lo
    wood = with_face(with_face(meeting.overlap, face, a.face(face)), face.opposite, at)
    closed = closed_sides(a, face, wood)
    pairs = {axis for axis in face.plane if sum(side.axis == axis for side in closed) == 2}
    walls = tuple(Wall(side, fit / 2 if side.axis in pairs else Fraction(0)) for side in closed)
    return Socket(host=a, guest=b, side=face, wood=wood, walls=walls, run=a.length)


BRIDLE = Family(
    name="bridle",
    title="bridle joint",
    words="B's forked end takes A, thinned to a tongue",
    verbs=(Verb.INTO,),
    options=(FIT, GAP, THICK, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
