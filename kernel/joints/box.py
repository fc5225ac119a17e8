"""Box joint (finger joint): `A to B with box`.

Two boards meet at a corner and share a block as thick as both. Pins of A and of B take turns across
their width (`pins.py` says which); each board is cut through where the other's pin goes. Where a
board goes on beyond the corner its pins stand proud: extended pins, wide and with a `peg` on each.

Fit. Every flank moves back by a quarter of `fit` on both boards, so that each socket is `fit` wider
than the pin in it, and with `fit 0mm` exactly as wide. Roots are flush: a pin's length is the
mate's thickness.

Half-round. With `relief half_round` sockets keep their fillets and the pin edges that lie in them
are rounded by hand. `round every` rounds the outer edges of the pins alike, so that all four long
edges of a pin look the same.

Defaults. Pins about as wide as the thicker board: half to one thickness is usual (common practice).
`fit` 0.1 mm a pin, of 0.05 to 0.15 (common practice). `relief corner` at the roots of the sockets.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from ..cuts import Cut, Mating
from ..design import Verb
from ..finding import Finding, Outcome
from ..relief import Relief
from .bits import pick
from .carve import Bench, Socket, Wall, demand, dug, finished, plays, rounded
from .corner import Corner, corner_of
from .family import Family, JointCuts
from .meeting import Meeting, moved, with_face
from .options import Reading, ReliefAsked, choice
from .pegs import OPTIONS as PEGS
from .pegs import Pegs, peg_cuts, read_pegs
from .pins import (
    BIT,
    FIT,
    RELIEF,
    WIDTHS,
    Fingers,
    crowded,
    pin_bounds,
    read_fingers,
    slivers,
    sockets_of,
)


class Round(Enum):
    """Which edges of a pin the companion roundover takes."""

    MATING = "mating"
    EVERY = "every"


ROUND = choice(
    "round", Round.MATING, "pin edges rounded with `half_round`: those in fillets, or `every`"
)


@dataclass(frozen=True, slots=True)
class BoxJoint:
    """`pegs` None for none."""

    fingers: Fingers
    round: Round
    pegs: Pegs | None


def _read(reading: Reading) -> BoxJoint:
    """The options as written; `round every` says `relief half_round` by itself."""
    fingers, rounds = read_fingers(reading), reading.take(ROUND)
    if rounds is Round.EVERY and fingers.relief.relief is not Relief.HALF_ROUND:
        reading.not_both(RELIEF, ROUND)
        relief = ReliefAsked(Relief.HALF_ROUND, place=reading.place(ROUND))
        fingers = replace(fingers, relief=relief)
    return BoxJoint(fingers, rounds, read_pegs(reading))


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A corner with its sockets laid out and a bit picked; `told` are warnings on the way."""

    corner: Corner
    sockets: tuple[Socket, ...]
    bench: Bench
    told: tuple[Finding, ...]


def _cut(meeting: Meeting, options: BoxJoint) -> Outcome[JointCuts]:
    laid = laid_out(meeting, options.fingers)
    if isinstance(laid, Finding):
        return Outcome(None, (laid,))
    cuts = interlocked(laid)
    if isinstance(cuts, Finding):
        return Outcome(None, (*laid.told, cuts))
    if options.round is Round.EVERY:
        cuts += tuple(cut for socket in laid.sockets for cut in _outer_rounds(laid, socket))
    made = finished(laid.bench, cuts, fits_of(laid, options.fingers.fit))
    if options.pegs is not None and made.value is not None:
        pegged = peg_cuts(meeting, laid.sockets, options.pegs, options.fingers.bit)
        if isinstance(pegged, Finding):
            return Outcome(None, (*laid.told, pegged))
        recesses, ware = pegged
        joint = replace(made.value, cuts=(*made.value.cuts, *recesses), hardware=(ware,))
        made = replace(made, value=joint)
    return replace(made, findings=(*laid.told, *made.findings))


def laid_out(meeting: Meeting, fingers: Fingers, cover: Fraction = Fraction(0)) -> Laid | Finding:
    """The sockets of a corner, right through or under a skin of `cover`, and the bit for them."""
    corner = corner_of(meeting)
    if isinstance(corner, Finding):
        return corner
    too_many = crowded(meeting, corner, fingers)
    if too_many is not None:
        return too_many
    bounds = pin_bounds(meeting, corner, fingers)
    if isinstance(bounds, Finding):
        return bounds
    sockets = sockets_of(meeting, corner, bounds, fingers)
    if cover:
        sockets = tuple(_under_skin(socket, cover) for socket in sockets)
    picked = pick(meeting, fingers.bit, fingers.relief, demand(*sockets))
    if isinstance(picked, Finding):
        return picked
    return Laid(
        corner=corner,
        sockets=sockets,
        bench=Bench(meeting, picked, fingers.relief.relief),
        told=slivers(meeting, corner, bounds, fingers, cover),
    )


def _under_skin(socket: Socket, cover: Fraction) -> Socket:
    """The socket with a floor: the host's skin."""
    outer = socket.side.opposite
    floor = with_face(socket.wood, outer, socket.host.face(outer))
    return replace(socket, wood=moved(floor, outer, -cover), through=False)


def interlocked(laid: Laid) -> tuple[Cut, ...] | Finding:
    """The cuts of all sockets, then the roundovers of the pins in them."""
    cuts: list[Cut] = []
    for socket in laid.sockets:
        cut = dug(laid.bench, socket)
        if isinstance(cut, Finding):
            return cut
        cuts.append(cut)
    for socket in laid.sockets:
        cuts.extend(rounded(laid.bench, socket))
    return tuple(cuts)


def _outer_rounds(laid: Laid, socket: Socket) -> tuple[Cut, ...]:
    """The roundovers of the edges that a pin turns to the outside of the corner."""
    outside = tuple(
        Wall(wall.side.opposite, Fraction(0)) if wall.side.axis == socket.run else wall
        for wall in socket.walls
    )
    return rounded(laid.bench, replace(socket, walls=outside))


def fits_of(laid: Laid, fit: Fraction) -> tuple[Mating, ...]:
    """Each play once: pins of one width all play alike."""
    every = (play for socket in laid.sockets for play in plays(laid.bench.meeting, socket, fit))
    return tuple(dict.fromkeys(every))


BOX = Family(
    name="box",
    title="box joint",
    words="pins of A and B take turns across a corner",
    verbs=(Verb.TO,),
    options=(*WIDTHS, *PEGS, FIT, RELIEF, ROUND, BIT),
    read=_read,
    cut=_cut,
)
