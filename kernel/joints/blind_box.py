"""Blind box joint: `A to B with blind_box`.

A box joint whose fingers stay under a skin of thickness `cover` on the outside of both boards, so
that one thin line shows along the corner. The skin of B runs out to A's outer face and A's end is
set back by as much; A's own skin comes up against it from inside:

            A's outer face
          +--+------+            z = 0: B's outer face, one skin of B
          |B       B|  cover     B's skin, the whole thickness of A
          +--+------+
          |A | A/B  |            fingers of A and B take turns, under A's skin
          +--+------+  B's thickness

Each board is worked from its inside face alone: B's pockets stop at its skin and reach out to the
air past A's outer face, A's pockets stop at A's. Fingers, fit and reliefs are those of the box
joint (`box.py`).

Defaults. `cover` 3 mm: the thinnest skin that survives sanding (common practice). `relief corner`
at the roots. Fingers about as wide as the thicker board.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..cuts import Cut
from ..design import Verb
from ..finding import Finding, Outcome
from ..joint_findings import WrongSize
from .bits import pick
from .box import (
    BIT,
    FIRST,
    FIT,
    PIN_SIZE,
    PINS,
    RELIEF,
    BoxJoint,
    Corner,
    corner_of,
    crowded,
    different,
    pin_bounds,
    read_box,
    sockets_of,
)
from .carve import Bench, Socket, Step, demand, dug, finished, plays, rounded, stepped
from .family import Family, JointCuts
from .meeting import Meeting, at, moved, with_face
from .options import Reading, above_zero

COVER = above_zero("cover", Fraction(3), "3mm", "how thick the skin over the fingers is")


@dataclass(frozen=True, slots=True)
class BlindBox:
    """`cover` in mm; the fingers as in a box joint."""

    fingers: BoxJoint
    cover: Fraction


def _read(reading: Reading) -> BlindBox:
    return BlindBox(fingers=read_box(reading), cover=reading.take(COVER))


def _cut(meeting: Meeting, options: BlindBox) -> Outcome[JointCuts]:
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return Outcome(None, (corner,))
    amiss = _thick_skin(meeting, options.cover) or crowded(meeting, corner, options.fingers)
    if amiss is not None:
        return Outcome(None, (amiss,))
    bounds = pin_bounds(meeting, corner, options.fingers)
    if isinstance(bounds, Finding):
        return Outcome(None, (bounds,))
    sockets = tuple(
        _under_skin(socket, options.cover)
        for socket in sockets_of(meeting, corner, bounds, options.fingers)
    )
    asked = options.fingers.relief
    picked = pick(meeting, options.fingers.bit, asked, demand(*sockets))
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    bench = Bench(meeting, picked, asked.relief)
    cuts: list[Cut] = [stepped(bench, step) for step in _skin_room(meeting, corner, options.cover)]
    for socket in sockets:
        cut = dug(bench, socket)
        if isinstance(cut, Finding):
            return Outcome(None, (cut,))
        cuts.append(cut)
    for socket in sockets:
        cuts.extend(rounded(bench, socket))
    fit = options.fingers.fit
    return finished(bench, cuts, different(m for s in sockets for m in plays(meeting, s, fit)))


def _thick_skin(meeting: Meeting, cover: Fraction) -> Finding | None:
    """The finding that the skin takes the whole of a board: no finger is left under it."""
    for part in (meeting.a, meeting.b):
        if cover >= part.stock.thick:
            return WrongSize(
                place=meeting.option_place(COVER.name),
                option=COVER.name,
                board=part.name,
                value=cover,
                size=part.stock.thick,
            )
    return None


def _under_skin(socket: Socket, cover: Fraction) -> Socket:
    """The socket with a floor: the host's skin."""
    outer = socket.side.opposite
    host = socket.host
    floor = with_face(socket.wood, outer, host.face(outer))
    return Socket(
        host=host,
        guest=socket.guest,
        side=socket.side,
        wood=moved(floor, outer, -cover),
        walls=socket.walls,
        run=socket.run,
    )


def _skin_room(meeting: Meeting, corner: Corner, cover: Fraction) -> tuple[Step, Step]:
    """What the skins take from the other board: the end of A, and the edge of B's pockets."""
    a, b, shared = meeting.a, meeting.b, meeting.overlap
    a_end, b_end = corner.a_away.opposite, corner.b_away.opposite
    skin_of_b = with_face(shared, corner.a_away, at(shared, a_end))
    skin_of_b = moved(skin_of_b, corner.a_away, cover)
    skin_of_b = with_face(skin_of_b, a_end, a.face(a_end))
    skin_of_a = with_face(shared, corner.b_away, at(shared, b_end))
    skin_of_a = moved(skin_of_a, corner.b_away, cover)
    skin_of_a = moved(skin_of_a, a_end, -cover)
    return (
        Step(host=a, mate=b, side=corner.b_away, box=skin_of_b, run=corner.a_away.axis),
        Step(host=b, mate=a, side=corner.a_away, box=skin_of_a, run=corner.b_away.axis),
    )


BLIND_BOX = Family(
    name="blind_box",
    title="blind box joint",
    words="pins of A and B take turns under a skin",
    verbs=(Verb.TO,),
    options=(PINS, PIN_SIZE, FIRST, COVER, FIT, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
