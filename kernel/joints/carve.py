"""The building blocks that families put joints together from.

A `Socket` is a hollow in one board (the host) for wood of another (the guest): its walls stand
clear of the guest's wood, it runs out into air where the guest comes to the host's edge. `dug`
makes its cut, `rounded` the roundovers on the guest that fill its fillets, `plays` its matings.
`stepped` removes a plain box from a board's end or edge. All in the meeting's coordinates.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Axis, Box
from ..cuts import Cut, Mating, Side, Work
from ..finding import Finding, Outcome
from ..findings import NoRoomToSweep
from ..joint_findings import RunsOut
from ..region import Line, Point2, Region, rectangle
from ..relief import Bite, Relief, long_extension, relieve, relieved, roundover_spandrel
from ..thresholds import OVERSHOOT
from .bits import Demand, Picked
from .family import JointCuts
from .meeting import Meeting, Part, at, both_sides, moved, other_axis, with_face
from .options import written_at

OUT = Fraction(OVERSHOOT)
BESIDE = 0.05
"""mm that a roundover goes past the mate's walls: enough to leave no skin between the fillets of
either board, too little to leave a hole in those it runs by."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What every cut of one joint shares: the meeting, the bit picked for it, the relief."""

    meeting: Meeting
    picked: Picked
    relief: Relief


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A box to take off `host` from `side`, to make room for `mate`. A `side` relief is set into
    the walls that face along `run`."""

    host: Part
    mate: Part
    side: Side
    box: Box
    run: Axis


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall of a socket on `side` of the guest's wood, standing `clear` of it."""

    side: Side
    clear: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Socket:
    """A hollow in `host`, cut from `side`, for the box `wood` of `guest`.

    Where no wall is named the socket is open to the host's edge. `gap` is left under the wood's
    end; `through` sockets have no floor. `run` is the axis that a `long` relief lengthens the
    socket along and a `side` relief bites along: the walls beside it, which take the glue, stay
    clean.
    """

    host: Part
    guest: Part
    side: Side
    wood: Box
    walls: tuple[Wall, ...]
    run: Axis
    gap: Fraction = Fraction(0)
    through: bool = False

    @property
    def depth(self) -> Fraction:
        """From the host's face to the floor; the host's whole size where there is none."""
        if self.through:
            return self.host.box[self.side.axis].size
        return abs(self.host.face(self.side) - at(self.wood, self.side.opposite)) + self.gap

    @property
    def corners(self) -> tuple[tuple[Wall, Wall], ...]:
        """The pairs of walls that meet in an inside corner."""
        return tuple(
            (one, other)
            for i, one in enumerate(self.walls)
            for other in self.walls[i + 1 :]
            if one.side.axis != other.side.axis
        )

    def across(self, axis: Axis) -> tuple[Wall, ...]:
        """The walls facing along `axis`: none, one or two."""
        return tuple(wall for wall in self.walls if wall.side.axis == axis)


def closed_sides(host: Part, side: Side, wood: Box) -> tuple[Side, ...]:
    """The sides round `wood`, in the plane of `side`, on which the host goes on beyond it."""
    return tuple(
        edge for axis in side.plane for edge in both_sides(axis) if not host.reaches(edge, wood)
    )


def demand(*sockets: Socket) -> Demand:
    """What these sockets together ask of one bit."""
    widths = [
        socket.wood[axis].size + sum(wall.clear for wall in walls)
        for socket in sockets
        for axis in socket.side.plane
        if len(walls := socket.across(axis)) == 2
    ]
    corners = [(a.clear, b.clear) for socket in sockets for a, b in socket.corners]
    return Demand(
        narrowest=min(widths, default=None),
        deepest=max(socket.depth for socket in sockets),
        clearances=min(corners, default=(Fraction(0), Fraction(0))),
    )


