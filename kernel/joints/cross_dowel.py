"""Cross dowel (knock-down fitting): `A to B with cross_dowel`.

A bolt goes through B into A's end and is screwed into a round nut, the cross dowel, that lies
across A in a pocket bored from one face. It draws the joint tight and comes apart again. A touches
B's face with its end. Bolts and nuts are listed beside the boards.

Defaults. `bolt` 6 mm in a hole 1 mm wider, `diameter` 10 mm of the nut, `set` 30 mm from A's end to
the nut's middle: enough end grain not to shear out (common practice: three nuts' diameters). The
nut is as long as A is thick less 6 mm, its pocket bored so that nut and bolt meet in the middle.
Two fittings at least, about `every` 200 mm. `from` says which face of A shows the pockets.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..crossing_findings import BoreBreaksOut
from ..cuts import Cut, Hardware, Side, Ware, Work
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import LiesFlat
from ..region import disc
from .bits import drilling
from .dowels import BIT, LEAST_UNDER, Hole, Row, bored, spots, too_wide
from .drawn import Tool, drawn_cut, in_plane
from .family import Contact, Family, JointCuts
from .meeting import Meeting
from .options import NamedBit, Reading, above_zero, choice, length, whole_number, written_at
from .spline import Touch, touch_of


class Shown(Enum):
    """Which face of A the pockets are bored from."""

    LOW = "lo"
    HIGH = "hi"


FIT = length("fit", Fraction(1, 5), "0.2mm", "width of the pocket less that of the nut")
BOLT = above_zero("bolt", Fraction(6), "6mm", "how thick the bolt is")
ROOM = length("room", Fraction(1), "1mm", "width of the bolt's hole less the bolt")
DIAMETER = above_zero("diameter", Fraction(10), "10mm", "how wide the nut is")
LONG = above_zero("long", None, "A's thickness less 6mm", "how long the nut is")
SET = above_zero("set", Fraction(30), "30mm", "from A's end to the nut's middle")
FROM = choice("from", Shown.HIGH, "which face of A the nut goes in by: `lo` or `hi`")
COUNT = whole_number("count", None, "from `every`", "how many fittings", least=1)
EVERY = above_zero("every", Fraction(200), "200mm", "about how far fittings are apart at most")
INSET = length("inset", None, "40mm, or a third", "from the boards' ends to the outer bolts")


@dataclass(frozen=True, slots=True, kw_only=True)
class CrossDowel:
    """Lengths in mm; None for the default."""

    fit: Fraction
    bolt: Fraction
    room: Fraction
    diameter: Fraction
    long: Fraction | None
    set: Fraction
    shown: Shown
    count: int | None
    every: Fraction
    inset: Fraction | None
    bit: NamedBit | None


def _read(reading: Reading) -> CrossDowel:
    reading.not_both(COUNT, EVERY)
    return CrossDowel(
        fit=reading.take(FIT),
        bolt=reading.take(BOLT),
        room=reading.take(ROOM),
        diameter=reading.take(DIAMETER),
        long=reading.take(LONG),
        set=reading.take(SET),
        shown=reading.take(FROM),
        count=reading.take(COUNT),
        every=reading.take(EVERY),
        inset=reading.take(INSET),
        bit=reading.take(BIT),
    )


def _cut(meeting: Meeting, options: CrossDowel) -> Outcome[JointCuts]:
    touch = _ends_on_face(meeting)
    if isinstance(touch, Finding):
        return Outcome(None, (touch,))
    nut = options.long or meeting.a.stock.thick - 6
    wrong = _amiss(meeting, touch, nut, options)
    if wrong is not None:
        return Outcome(None, (wrong,))
    wide = meeting.overlap[touch.run].size
    inset = options.inset if options.inset is not None else min(Fraction(40), wide / 3)
    row = spots(meeting, touch, Row(options.count, options.every, inset, 2 * options.diameter))
    if isinstance(row, Finding):
        return Outcome(None, (row,))
    made = _holes(meeting, touch, row, nut, options)
    if isinstance(made, Finding):
        return Outcome(None, (made,))
    cuts, bit, chosen = made
    bolt = meeting.b.box[touch.side.axis].size + options.set + options.diameter / 2
    sets = (
        (Ware.BOLT, (options.bolt, bolt)),
        (Ware.CROSS_DOWEL, (options.diameter, nut)),
    )
    hardware = tuple(
        Hardware(ware=ware, sizes=sizes, count=len(row), joint=meeting.name) for ware, sizes in sets
    )
    return Outcome(JointCuts(cuts=cuts, hardware=hardware, bit=bit, bit_chosen=chosen))


def _ends_on_face(meeting: Meeting) -> Touch | Finding:
    """A's end or edge touches B's face."""
    a, b = meeting.a, meeting.b
    touch = touch_of(meeting)
    if isinstance(touch, Finding) or (b.thick == touch.side.axis != a.thick):
        return touch
    return LiesFlat(
        place=meeting.place,
        board=a.name,
        mate=b.name,
        family=meeting.join.family,
        axis=a.own.axis(a.thick)[0],
    )


def _amiss(meeting: Meeting, touch: Touch, nut: Fraction, options: CrossDowel) -> Finding | None:
    """What breaks out of A: the bolt's hole, the nut's pocket at its floor or at A's end."""
    a, b = meeting.a, meeting.b
    thick = a.box[a.thick].size
    wide = too_wide(meeting, touch, options.bolt + options.room, BOLT.name)
    if wide is not None:
        return wide

    def out(option: str, asked: Fraction, most: Fraction) -> Finding:
        return BoreBreaksOut(
            place=meeting.option_place(option),
            board=a.name,
            mate=b.name,
            family=meeting.join.family,
            option=option,
            across=False,
            asked=asked,
            most=max(most, Fraction(0)),
            board_place=a.board.place,
            value_place=written_at(meeting.join, option),
        )

    if nut <= 0 or thick / 2 + nut / 2 > thick - LEAST_UNDER:
        return out(LONG.name, nut, thick - 2 * LEAST_UNDER)
    room = a.box[touch.side.axis].size
    deepest = options.set + options.diameter + LEAST_UNDER
    if deepest > room:
        return out(SET.name, options.set, room - options.diameter - LEAST_UNDER)
    return None


