"""Dado, groove and tongue alike: a channel in B's surface that takes the thickness of A.

What they share: where the channel lies, which walls it has, the cheeks that leave a tongue of A,
the notch that lets A cover a stopped end. The families `dado.py`, `groove.py` and `tongue.py` give
it their defaults.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Axis, Box
from ..cuts import Cut, Mating, Side
from ..finding import Finding, Outcome
from ..joint_findings import LiesFlat, NothingLeftUnder, NoWayIn, OpensAtEdge, StopTakesAll
from ..relief import Relief
from .bits import Picked, pick
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
    rounded,
    stepped,
    third,
)
from .family import JointCuts
from .meeting import Meeting, Part, at, both_sides, moved, passes_through, way_in, with_face
from .options import NamedBit, ReliefAsked, Stops
from .shoulders import NO_SHOULDERS, Pair, cheeks_off, within

NO_STOPS = Stops()


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """The options of a channel; lengths in mm. `cheeks` come off A's faces: without them A enters
    in its whole thickness."""

    fit: Fraction
    gap: Fraction
    relief: ReliefAsked
    bit: NamedBit | None
    stop: Stops = NO_STOPS
    cheeks: Pair = NO_SHOULDERS


def cut_channel(meeting: Meeting, options: Channel) -> Outcome[JointCuts]:
    """The channel in B, and on A its cheeks, its roundovers and the notches of asked stops."""
    side = entering(meeting)
    if isinstance(side, Finding):
        return Outcome(None, (side,))
    socket = _channel(meeting, side, options)
    if isinstance(socket, Finding):
        return Outcome(None, (socket,))
    picked = pick(meeting, options.bit, options.relief, demand(socket))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    socket = _with_tongue(socket, options, picked)
    if socket.wood[socket.run].size <= 0:
        return Outcome(None, (_stop_takes_all(meeting, socket.run, options.stop),))
    bench = Bench(meeting, picked, options.relief.relief)
    channel = dug(bench, socket)
    if isinstance(channel, Finding):
        return Outcome(None, (channel,))
    cheeks = cheeks_off(bench, meeting.a, meeting.b, side, options.cheeks)
    notches = _notches(bench, socket, options)
    cuts = (channel, *cheeks, *notches, *rounded(bench, socket))
    return finished(bench, cuts, _channel_plays(meeting, socket, options))


def entering(meeting: Meeting) -> Side | Finding:
    """The side of B from which the channel is cut, or why there is none."""
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    side = way_in(b, shared)
    family, place = meeting.join.family, meeting.place
    if passes_through(b, shared) == b.thick != a.thick:
        return NothingLeftUnder(
            place=place,
            board=a.name,
            mate=b.name,
            family=family,
            axis=b.own.axis(b.thick)[0],
            depth=b.box[b.thick].size,
            board_place=a.board.place,
        )
    if side is None:
        return NoWayIn(place=place, board=a.name, mate=b.name, family=family)
    if side.axis == a.thick:
        axis = a.own.axis(a.thick)[0]
        return LiesFlat(place=place, board=a.name, mate=b.name, family=family, axis=axis)
    return side


def _channel(meeting: Meeting, side: Side, options: Channel) -> Socket | Finding:
    a, b = meeting.a, meeting.b
    run = third(side, a.thick)
    wood = _stopped(meeting.overlap, run, options.stop)
    if wood is None:
        return _stop_takes_all(meeting, run, options.stop)
    if sum(options.cheeks):
        wood = within(wood, a.box, a.thick, options.cheeks)
    closed = closed_sides(b, side, wood)
    for beside in both_sides(a.thick):
        if beside not in closed:
            return opens_at_edge(meeting, beside)
    clear = options.fit / 2
    return Socket(
        host=b,
        guest=a,
        side=side,
        wood=wood,
        walls=tuple(Wall(edge, clear) for edge in closed),
        run=run,
        gap=options.gap,
    )


def opens_at_edge(meeting: Meeting, side: Side) -> Finding:
    """The finding that the socket in B comes out at B's edge on `side`."""
    b: Part = meeting.b
    own = b.own_side(side)
    return OpensAtEdge(
        place=meeting.place,
        board=meeting.a.name,
        mate=b.name,
        family=meeting.join.family,
        axis=own.axis,
        at=at(b.board.box, own),
        board_place=meeting.a.board.place,
    )


def _stopped(shared: Box, run: Axis, stop: Stops) -> Box | None:
    """The shared box without the stops; None when nothing is left."""
    low, high = both_sides(run)
    left = moved(moved(shared, low, -(stop.lo or Fraction(0))), high, -(stop.hi or Fraction(0)))
    return left if left[run].size > 0 else None


def _stop_takes_all(meeting: Meeting, run: Axis, stop: Stops) -> Finding:
    return StopTakesAll(
        place=meeting.option_place("stop"),
        stops=(stop.lo or Fraction(0)) + (stop.hi or Fraction(0)),
        length=meeting.overlap[run].size,
    )


def _with_tongue(socket: Socket, options: Channel, picked: Picked) -> Socket:
    """The socket with A's tongue set back from each asked stop, where the channel ends.

    A lengthened channel sets it back two radii: past the fillets of the channel's end and past that
    of the notch at the tongue's foot, which then share no wood and stay hidden.
    """
    back = options.fit / 2
    if options.relief.relief is Relief.LONG:
        back = max(back, picked.bit.diameter)
    wood, walls = socket.wood, list(socket.walls)
    for end in _asked_stops(socket, options):
        wood = moved(wood, end, -back)
        walls = [Wall(end, back) if wall.side == end else wall for wall in walls]
    return replace(socket, wood=wood, walls=tuple(walls))


def _asked_stops(socket: Socket, options: Channel) -> tuple[Side, ...]:
    low, high = both_sides(socket.run)
    asked = ((low, options.stop.lo), (high, options.stop.hi))
    return tuple(end for end, stop in asked if stop is not None)


def _notches(bench: Bench, socket: Socket, options: Channel) -> tuple[Cut, ...]:
    """The notch on A at each asked stop, as deep as A enters.

    It has one inside corner, at the tongue's foot, relieved as the channel is; where A's edges are
    rounded it is relieved at the corner, because no roundover reaches the foot.
    """
    a, b = socket.guest, socket.host
    instead = {Relief.HALF_ROUND: Relief.CORNER, Relief.LONG: Relief.NONE}
    at_foot = replace(bench, relief=instead.get(bench.relief, bench.relief))
    cuts = []
    for end in _asked_stops(socket, options):
        notch = with_face(bench.meeting.overlap, end.opposite, at(socket.wood, end))
        notch = with_face(notch, end, a.face(end))
        face = Side(a.thick, True)
        step = Step(host=a, mate=b, side=face, box=notch, run=socket.side.axis)
        cuts.append(stepped(at_foot, step))
    return tuple(cuts)


def _channel_plays(meeting: Meeting, socket: Socket, options: Channel) -> tuple[Mating, ...]:
    """Across A's thickness always; along the run where both ends stop and are not lengthened."""
    found = plays(meeting, socket, options.fit)
    if options.relief.relief is not Relief.LONG:
        return found
    across = socket.guest.own.axis(socket.guest.thick)[0]
    return tuple(mating for mating in found if mating.axis == across)
