"""Step joint: `A to B with step`.

The line where two boards meet at a corner climbs from the outside to the inside as a staircase of
`steps` steps, half of one at either end, so that both boards are cut alike: in as many flat
pockets, each from its inside face alone, that lie in one another like terraces. All run out over
the board's end. With three steps, A upright and B lying on top:

            +-+---------+
            |A|B   B   B    B is half a step short of A's outer face: the land, where A shows
            | +--+
            |A A |B  B
            |    +--+
            |A  A  A|B
            |       ++
            |A  A  A  |     the inside of the corner

Where one board is wider than the other, terraces end at walls and have inside corners, relieved as
asked; a step must then be wide enough that the corners of one do not come into those of the next.

Only at a right angle. A floor lies along the faces of its board and a wall square to them; at any
other angle the mate's lie along neither, and the two would touch on edges. Sides of a polygon are
mitred (`mitre.py`); a box turned as a whole is joined as any other.

Glue. Treads and risers add up to both thicknesses however many steps there are, which is √2 times
the area of a plain mitre of the same stock; the land, half a step, is not glued. What is left is
about 35 % more than the mitre with five steps (common practice: about a third), and `glue_area`
and `mitre_area` tell it. Area is not strength: each tread or riser joins side grain to end grain,
and the Wood Handbook (FPL-GTR-190, p. 10-20) finds no gain from shaped edges because their fit is
never perfect.

Fit. Every tread and riser moves back by half of `fit` on both boards. Default 0: a glued joint
closes on its steps. `steps` 3 (common practice: few and wide).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..board import Box
from ..corner_findings import StepsCrowd
from ..cuts import Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import WrongSize
from ..relief import Relief
from ..thresholds import LEAST_STEP
from .bits import Demand, Picked, pick
from .carve import Bench, Step, finished, stepped
from .corner import Corner, corner_of
from .family import Family, JointCuts
from .meeting import Meeting, Part, at, both_sides, moved, with_face
from .options import (
    NamedBit,
    Reading,
    ReliefAsked,
    bit_named,
    length,
    relief,
    whole_number,
    written_at,
)

STEPS = whole_number("steps", 3, "3", "how many steps the staircase has", least=2)
FIT = length("fit", Fraction(0), "0mm", "room left between treads, and between risers")
RELIEF = relief(Relief.CORNER, (Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.NONE))
BIT = bit_named("bit", "the straight bit that cuts the terraces")

TAKES = {
    Relief.CORNER: math.sqrt(2),
    Relief.SIDE: 1.0,
    Relief.SWEPT: math.sqrt(2) + math.sqrt(8 - 2 * math.sqrt(2)),
    Relief.NONE: 1.0,
}
"""How much of the next step a corner and its relief take, in radii of the bit: along the wall a
corner relief comes 2 cos 45 degrees, a swept one as `relief.py` tells, a fillet one; a side relief
goes one radius into the riser."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepJoint:
    """`fit` in mm."""

    steps: int
    fit: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> StepJoint:
    return StepJoint(
        steps=reading.take(STEPS),
        fit=reading.take(FIT),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: StepJoint) -> Outcome[JointCuts]:
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return Outcome(None, (corner,))
    amiss = _too_loose(meeting, options) or _too_fine(meeting, options)
    if amiss is not None:
        return Outcome(None, (amiss,))
    deepest = max(part.stock.thick for part in (meeting.a, meeting.b))
    picked = pick(meeting, options.bit, options.relief, Demand(narrowest=None, deepest=deepest))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    crowd = _crowding(meeting, corner, options, picked)
    if crowd is not None:
        return Outcome(None, (crowd,))
    bench = Bench(meeting, picked, options.relief.relief)
    return finished(bench, (stepped(bench, step) for step in _terraces(meeting, corner, options)))


def _too_loose(meeting: Meeting, options: StepJoint) -> Finding | None:
    """The finding that the fit takes half a step, which is all that stands at the land."""
    for part in (meeting.a, meeting.b):
        half = part.stock.thick / options.steps / 2
        if options.fit >= half:
            return WrongSize(
                place=meeting.option_place(FIT.name),
                option=FIT.name,
                board=part.name,
                value=options.fit,
                size=half,
            )
    return None