def dug(bench: Bench, socket: Socket) -> Cut | Finding:
    """The cut that makes a socket, reliefs and all."""
    box, lengthened = socket.wood, bench.relief is Relief.LONG
    for axis in socket.side.plane:
        for side in both_sides(axis):
            wall = next((wall for wall in socket.walls if wall.side == side), None)
            if wall is None:
                box = moved(with_face(box, side, socket.host.face(side)), side, OUT)
            elif lengthened and axis == socket.run:
                away = max(wall.clear, Fraction(_extension(bench, socket, wall)))
                box = moved(box, side, away)
                if socket.host.reaches(side, box):
                    return _runs_out(bench, socket, wall, box)
            else:
                box = moved(box, side, wall.clear)
    step = Step(host=socket.host, mate=socket.guest, side=socket.side, box=box, run=socket.run)
    depth = None if socket.through else socket.depth
    as_drawn = bench.relief in (Relief.LONG, Relief.HALF_ROUND)
    return _cut(replace(bench, relief=Relief.NONE) if as_drawn else bench, step, depth)


def _extension(bench: Bench, socket: Socket, end: Wall) -> float:
    """How far past the guest's wood an end wall must lie so that its fillets clear square edges."""
    beside = [wall.clear for wall in socket.walls if wall.side.axis != end.side.axis]
    if not beside:
        return 0.0
    return long_extension(bench.picked.radius, float(min(beside)))


def _runs_out(bench: Bench, socket: Socket, end: Wall, past: Box) -> Finding:
    host, bit = socket.host, bench.picked.bit
    return RunsOut(
        place=bench.meeting.option_place("relief"),
        board=host.name,
        mate=socket.guest.name,
        family=bench.meeting.join.family,
        axis=host.own_side(end.side).axis,
        extension=_extension(bench, socket, end),
        past=float(abs(at(past, end.side) - host.face(end.side))),
        bit=bit.name,
        radius=bit.radius,
        relief_place=written_at(bench.meeting.join, "relief"),
    )


def stepped(bench: Bench, step: Step) -> Cut:
    """The cut that takes the step's box off its board: a shoulder's pocket, or a notch where the
    box goes through. It runs out past the blank wherever the box comes to its surface."""
    host, side, box = step.host, step.side, step.box
    through = host.reaches(side.opposite, box)
    depth = None if through else abs(host.face(side) - at(box, side.opposite))
    for axis in side.plane:
        for edge in both_sides(axis):
            if host.reaches(edge, box):
                box = moved(with_face(box, edge, host.face(edge)), edge, OUT)
    return _cut(bench, replace(step, box=box), depth)


def _cut(bench: Bench, step: Step, depth: Fraction | None) -> Cut:
    """The cut that removes the step's box, as far as the bit can; `depth` None goes through."""
    host, own = step.host, step.host.own_side(step.side)
    asked = _outline(host, own, step.box)
    bite = Bite.V if host.own.axis(step.run)[0] == own.plane[0] else Bite.U
    picked = bench.picked
    return Cut(
        board=host.name,
        side=own,
        work=Work.THROUGH if depth is None else Work.POCKET,
        region=relieved(asked, _limits(host, own), picked.radius, bench.relief, bite),
        asked=asked,
        depth=None if depth is None else float(depth),
        bit=picked.bit.name,
        joint=bench.meeting.name,
        mate=step.mate.name,
        place=bench.meeting.join.place,
    )


def finished(
    bench: Bench, cuts: Iterable[Cut], matings: Iterable[Mating] = ()
) -> Outcome[JointCuts]:
    """The joint with its bit, and a finding where a relief found no room."""
    made = JointCuts(
        cuts=tuple(cuts),
        matings=tuple(matings),
        bit=bench.picked.bit.name,
        bit_chosen=bench.picked.chosen,
    )
    return Outcome(made, _unswept(bench, made.cuts))


def _unswept(bench: Bench, cuts: tuple[Cut, ...]) -> tuple[Finding, ...]:
    """A finding for each board where a swept relief was asked for and some corners had no room."""
    if bench.relief is not Relief.SWEPT:
        return ()
    parts = {part.name: part for part in (bench.meeting.a, bench.meeting.b)}
    short: dict[str, int] = {}
    for cut in cuts:
        limits = _limits(parts[cut.board], cut.side)
        replaced = relieve(cut.asked, limits, bench.picked.radius, Relief.SWEPT).replaced
        if replaced:
            short[cut.board] = short.get(cut.board, 0) + len(replaced)
    bit = bench.picked.bit
    return tuple(
        NoRoomToSweep(
            place=bench.meeting.option_place("relief"),
            joint=bench.meeting.name,
            board=board,
            corners=corners,
            bit=bit.name,
            radius=bit.radius,
        )
        for board, corners in short.items()
    )


