"""Shallow square recesses on the outside of a corner joint's pins, for pegs that stand proud.

Each lies in the middle of a pin's face, over the mate's thickness. The bit cuts it from the outside
and leaves its corners round; a hollow chisel of the peg's size squares them by hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..corner_findings import PegPastPin
from ..cuts import Cut, Hardware, Side, Ware
from ..finding import Finding
from ..region import Region, rectangle
from ..relief import Relief, relieved, roundover_spandrel
from ..thresholds import LEAST_TONGUE
from .bits import Demand, Picked, pick
from .carve import Socket
from .drawn import Tool, drawn_cut
from .meeting import Meeting
from .options import NamedBit, Reading, ReliefAsked, above_zero, choice, written_at

HOLLOW_CHISEL = Tool("hollow chisel", True)


class Pegged(Enum):
    """Whose pins have a peg."""

    BOTH = "both"
    FIRST = "first"
    SECOND = "second"


PEG = above_zero("peg", None, "none", "width of a square recess for a peg on each pin")
PEG_DEEP = above_zero("peg_deep", Fraction(4), "4mm", "how deep those recesses are")
PEG_ON = choice("peg_on", Pegged.BOTH, "whose pins have them: `both`, `first` or `second`")

OPTIONS = (PEG, PEG_DEEP, PEG_ON)

RIM = Fraction(LEAST_TONGUE)
"""The least wood left between a recess and a pin's edge."""

PROUD = Fraction(2)
"""How far a peg stands out of its recess (common practice: 1 to 3 mm, its edges eased)."""


@dataclass(frozen=True, slots=True)
class Pegs:
    """`wide` and `deep` in mm."""

    wide: Fraction
    deep: Fraction
    on: Pegged


def read_pegs(reading: Reading) -> Pegs | None:
    """What was asked for; None without `peg`."""
    wide, deep, on = reading.take(PEG), reading.take(PEG_DEEP), reading.take(PEG_ON)
    return None if wide is None else Pegs(wide, deep, on)


def peg_cuts(
    meeting: Meeting, sockets: tuple[Socket, ...], pegs: Pegs, bit: NamedBit | None
) -> tuple[tuple[Cut, ...], Hardware] | Finding:
    """The recesses and their corners by hand on the pins that stand in these sockets, and the pegs
    to make. `bit` is the one named for the joint, which is taken where it goes in."""
    faced = [
        socket
        for socket in sockets
        if pegs.on is Pegged.BOTH
        or socket.guest is (meeting.a if pegs.on is Pegged.FIRST else meeting.b)
    ]
    for socket in faced:
        amiss = _past_the_pin(meeting, socket, pegs)
        if amiss is not None:
            return amiss
    need = Demand(narrowest=pegs.wide, deepest=pegs.deep)
    picked = pick(meeting, bit, ReliefAsked(Relief.NONE), need)
    if isinstance(picked, Finding):
        return picked
    cuts = tuple(cut for socket in faced for cut in _recess(meeting, socket, pegs, picked))
    ware = Hardware(
        ware=Ware.SQUARE_PEG,
        sizes=(pegs.wide, pegs.wide, pegs.deep + PROUD),
        count=len(faced),
        joint=meeting.name,
    )
    return cuts, ware


def _past_the_pin(meeting: Meeting, socket: Socket, pegs: Pegs) -> Finding | None:
    """The finding that a recess leaves no rim on its pin's face, or no wood under it."""
    pin, mate = socket.guest, socket.host
    narrowest = min(socket.wood[axis].size for axis in _outside(socket).plane)
    deepest = pin.stock.thick - RIM
    for option, asked, most in (
        (PEG, pegs.wide, narrowest - 2 * RIM),
        (PEG_DEEP, pegs.deep, deepest),
    ):
        if asked > most:
            return PegPastPin(
                place=meeting.option_place(option.name),
                board=pin.name,
                mate=mate.name,
                option=option.name,
                asked=asked,
                most=most,
                has=most + (2 * RIM if option is PEG else RIM),
                value_place=written_at(meeting.join, option.name),
            )
    return None


def _outside(socket: Socket) -> Side:
    """The pin's side that faces out of the corner: away from the socket's root."""
    return next(wall.side for wall in socket.walls if wall.side.axis == socket.run).opposite


def _recess(meeting: Meeting, socket: Socket, pegs: Pegs, picked: Picked) -> tuple[Cut, Cut]:
    """The recess as the bit leaves it, and the corners taken out of it by hand."""
    side, half = _outside(socket), pegs.wide / 2
    (u0, u1), (v0, v1) = (
        (float(middle - half), float(middle + half))
        for middle in ((s.lo + s.hi) / 2 for s in (socket.wood[axis] for axis in side.plane))
    )
    square, radius = rectangle(u0, v0, u1, v1), picked.radius
    corners = tuple(
        roundover_spandrel((u, v), ((du, 0.0), (0.0, dv)), radius).loops[0]
        for u, du in ((u0, 1.0), (u1, -1.0))
        for v, dv in ((v0, 1.0), (v1, -1.0))
    )
    blank = (u0 - radius, v0 - radius, u1 + radius, v1 + radius)
    bored = relieved(square, blank, radius, Relief.NONE)
    bit = Tool(picked.bit.name)
    return (
        drawn_cut(meeting, socket.guest, side, bored, asked=square, depth=pegs.deep, tool=bit),
        drawn_cut(
            meeting, socket.guest, side, Region(corners), depth=pegs.deep, tool=HOLLOW_CHISEL
        ),
    )
