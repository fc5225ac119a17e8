"""Mitre and splined mitre: `A to B with mitre`, `A to B with splined_mitre`.

Two boards meet at a corner, each cut off along the plane from the inside edge to the outside edge
of the corner. Boards of one thickness make a true mitre at half the angle, others a plane that
leaves both faces whole. Boards at any angle about an axis they share are mitred alike, so that the
sides of a polygon close; each runs to the outside edge of the corner.

A v bit of just the included angle cuts it on the machine, from the inside face; else it is a step
at the saw, by hand. A splined mitre has a slot in each slanting face, square to it and a third of
the way from the inside edge, for a strip across the joint: cut on the saw too, with the board or
the blade at the slant.

Defaults. `fit` 0: the faces close. A spline `thick` 4 mm, as wide as the thinner board is thick,
with its slots `fit` 0.1 mm wider than it (common practice), and `gap` 0.5 mm deeper at each end for
glue.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Span
from ..crossing_findings import BitMissesMitre, SlotBreaksOut
from ..cuts import Hardware, Ware, Work
from ..cutter import Bit, BitKind
from ..design import Verb
from ..finding import Finding, Outcome
from ..region import Point2
from ..thresholds import LEAN_AGREES, LEAST_TONGUE, OVERSHOOT, SAME
from .bits import of_kind
from .drawn import SAW, Tool
from .family import Family, JointCuts
from .meeting import Meeting, other_axis
from .options import NamedBit, Reading, above_zero, bit_named, length, written_at
from .slant import AnyMeeting, Slant, Slants, square_slants, turned_slants
from .tilted import TiltedMeeting

FIT = length("fit", Fraction(0), "0mm", "room left between the two slanting faces")
BIT = bit_named(
    "bit", "the v bit that cuts the slant; without one it is sawn by hand", "the first that suits"
)
SLOT_FIT = length("fit", Fraction(1, 10), "0.1mm", "width of the slots less the spline's thickness")
THICK = above_zero("thick", Fraction(4), "4mm", "how thick the spline is")
WIDTH = above_zero("width", None, "the thinner board's thickness", "how wide the spline is")
GAP = length("gap", Fraction(1, 2), "0.5mm", "room left in each slot under the spline's edge")


@dataclass(frozen=True, slots=True)
class Mitre:
    fit: Fraction
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Splined:
    """Lengths in mm."""

    fit: Fraction
    thick: Fraction
    width: Fraction | None
    gap: Fraction
    bit: NamedBit | None


def _cut_mitre(meeting: Meeting, options: Mitre) -> Outcome[JointCuts]:
    return _mitred(meeting, square_slants(meeting), options)


def _turn_mitre(meeting: TiltedMeeting, options: Mitre) -> Outcome[JointCuts]:
    return _mitred(meeting, turned_slants(meeting), options)


def _cut_splined(meeting: Meeting, options: Splined) -> Outcome[JointCuts]:
    slants = square_slants(meeting)
    if isinstance(slants, Finding):
        return Outcome(None, (slants,))
    span = meeting.overlap[other_axis(meeting.a.thick, meeting.b.thick)]
    return _splined(meeting, slants, span, options)


def _turn_splined(meeting: TiltedMeeting, options: Splined) -> Outcome[JointCuts]:
    a, b = meeting.a.span, meeting.b.span
    span = Span(max(a.lo, b.lo), min(a.hi, b.hi))
    return _splined(meeting, turned_slants(meeting), span, options)


def _mitred(meeting: AnyMeeting, slants: Slants | Finding, options: Mitre) -> Outcome[JointCuts]:
    """All of each board beyond the slant, half the fit farther in."""
    if isinstance(slants, Finding):
        return Outcome(None, (slants,))
    cuts = []
    used: Bit | None = None
    for slant in slants:
        bit = _bit(meeting, slant, options.bit)
        if isinstance(bit, Finding):
            return Outcome(None, (bit,))
        used = bit or used
        tool = SAW if bit is None else Tool(bit.name, bit.by_hand)
        cuts.append(slant.cut(meeting, slant.beyond(float(options.fit) / 2), Work.BEVEL, tool))
    name = None if used is None else used.name
    return Outcome(JointCuts(cuts=tuple(cuts), bit=name, bit_chosen=options.bit is None))


def _splined(
    meeting: AnyMeeting, slants: Slants | Finding, span: Span, options: Splined
) -> Outcome[JointCuts]:
    """The mitre, and across it a strip as long as what the boards share along the corner."""
    mitred = _mitred(meeting, slants, Mitre(Fraction(0), options.bit))
    if mitred.value is None or isinstance(slants, Finding):
        return mitred
    width = options.width or min(slant.part.stock.thick for slant in slants)
    slots = []
    for slant in slants:
        wrong = _breaks_out(meeting, slant, options, width)
        if wrong is not None:
            return Outcome(None, (wrong,))
        points = _slot_corners(slant, options, width, -OVERSHOOT)
        slots.append(slant.cut(meeting, points, Work.SLOT, SAW))
    spline = Hardware(
        ware=Ware.SPLINE, sizes=(options.thick, width, span.size), count=1, joint=meeting.name
    )
    cuts = (*mitred.value.cuts, *slots)
    return Outcome(replace(mitred.value, cuts=cuts, hardware=(spline,)))


def _bit(meeting: AnyMeeting, slant: Slant, named: NamedBit | None) -> Bit | Finding | None:
    """The v bit named, which must suit; else a declared one that does; None for the saw.

    Flat on the machine with its inside face up, the board's slant leans like the flank of a v bit
    of twice the angle; the bit's point goes through the board's thickness.
    """
    wanted = 2 * slant.degrees
    thick = slant.thick
    if named is None:
        suits = (b for b in meeting.bits if b.kind is BitKind.V and _suits(b, wanted, thick))
        return next(suits, None)
    found = of_kind(meeting, named, BitKind.V)
    if isinstance(found, Finding):
        return found
    (bit,) = found
    if _suits(bit, wanted, thick):
        return bit
    right = bit.angle is not None and abs(float(bit.angle) - wanted) <= LEAN_AGREES
    return BitMissesMitre(
        place=named.place or meeting.place,
        bit=bit.name,
        angle=bit.angle,
        wanted=wanted,
        thick=thick,
        covers=_covers(bit) if right else None,
        bit_place=bit.place,
    )


def _suits(bit: Bit, wanted: float, thick: Fraction) -> bool:
    if bit.angle is None or abs(float(bit.angle) - wanted) > LEAN_AGREES:
        return False
    return _covers(bit) >= float(thick) - SAME


def _covers(bit: Bit) -> float:
    """How thick a board the bit's flank cuts, mm."""
    height = float(bit.radius) / math.tan(math.radians(float(bit.angle or 0)) / 2)
    return height if bit.flute is None else min(height, float(bit.flute))