def _limits(host: Part, own: Side) -> tuple[float, float, float, float]:
    """The blank's bounds in the plane of its own side: least u, least v, greatest u, greatest v."""
    u, v = (host.board.box[axis] for axis in own.plane)
    return (float(u.lo), float(v.lo), float(u.hi), float(v.hi))


def _outline(host: Part, own: Side, box: Box) -> Region:
    """The box's outline in the coordinates of the host's own side."""
    own_box = host.own.box(box)
    u, v = own_box[own.plane[0]], own_box[own.plane[1]]
    return rectangle(float(u.lo), float(v.lo), float(u.hi), float(v.hi))


def rounded(bench: Bench, socket: Socket) -> tuple[Cut, ...]:
    """The roundovers, worked from the guest's end, on the edges that lie in the socket's corners.

    Each runs from the end to the plane of the host's face the guest came in by. None without a
    companion bit.
    """
    bit = bench.picked.companion
    if bit is None:
        return ()
    guest, end = socket.guest, socket.side.opposite
    depth = float(abs(guest.face(end) - socket.host.face(socket.side)))
    cuts = []
    for corner in socket.corners:
        region = _spandrel(socket, corner, float(bit.radius))
        cuts.append(
            Cut(
                board=guest.name,
                side=guest.own_side(end),
                work=Work.ROUND,
                region=region,
                asked=region,
                depth=depth,
                bit=bit.name,
                by_hand=bit.by_hand,
                joint=bench.meeting.name,
                mate=socket.host.name,
                place=bench.meeting.join.place,
            )
        )
    return tuple(cuts)


def _spandrel(socket: Socket, corner: tuple[Wall, Wall], radius: float) -> Region:
    """The roundover's region on the wood's edge in a corner, run out a hair into the air there."""
    guest = socket.guest
    own_box = guest.own.box(socket.wood)
    facing = {side.axis: side for side in (guest.own_side(wall.side) for wall in corner)}
    u, v = guest.own_side(socket.side.opposite).plane
    out = min(BESIDE + max(float(wall.clear) for wall in corner), radius)
    edge = (float(at(own_box, facing[u])), float(at(own_box, facing[v])))
    walls = (
        (-1.0 if facing[u].positive else 1.0, 0.0),
        (0.0, -1.0 if facing[v].positive else 1.0),
    )
    into, arc, back = roundover_spandrel(edge, walls, radius).loops[0]
    first, second = _step(into.start, into.end, out), _step(back.end, back.start, out)
    outer = (edge[0] - first[0] - second[0], edge[1] - first[1] - second[1])
    low = (arc.start[0] - second[0], arc.start[1] - second[1])
    high = (arc.end[0] - first[0], arc.end[1] - first[1])
    path = (Line(outer, low), Line(low, arc.start), arc, Line(arc.end, high), Line(high, outer))
    return Region((path,))


def _step(start: Point2, end: Point2, size: float) -> Point2:
    """A step of `size` from one point towards another that lies along u or v from it."""
    du, dv = end[0] - start[0], end[1] - start[1]
    return (math.copysign(size, du), 0.0) if abs(du) > abs(dv) else (0.0, math.copysign(size, dv))


def plays(meeting: Meeting, socket: Socket, asked: Fraction) -> tuple[Mating, ...]:
    """One mating for each axis across which the socket has both its walls.

    Along its thickness the guest follows the stock one for one, shoulders or not: those are cut
    from its own faces.
    """
    found = []
    for axis in sorted(socket.side.plane):
        walls = socket.across(axis)
        if len(walls) != 2:
            continue
        size = socket.wood[axis].size
        follows = axis == socket.guest.thick
        found.append(
            Mating(
                joint=meeting.name,
                part=socket.guest.name,
                socket=socket.host.name,
                axis=socket.guest.own.axis(axis)[0],
                socket_axis=socket.host.own.axis(axis)[0],
                socket_size=float(size + walls[0].clear + walls[1].clear),
                part_size=float(size),
                asked=float(asked),
                follows=socket.guest.stock.name if follows else None,
                place=meeting.join.place,
            )
        )
    return tuple(found)


def third(side: Side, axis: Axis) -> Axis:
    """The other axis in the plane of `side`."""
    return other_axis(side.axis, axis)