def _holes(
    meeting: Meeting, touch: Touch, row: tuple[Fraction, ...], nut: Fraction, options: CrossDowel
) -> tuple[tuple[Cut, ...], str, bool] | Finding:
    a, b = meeting.a, meeting.b
    thick, through = a.box[a.thick].size, b.box[touch.side.axis].size
    bolt = Hole(options.bolt + options.room, options.set + options.diameter)
    pocket = Hole(options.diameter + options.fit, thick / 2 + nut / 2)
    slim = drilling(meeting, options.bit, bolt.diameter, max(bolt.depth or through, through))
    if isinstance(slim, Finding):
        return slim
    stout = drilling(meeting, None, pocket.diameter, pocket.depth or thick)
    if isinstance(stout, Finding):
        return stout
    bolting, nutting = (Tool(p.bit.name, p.bit.by_hand) for p in (slim, stout))
    cuts: list[Cut] = []
    for at in row:
        clear = Hole(bolt.diameter, None)
        cuts.append(bored(meeting, touch, touch.side.opposite, at, (clear, bolting)))
        cuts.append(bored(meeting, touch, touch.side, at, (bolt, bolting)))
        cuts.append(_pocket(meeting, touch, at, (pocket, nutting), options))
    return tuple(cuts), slim.bit.name, slim.chosen


def _pocket(
    meeting: Meeting, touch: Touch, at: Fraction, how: tuple[Hole, Tool], options: CrossDowel
) -> Cut:
    a, (hole, tool) = meeting.a, how
    face = Side(a.thick, options.shown is Shown.HIGH)
    end = a.face(touch.side)
    middle = end - options.set if touch.side.positive else end + options.set
    point = in_plane(face, touch.run, float(at), float(middle))
    return drawn_cut(
        meeting,
        a,
        face,
        disc(point, float(hole.diameter) / 2),
        depth=hole.depth,
        tool=tool,
        work=Work.BORE,
    )


CROSS_DOWEL = Family(
    name="cross_dowel",
    title="cross dowel",
    words="a bolt through B draws A up by a round nut across A",
    verbs=(Verb.TO,),
    options=(FIT, BOLT, ROOM, DIAMETER, LONG, SET, FROM, COUNT, EVERY, INSET, BIT),
    read=_read,
    cut=_cut,
    contact=Contact.TOUCHING,
)