# --- the spline's slots --------------------------------------------------------------------------

SPLINE_AT = 1 / 3
"""Where the slot lies from the inside edge of the slant, where the wood behind it is thickest
(common practice)."""


def _slot_corners(
    slant: Slant, options: Splined, width: Fraction, mouth: float
) -> tuple[Point2, ...]:
    """Round the slot in order, from `mouth` before the slanting face to its floor."""
    half = float(options.thick + options.fit) / 2
    deep = float(width / 2 + options.gap)
    middle = SPLINE_AT * slant.size
    ends = ((-half, mouth), (-half, deep), (half, deep), (half, mouth))
    return tuple(slant.point(middle + along, into) for along, into in ends)


def _breaks_out(
    meeting: AnyMeeting, slant: Slant, options: Splined, width: Fraction
) -> Finding | None:
    """The slot must leave skin to both faces: to the inner one at its mouth, to the outer one at
    its floor."""
    depths = [slant.depth(p) for p in _slot_corners(slant, options, width, 0.0)]
    left = min(min(depth, float(slant.thick) - depth) for depth in depths)
    if left >= LEAST_TONGUE - SAME:
        return None
    narrower = 2 * (LEAST_TONGUE - left) / math.sin(math.radians(slant.degrees))
    most = float(width) - narrower
    return SlotBreaksOut(
        place=meeting.option_place(WIDTH.name),
        board=slant.part.name,
        mate=slant.mate.name,
        width=width,
        left=left,
        least=LEAST_TONGUE,
        most=most if most > float(options.thick) else None,
        value_place=written_at(meeting.join, WIDTH.name),
    )


def _read_mitre(reading: Reading) -> Mitre:
    return Mitre(reading.take(FIT), reading.take(BIT))


def _read_splined(reading: Reading) -> Splined:
    return Splined(
        fit=reading.take(SLOT_FIT),
        thick=reading.take(THICK),
        width=reading.take(WIDTH),
        gap=reading.take(GAP),
        bit=reading.take(BIT),
    )


MITRE = Family(
    name="mitre",
    title="mitre",
    words="both boards end on one slanting plane, nothing shows but a line",
    verbs=(Verb.TO,),
    options=(FIT, BIT),
    read=_read_mitre,
    cut=_cut_mitre,
    cut_tilted=_turn_mitre,
)
SPLINED_MITRE = Family(
    name="splined_mitre",
    title="splined mitre",
    words="a mitre with a strip across it in two slots",
    verbs=(Verb.TO,),
    options=(SLOT_FIT, THICK, WIDTH, GAP, BIT),
    read=_read_splined,
    cut=_cut_splined,
    cut_tilted=_turn_splined,
)
