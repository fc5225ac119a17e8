"""Wedged mortise and tenon: `A into B with wedged_tenon`.

A through tenon with saw cuts in its end, into which wedges are driven from B's far face; the
mortise flares towards that face, so that the spread tenon cannot draw back out. All options of
`tenon` hold. Wedges stand across A's thickness and spread the tenon along its width, which must run
with B's grain: across the grain they split B, which is told of solid wood. They take up all play
along the width, so the joint's fit is that across A's thickness.

The saw cuts and the flare are hand work: the machine cuts the mortise straight, the chisel slopes
its two ends from a quarter of B's thickness behind A's shoulder to `flare` at the far face. The
wedges are listed beside the boards: as thick at the head as the saw cut and their share of the
flare at both ends together.

Defaults. Two wedges, at a third of the width from either edge, in saw cuts of 1 mm over three
quarters of B's thickness; `flare` 1.5 mm at each end (1/16 in: common practice).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Box
from ..cuts import Cut, Hardware, Side, Ware
from ..design import Verb
from ..finding import Finding, Outcome
from ..region import Region, rectangle
from ..tenon_findings import WedgesNeedThrough, WedgesSplit
from .carve import OUT
from .drawn import SAW, Tool, drawn_cut
from .family import Family, JointCuts
from .leaning import cut_leaning
from .meeting import Meeting, both_sides, moved, with_face
from .options import Reading, above_zero, length, whole_number
from .tenon import CORE, cut_tenon, read_tenon
from .tenon_layout import Layout, Tenon, laid_out
from .tilted import TiltedMeeting

WEDGES = whole_number("wedges", 2, "2", "how many wedges in each tenon", least=1)
KERF = above_zero("kerf", Fraction(1), "1mm", "width of the saw cuts for them")
FLARE = length("flare", Fraction(3, 2), "1.5mm", "how much wider the mortise's far ends are")

CHISEL = Tool("chisel", True)

STAYS = Fraction(1, 4)
"""The share of B's thickness behind A's shoulder that saw cuts and flare do not come to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgedTenon:
    tenon: Tenon
    wedges: int
    kerf: Fraction
    flare: Fraction


def _read(reading: Reading) -> WedgedTenon:
    return WedgedTenon(
        tenon=read_tenon(reading),
        wedges=reading.take(WEDGES),
        kerf=reading.take(KERF),
        flare=reading.take(FLARE),
    )


def _cut(meeting: Meeting, options: WedgedTenon) -> Outcome[JointCuts]:
    made, layout = cut_tenon(meeting, options.tenon), laid_out(meeting, options.tenon)
    if made.value is None or isinstance(layout, Finding):
        return made
    if not layout.through:
        return Outcome(None, (_not_through(meeting, layout),))
    slots = tuple(
        drawn_cut(meeting, meeting.a, Side(meeting.a.thick, True), region, depth=None, tool=SAW)
        for region in _slots(meeting, layout, options)
    )
    flares = tuple(_flare(meeting, layout, wood, options) for wood in layout.tenons)
    across = meeting.a.own.axis(meeting.a.thick)[0]
    value = replace(
        made.value,
        matings=tuple(play for play in made.value.matings if play.axis == across),
        cuts=(*made.value.cuts, *(flares if options.flare else ()), *slots),
        hardware=(_wedges(meeting, layout, options),),
    )
    return Outcome(value, (*made.findings, *_splits(meeting, layout)))


def _cut_tilted(meeting: TiltedMeeting, options: WedgedTenon) -> Outcome[JointCuts]:
    def square(upright: Meeting, tenon: Tenon) -> Outcome[JointCuts]:
        return _cut(upright, replace(options, tenon=tenon))

    return cut_leaning(meeting, options.tenon, square)


def _not_through(meeting: Meeting, layout: Layout) -> Finding:
    a, b, far = meeting.a, meeting.b, layout.entry.opposite
    return WedgesNeedThrough(
        place=meeting.place,
        board=a.name,
        mate=b.name,
        axis=a.own.axis(far.axis)[0],
        short=-a.beyond(far, b),
        board_place=a.board.place,
    )


def _splits(meeting: Meeting, layout: Layout) -> tuple[Finding, ...]:
    b = meeting.b
    if layout.wide == b.length or b.stock.sheet is not None:
        return ()
    return (
        WedgesSplit(
            place=meeting.place,
            board=meeting.a.name,
            mate=b.name,
            axis=b.own.axis(layout.wide)[0],
        ),
    )


def _deep(meeting: Meeting, layout: Layout) -> Fraction:
    """How deep saw cuts and flare go from B's far face."""
    return (1 - STAYS) * meeting.b.box[layout.entry.axis].size


def _slots(meeting: Meeting, layout: Layout, options: WedgedTenon) -> tuple[Region, ...]:
    """The saw cuts, in the plane of A's face: evenly over each tenon of a row."""
    far = layout.entry.opposite
    inner = moved(layout.whole, layout.entry, -(layout.whole[far.axis].size))
    start = with_face(inner, far, meeting.a.face(far))
    bottom = meeting.b.face(far) + (-1 if far.positive else 1) * _deep(meeting, layout)
    box = moved(with_face(start, layout.entry, bottom), far, OUT)
    low, high = both_sides(layout.wide)
    spans = sorted({(wood[layout.wide].lo, wood[layout.wide].hi) for wood in layout.tenons})
    found = []
    for lo, hi in spans:
        for i in range(1, options.wedges + 1):
            middle = lo + (hi - lo) * i / (options.wedges + 1)
            slot = with_face(box, low, middle - options.kerf / 2)
            found.append(with_face(slot, high, middle + options.kerf / 2))
    return tuple(_outline(slot, Side(meeting.a.thick, True)) for slot in found)


def _outline(box: Box, side: Side) -> Region:
    """The box as seen on a side of the meeting."""
    u, v = (box[axis] for axis in side.plane)
    return rectangle(float(u.lo), float(v.lo), float(u.hi), float(v.hi))


def _flare(meeting: Meeting, layout: Layout, wood: Box, options: WedgedTenon) -> Cut:
    """The sloped ends of a mortise, from B's far face: as long as the mortise at the bottom."""
    clear, side = options.tenon.fit / 2, layout.entry.opposite
    bottom = wood
    for axis in side.plane:
        for edge in both_sides(axis):
            bottom = moved(bottom, edge, clear)
    mouth = bottom
    for edge in both_sides(layout.wide):
        mouth = moved(mouth, edge, options.flare)
    return drawn_cut(
        meeting,
        meeting.b,
        side,
        _outline(mouth, side),
        depth=_deep(meeting, layout),
        tool=CHISEL,
        floor=_outline(bottom, side),
    )


def _wedges(meeting: Meeting, layout: Layout, options: WedgedTenon) -> Hardware:
    """Wedges as thick at the head as the room they fill, as wide as a tenon is thick."""
    wood = layout.tenons[0]
    thick = options.kerf + 2 * options.flare / options.wedges
    proud = meeting.a.beyond(layout.entry.opposite, meeting.b)
    long = _deep(meeting, layout) + max(proud, Fraction(0))
    return Hardware(
        ware=Ware.WEDGE,
        sizes=(thick, wood[meeting.a.thick].size, long),
        count=options.wedges * len(layout.tenons),
        joint=meeting.name,
    )


WEDGED_TENON = Family(
    name="wedged_tenon",
    title="wedged mortise and tenon",
    words="a through tenon, spread by wedges in its end",
    verbs=(Verb.INTO,),
    options=(WEDGES, KERF, FLARE, *CORE),
    read=_read,
    cut=_cut,
    cut_tilted=_cut_tilted,
)
