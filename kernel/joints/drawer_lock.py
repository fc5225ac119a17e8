"""Drawer lock: `A to B with drawer_lock`.

The front of a drawer is locked to its side, so that a pull on the front pulls no glue line apart.
The side ends inside the front's thickness and the front goes on to the side's outer face: the lip
that is left covers the side's end. Whichever of A and B has the lip is the front. Seen along the
corner, the front below:

    |    side    |
    |        +---+--+---------    the front's tongue, in a dado in the side
    |        |      |
    |    +---+---+  |             the side's end, in a slot in the front
    +----+-------+  |  front
    |        lip                  as thick as the boards are drawn to leave it
    +-------------------------

The front is cut from its end alone, the side from its inside face alone. They are put together
along the front's length.

Fit. The dado is `fit` wider than the tongue and the slot `fit` wider than the side's end in it; the
flank that both share moves back by a quarter of `fit` on either board.

Defaults. `thick` half of what the lip leaves: tongue and slot share it. `deep` a third of the
side's thickness. `gap` 0.5 mm past the tongue's end, so that the front closes on the side.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Box
from ..corner_findings import NoLip
from ..cuts import Cut, Side
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import NoCorner, WrongSize
from ..relief import Relief
from ..thresholds import LEAST_TONGUE, SAME
from .bits import pick
from .carve import (
    Bench,
    Socket,
    Step,
    Wall,
    closed_sides,
    demand,
    dug,
    finished,
    plays,
    stepped,
    third,
)
from .family import Family, JointCuts
from .meeting import Meeting, Part, at, both_sides, moved, with_face
from .options import (
    NamedBit,
    OptionSpec,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    length,
    relief,
    written_at,
)

THICK = above_zero("thick", None, "half of what the lip leaves", "how thick the tongue is")
DEEP = above_zero("deep", None, "a third of the side's", "how far the tongue enters the side")
FIT = length("fit", Fraction(1, 10), "0.1mm", "width of dado and slot less what enters them")
GAP = length("gap", Fraction(1, 2), "0.5mm", "room left past the tongue's end")
RELIEF = relief(Relief.CORNER, (Relief.CORNER, Relief.SIDE, Relief.SWEPT, Relief.NONE))
BIT = bit_named("bit", "the straight bit that cuts slot and dado")


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerLock:
    """Lengths in mm; None for the default shares."""

    thick: Fraction | None
    deep: Fraction | None
    fit: Fraction
    gap: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


def _read(reading: Reading) -> DrawerLock:
    return DrawerLock(
        thick=reading.take(THICK),
        deep=reading.take(DEEP),
        fit=reading.take(FIT),
        gap=reading.take(GAP),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawer:
    """A drawer's corner. `inward` is the front's side that faces into the drawer, `away` the one it
    goes away from the corner on. `thick` and `deep` are the tongue's."""

    front: Part
    side: Part
    inward: Side
    away: Side
    thick: Fraction = Fraction(0)
    deep: Fraction = Fraction(0)


def _cut(meeting: Meeting, options: DrawerLock) -> Outcome[JointCuts]:
    drawer = _sized(meeting, options)
    if isinstance(drawer, Finding):
        return Outcome(None, (drawer,))
    slot, dado = _slot(meeting, drawer, options), _dado(meeting, drawer, options)
    picked = pick(meeting, options.bit, options.relief, demand(slot, dado))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, options.relief.relief)
    cuts: list[Cut] = [stepped(Bench(meeting, picked, Relief.NONE), _shortened(meeting, drawer))]
    for socket in (slot, dado):
        cut = dug(bench, socket)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    across = drawer.inward.axis
    matings = (
        play
        for socket in (slot, dado)
        for play in plays(meeting, socket, options.fit)
        if play.axis == socket.guest.own.axis(across)[0]
    )
    return finished(bench, cuts, matings)


def _sized(meeting: Meeting, options: DrawerLock) -> Drawer | Finding:
    """The corner with the tongue's figures, or why there is none."""
    drawer = _corner(meeting)
    if isinstance(drawer, Finding):
        return drawer
    front, side, least = drawer.front, drawer.side, Fraction(LEAST_TONGUE)
    inside = meeting.overlap[front.thick].size
    thick = options.thick or inside / 2
    deep = options.deep or side.stock.thick / 3
    for option, part, value, most in (
        (THICK, front, thick, inside - least),
        (DEEP, side, deep, side.stock.thick - options.gap - least),
    ):
        if value > most:
            return _too_large(meeting, option, part, value, most)
    return Drawer(
        front=front, side=side, inward=drawer.inward, away=drawer.away, thick=thick, deep=deep
    )


def _too_large(
    meeting: Meeting,
    option: OptionSpec[Fraction | None],
    part: Part,
    value: Fraction,
    most: Fraction,
) -> Finding:
    return WrongSize(
        place=meeting.option_place(option.name),
        option=option.name,
        board=part.name,
        value=value,
        size=most,
        value_place=written_at(meeting.join, option.name),
    )