def _too_fine(meeting: Meeting, options: StepJoint) -> Finding | None:
    """The finding that steps are finer than a router holds."""
    thinnest = min((meeting.a, meeting.b), key=lambda part: part.stock.thick)
    if thinnest.stock.thick / options.steps >= LEAST_STEP:
        return None
    return _crowd(meeting, thinnest, options, float(LEAST_STEP), None)


def _crowding(
    meeting: Meeting, corner: Corner, options: StepJoint, picked: Picked
) -> Finding | None:
    """The finding that corners of neighbouring steps get in each other's way.

    A terrace has corners where its board is wider than the mate; its steps are parts of the mate's
    thickness.
    """
    room = TAKES[options.relief.relief] * picked.radius
    for host, mate in ((meeting.a, meeting.b), (meeting.b, meeting.a)):
        ends = [s for s in both_sides(corner.along) if not host.reaches(s, meeting.overlap)]
        if ends and float(mate.stock.thick / options.steps) < room:
            return _crowd(meeting, host, options, room, picked)
    return None


def _crowd(
    meeting: Meeting, board: Part, options: StepJoint, room: float, picked: Picked | None
) -> Finding:
    mate = meeting.b if board is meeting.a else meeting.a
    thick = (board if picked is None else mate).stock.thick
    most = int(float(thick) / room)
    bit = None if picked is None else picked.bit
    return StepsCrowd(
        place=meeting.option_place(STEPS.name),
        board=board.name,
        mate=mate.name,
        steps=options.steps,
        size=thick / options.steps,
        room=room,
        bit=None if bit is None else bit.name,
        radius=None if bit is None else bit.radius,
        most=most if most >= 2 else None,
        value_place=written_at(meeting.join, STEPS.name),
        bit_place=None if bit is None else bit.place,
    )


def glue_area(width: float, thick: tuple[float, float], steps: int) -> float:
    """Where the boards touch, mm2: all treads and risers over a corner `width` long, without the
    land. `thick` is A's and B's thickness: w (a + b - a / 2n).

    >>> round(glue_area(120, (18, 18), 3), 9), round(glue_area(120, (18, 18), 1000), 2)
    (3960.0, 4318.92)
    """
    a, b = thick
    return width * (a + b - a / (2 * steps))


def mitre_area(width: float, thick: tuple[float, float]) -> float:
    """Where the boards of a plain mitre touch, mm2: from the outer to the inner corner.

    >>> round(mitre_area(120, (18, 18)), 1)
    3054.7
    """
    return width * math.hypot(*thick)


def _terraces(meeting: Meeting, corner: Corner, options: StepJoint) -> tuple[Step, ...]:
    """A's terraces from the end inwards, the deepest first, then B's."""
    a, b, n, back = meeting.a, meeting.b, options.steps, options.fit / 2
    tread, rise = a.stock.thick / n, b.stock.thick / n
    half = Fraction(1, 2)
    of_a = [((k + 1) * rise + back, (k + half) * tread - back) for k in range(n)]
    of_b = [((k + half) * tread + back, k * rise - back) for k in range(n)]
    shared = meeting.overlap
    return (
        *(_terrace((a, b), corner.a_away, corner.b_away, shared, run) for run in of_a),
        *(_terrace((b, a), corner.b_away, corner.a_away, shared, run) for run in of_b),
    )


def _terrace(
    boards: tuple[Part, Part],
    away: Side,
    inside: Side,
    shared: Box,
    run: tuple[Fraction, Fraction],
) -> Step:
    """The terrace of the first board that goes `run[0]` in from the mate's outer face and leaves
    `run[1]` of wood, none when that is not above zero."""
    host, mate = boards
    reach, left = run
    box = with_face(shared, away, at(shared, away.opposite))
    box = with_face(moved(box, away, reach), away.opposite, host.face(away.opposite))
    box = with_face(box, inside, host.face(inside))
    box = with_face(box, inside.opposite, host.face(inside.opposite))
    if left > 0:
        box = moved(box, inside.opposite, -left)
    return Step(host=host, mate=mate, side=inside, box=box, run=away.axis)


STEP = Family(
    name="step",
    title="step joint",
    words="the boards meet on a staircase cut from the inside",
    verbs=(Verb.TO,),
    options=(STEPS, FIT, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
