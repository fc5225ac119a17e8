"""Step joint: `A to B with step`.

The line where two boards meet at a corner climbs from the outside to the inside as a staircase of
`steps` equal steps. Each board is cut from its inside face alone, in flat pockets that lie in one
another like terraces; both run out over the board's end, so that any straight bit cuts them and no
fillet is left. With three steps, A upright and B lying on top:

            +--+-----+
            |A |B   B    B: its first terrace goes right through, A shows outside there
            |  +--+
            |A  A |B
            |     +--+
            |A  A  A |   the inside of the corner

Glue. Treads and risers add up to both thicknesses however many steps there are: against a plain
mitre of the same stock the area is √2 times as large for sharp steps. In practice, once the lands
are taken off, it is about a third more (common practice). Area is not strength: each tread or riser
joins side grain to end grain, and the Wood Handbook (FPL-GTR-190, p. 10-20) finds no gain from
shaped edges because their fit is never perfect.

Fit. Every tread and riser moves back by half of `fit` on both boards. Default 0: a glued joint
closes on its steps. `steps` 3 (common practice: few and wide).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Box
from ..cuts import Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import WrongSize
from ..relief import Relief
from .bits import Demand, pick
from .box import Corner, corner_of
from .carve import Bench, Step, finished, stepped
from .family import Family, JointCuts
from .meeting import Meeting, Part, at, moved, with_face
from .options import NamedBit, Reading, ReliefAsked, bit_named, length, relief, whole_number

STEPS = whole_number("steps", 3, "3", "how many steps the staircase has", least=2)
FIT = length("fit", Fraction(0), "0mm", "room left between treads, and between risers")
RELIEF = relief(Relief.CORNER, (Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.NONE))
BIT = bit_named("bit", "the straight bit that cuts the terraces")


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
    loose = _too_loose(meeting, options)
    if loose is not None:
        return Outcome(None, (loose,))
    steps = _terraces(meeting, corner, options)
    deepest = max(part.stock.thick for part in (meeting.a, meeting.b))
    picked = pick(meeting, options.bit, options.relief, Demand(narrowest=None, deepest=deepest))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    return finished(bench, (stepped(bench, step) for step in steps))


def _too_loose(meeting: Meeting, options: StepJoint) -> Finding | None:
    """The finding that the fit takes a whole step."""
    for part in (meeting.a, meeting.b):
        step = part.stock.thick / options.steps
        if options.fit >= step:
            return WrongSize(
                place=meeting.option_place(FIT.name),
                option=FIT.name,
                board=part.name,
                value=options.fit,
                size=step,
            )
    return None


def _terraces(meeting: Meeting, corner: Corner, options: StepJoint) -> tuple[Step, ...]:
    """A's terraces from the end inwards, the deepest first, then B's."""
    a, b, n, back = meeting.a, meeting.b, options.steps, options.fit / 2
    run_a, run_b = b.stock.thick / n, a.stock.thick / n
    of_a = [(k * run_a + back, k * run_b - back) for k in range(1, n)]
    of_b = [(k * run_b + back, (k - 1) * run_a - back) for k in range(1, n + 1)]
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
