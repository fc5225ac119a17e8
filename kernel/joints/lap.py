"""Half lap: `A across B with lap`, for boards that lie in one plane.

Where the two cross, each loses what the other keeps: A from its one face, B from the other. In mid-
length both it is a cross lap, with A's end in B's length a tee, with both ends a corner or end lap;
which it is follows from the boards. Every notch is cut from a face and open at both edges of its
board, unless the mate ends inside it.

Fit. A notch with a wall on either side of the mate is `fit` wider than the mate. A shoulder alone
closes tight; where both boards stop each other along one axis, the second's wall stands `fit` off.

Defaults. `deep` half of the wood they share: a half lap (common practice). `fit` 0.1 mm: 0.1 to
0.2 mm for a slip joint in solid wood (common practice). `over` is the board that comes farther up,
the first where neither does.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from ..board import Axis, Span
from ..crossing_findings import LeavesNoWood, LiesOtherwise
from ..cuts import Cut, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..relief import Relief
from .bits import pick
from .carve import Bench, Socket, Wall, closed_sides, demand, dug, finished, plays, rounded
from .family import Family, JointCuts
from .meeting import Meeting, Part, other_axis, with_face
from .options import (
    NamedBit,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    choice,
    length,
    relief,
    written_at,
)


class Over(Enum):
    """Which of the two keeps its wood on the high side."""

    FREE = "free"
    FIRST = "first"
    SECOND = "second"


FIT = length("fit", Fraction(1, 10), "0.1mm", "width of each notch less that of the mate in it")
DEEP = above_zero(
    "deep", None, "half of what they share", "how deep the board that lies under is cut"
)
OVER = choice("over", Over.FREE, "which board lies over: `first`, `second`, or the one farther up")
RELIEF = relief(Relief.CORNER, tuple(Relief))
BIT = bit_named("bit", "the straight bit that cuts the notches")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lap:
    """`deep` is into the board that lies under, None for half; lengths in mm."""

    fit: Fraction
    deep: Fraction | None
    over: Over
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> Lap:
    return Lap(
        fit=reading.take(FIT),
        deep=reading.take(DEEP),
        over=reading.take(OVER),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: Lap) -> Outcome[JointCuts]:
    a, b = meeting.a, meeting.b
    if a.thick != b.thick:
        return Outcome(None, (otherwise(meeting, "edge_lap", flat=False),))
    sockets = halves(meeting, a.thick, options)
    if isinstance(sockets, Finding):
        return Outcome(None, (sockets,))
    fitted = _fitted(sockets, a.thick, options.fit)
    picked = pick(meeting, options.bit, options.relief, demand(*fitted))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cuts: list[Cut] = []
    for socket in fitted:
        notch = dug(bench, socket)
        if isinstance(notch, Finding):
            return Outcome(None, (notch,))
        cuts.extend((notch, *rounded(bench, socket)))
    matings = [mating for socket in fitted for mating in plays(meeting, socket, options.fit)]
    return finished(bench, cuts, matings)


def otherwise(meeting: Meeting, other: str, *, flat: bool) -> Finding:
    """The finding that the boards lie as another family wants them."""
    return LiesOtherwise(
        place=meeting.join.family_place or meeting.place,
        board=meeting.a.name,
        mate=meeting.b.name,
        family=meeting.join.family,
        other=other,
        flat=flat,
    )


def halves(meeting: Meeting, axis: Axis, options: Lap) -> tuple[Socket, Socket] | Finding:
    """A's notch for B and B's for A, which meet in one plane along `axis`; their walls close."""
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    over, under = (a, b) if a_lies_over(meeting, axis, options.over) else (b, a)
    up, down = Side(axis, True), Side(axis, False)
    deep = options.deep if options.deep is not None else under.face(up) - _middle(shared[axis])
    split = under.face(up) - deep
    for part, side, depth in ((under, up, deep), (over, down, split - over.face(down))):
        wrong = _no_wood(meeting, part, side, depth, options)
        if wrong is not None:
            return wrong
    notches = (
        _notch((over, under), down, split, meeting),
        _notch((under, over), up, split, meeting),
    )
    return notches if over is a else (notches[1], notches[0])


def a_lies_over(meeting: Meeting, axis: Axis, asked: Over) -> bool:
    """Whether the first board keeps its wood on the high side of `axis`."""
    if asked is not Over.FREE:
        return asked is Over.FIRST
    return meeting.a.box[axis].hi + meeting.a.box[axis].lo >= sum(_ends(meeting.b, axis))


def _ends(part: Part, axis: Axis) -> tuple[Fraction, Fraction]:
    return part.box[axis].lo, part.box[axis].hi


def _middle(span: Span) -> Fraction:
    return (span.lo + span.hi) / 2


def _no_wood(
    meeting: Meeting, part: Part, side: Side, depth: Fraction, options: Lap
) -> Finding | None:
    size = part.box[side.axis].size
    if 0 < depth < size:
        return None
    written = options.deep is not None
    return LeavesNoWood(
        place=meeting.option_place(DEEP.name if written else OVER.name),
        board=part.name,
        mate=(meeting.b if part is meeting.a else meeting.a).name,
        family=meeting.join.family,
        axis=part.own.axis(side.axis)[0],
        depth=depth,
        size=size,
        half=meeting.overlap[side.axis].size / 2,
        written=written,
        value_place=written_at(meeting.join, DEEP.name),
    )


def _notch(boards: tuple[Part, Part], side: Side, split: Fraction, meeting: Meeting) -> Socket:
    host, guest = boards
    wood = with_face(meeting.overlap, side, host.face(side))
    wood = with_face(wood, side.opposite, split)
    closed = closed_sides(host, side, wood)
    return Socket(
        host=host,
        guest=guest,
        side=side,
        wood=wood,
        walls=tuple(Wall(edge, Fraction(0)) for edge in closed),
        run=other_axis(side.axis, guest.length) if guest.length != side.axis else guest.width,
    )


def _fitted(sockets: tuple[Socket, Socket], axis: Axis, fit: Fraction) -> tuple[Socket, Socket]:
    """The notches with room: half the fit at each of two walls, the whole fit at the second board's
    lone wall where the first has a lone one along the same axis."""
    first, second = sockets
    lone = {a for a in Axis if a != axis and len(first.across(a)) == 1}

    def walls(socket: Socket, stopped: set[Axis]) -> tuple[Wall, ...]:
        def clear(wall: Wall) -> Fraction:
            if len(socket.across(wall.side.axis)) == 2:
                return fit / 2
            return fit if wall.side.axis in stopped else Fraction(0)

        return tuple(replace(wall, clear=clear(wall)) for wall in socket.walls)

    return replace(first, walls=walls(first, set())), replace(second, walls=walls(second, lone))


LAP = Family(
    name="lap",
    title="half lap",
    words="boards in one plane cross, each cut half through",
    verbs=(Verb.ACROSS, Verb.TO),
    options=(FIT, DEEP, OVER, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