def _corner(meeting: Meeting) -> Drawer | Finding:
    """Which board is the front: the one whose outer face the other ends short of."""
    a, b = meeting.a, meeting.b
    if a.thick == b.thick:
        return _no_corner(meeting, a, b, parallel=True)
    a_away, b_away = _away(a, b), _away(b, a)
    for one, other, away in ((a, b, a_away), (b, a, b_away)):
        crosses = one.beyond(away.opposite, other) > other.stock.thick
        if crosses or one.beyond(away, other) <= SAME:
            return _no_corner(meeting, one, other, parallel=False)
    a_past, b_past = a.beyond(a_away.opposite, b), b.beyond(b_away.opposite, a)
    if b_past < -SAME <= a_past:
        return Drawer(front=a, side=b, inward=b_away, away=a_away)
    if a_past < -SAME <= b_past:
        return Drawer(front=b, side=a, inward=a_away, away=b_away)
    if a_past < -SAME:
        return _no_corner(meeting, a, b, parallel=False)
    return _no_lip(meeting, b, a, b_away)


def _away(one: Part, other: Part) -> Side:
    """The side on which `one` leaves the corner, across the thickness of `other`."""
    low, high = both_sides(other.thick)
    return high if one.beyond(high, other) > one.beyond(low, other) else low


def _no_corner(meeting: Meeting, one: Part, other: Part, *, parallel: bool) -> Finding:
    return NoCorner(
        place=one.ref.place or meeting.join.place,
        board=one.name,
        mate=other.name,
        family=meeting.join.family,
        parallel=parallel,
    )


def _no_lip(meeting: Meeting, side: Part, front: Part, away: Side) -> Finding:
    own = side.own_side(away.opposite)
    end, past = at(side.board.box, own), side.beyond(away.opposite, front)
    return NoLip(
        place=side.ref.place or meeting.join.place,
        board=side.name,
        mate=front.name,
        axis=own.axis,
        face=end - past if own.positive else end + past,
        past=past,
        lip=front.stock.thick / 3,
        board_place=side.board.place,
    )


# --- slot, dado and tongue ---------------------------------------------------------------------


def _slot(meeting: Meeting, drawer: Drawer, options: DrawerLock) -> Socket:
    """The slot in the front's end for the end of the side, beside the tongue."""
    wood = moved(meeting.overlap, drawer.inward, -drawer.thick - options.fit / 4)
    entry = drawer.away.opposite
    return Socket(
        host=drawer.front,
        guest=drawer.side,
        side=entry,
        wood=wood,
        walls=_walls(drawer.front, entry, wood, drawer, options),
        run=drawer.inward.axis,
    )


def _dado(meeting: Meeting, drawer: Drawer, options: DrawerLock) -> Socket:
    """The dado in the side's inside face for the front's tongue."""
    wood = _beside_the_slot(meeting.overlap, drawer, drawer.thick - options.fit / 4)
    wood = with_face(wood, drawer.away, drawer.side.face(drawer.away))
    wood = with_face(wood, drawer.away.opposite, at(wood, drawer.away))
    wood = moved(wood, drawer.away.opposite, drawer.deep)
    return Socket(
        host=drawer.side,
        guest=drawer.front,
        side=drawer.away,
        wood=wood,
        walls=_walls(drawer.side, drawer.away, wood, drawer, options),
        run=third(drawer.away, drawer.inward.axis),
        gap=options.gap,
    )


def _walls(
    host: Part, entry: Side, wood: Box, drawer: Drawer, options: DrawerLock
) -> tuple[Wall, ...]:
    """Both flanks across the front's thickness, and an end where the host goes on."""
    ends = [s for s in closed_sides(host, entry, wood) if s.axis != drawer.inward.axis]
    return tuple(Wall(s, options.fit / 2) for s in (*both_sides(drawer.inward.axis), *ends))


def _beside_the_slot(box: Box, drawer: Drawer, thick: Fraction) -> Box:
    """The part of the box `thick` mm from the front's inner face outwards."""
    inner = at(box, drawer.inward)
    return moved(with_face(box, drawer.inward.opposite, inner), drawer.inward.opposite, thick)


def _shortened(meeting: Meeting, drawer: Drawer) -> Step:
    """What comes off the tongue's end, where the side goes on behind the dado. It begins in the
    middle of the slot, which takes the rest."""
    front, side, shared = drawer.front, drawer.side, meeting.overlap
    slot = shared[front.thick].size - drawer.thick
    end = drawer.away.opposite
    box = _beside_the_slot(shared, drawer, drawer.thick + slot / 2)
    box = with_face(box, drawer.away, side.face(drawer.away))
    box = with_face(moved(box, drawer.away, -drawer.deep), end, front.face(end))
    return Step(host=front, mate=side, side=end, box=box, run=drawer.inward.axis)


DRAWER_LOCK = Family(
    name="drawer_lock",
    title="drawer lock",
    words="a drawer's front is locked to its side, whose end it covers with a lip",
    verbs=(Verb.TO,),
    options=(THICK, DEEP, FIT, GAP, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
