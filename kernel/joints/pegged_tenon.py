"""Pegged (drawbored) mortise and tenon: `A into B with pegged_tenon`.

A tenon held by pegs through B's cheeks and the tenon. The tenon's holes lie `draw` nearer A's
shoulder than B's: a tapered peg driven in draws the shoulder tight and needs no clamp. All options
of `tenon` hold. The pegs are listed beside the boards; their holes go right through B.

Defaults. Two pegs of 8 mm, spread evenly over each tenon, in the middle of its length; `draw` 1 mm,
of 0.8 to 1.6 (1/32 to 1/16 in), a quarter of the peg at most. Half a peg of wood is left round each
hole (all common practice).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..board import Box
from ..cuts import Cut, Hardware, Side, Ware, Work
from ..design import Verb
from ..finding import Finding, Outcome
from ..region import disc
from ..tenon_findings import PegMissesTenon
from .bits import drilling
from .drawn import Tool, drawn_cut, in_plane
from .family import Family, JointCuts
from .leaning import cut_leaning
from .meeting import Meeting
from .options import NamedBit, Reading, above_zero, bit_named, length, whole_number, written_at
from .tenon import CORE, cut_tenon, read_tenon
from .tenon_layout import Layout, Tenon, laid_out
from .tilted import TiltedMeeting

PEGS = whole_number("pegs", 2, "2", "how many pegs in each tenon", least=1)
PEG = above_zero("peg", Fraction(8), "8mm", "how wide a peg is")
DRAW = length("draw", Fraction(1), "1mm", "how much nearer A's shoulder the tenon's holes lie")
BACK = above_zero("back", None, "half the tenon", "from B's face to the middle of its holes")
DRILL = bit_named("drill", "the drill, or the straight bit that goes round in the hole")


@dataclass(frozen=True, slots=True, kw_only=True)
class PeggedTenon:
    """Lengths in mm; `back` None for the middle of the tenon."""

    tenon: Tenon
    pegs: int
    peg: Fraction
    draw: Fraction
    back: Fraction | None
    drill: NamedBit | None


def _read(reading: Reading) -> PeggedTenon:
    return PeggedTenon(
        tenon=read_tenon(reading),
        pegs=reading.take(PEGS),
        peg=reading.take(PEG),
        draw=reading.take(DRAW),
        back=reading.take(BACK),
        drill=reading.take(DRILL),
    )


def _cut(meeting: Meeting, options: PeggedTenon) -> Outcome[JointCuts]:
    made, layout = cut_tenon(meeting, options.tenon), laid_out(meeting, options.tenon)
    if made.value is None or isinstance(layout, Finding):
        return made
    deep = layout.whole[layout.entry.axis].size
    back = deep / 2 if options.back is None else options.back
    wrong = _no_room(meeting, layout, back, options)
    if wrong is not None:
        return Outcome(None, (wrong,))
    across = meeting.b.box[meeting.a.thick].size
    picked = drilling(meeting, options.drill, options.peg, across)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    tool = Tool(picked.bit.name, picked.bit.by_hand)
    holes = _holes(meeting, layout, back, options, tool)
    pegs = Hardware(
        ware=Ware.PEG, sizes=(options.peg, across), count=len(holes) // 2, joint=meeting.name
    )
    value = replace(made.value, cuts=(*made.value.cuts, *holes), hardware=(pegs,))
    return Outcome(value, made.findings)


def _cut_tilted(meeting: TiltedMeeting, options: PeggedTenon) -> Outcome[JointCuts]:
    def square(upright: Meeting, tenon: Tenon) -> Outcome[JointCuts]:
        return _cut(upright, replace(options, tenon=tenon))

    return cut_leaning(meeting, options.tenon, square)


def _no_room(
    meeting: Meeting, layout: Layout, back: Fraction, options: PeggedTenon
) -> Finding | None:
    """The finding that a hole does not lie in the tenon with half a peg of wood round it, or that
    the peg is drawn too far."""
    wood = layout.tenons[0]
    deep, width = wood[layout.entry.axis].size, wood[layout.wide].size
    wanted = options.peg * 3 / 2
    nearest = min(back - options.draw, deep - back)
    checks = (
        ("length", 2 * max(nearest, Fraction(0)), wanted),
        ("width", width / options.pegs, wanted),
        ("draw", options.peg / 4, options.draw),
    )
    for along, room, needed in checks:
        if room < needed:
            option = DRAW.name if along == "draw" else PEG.name
            return PegMissesTenon(
                place=meeting.option_place(option),
                board=meeting.a.name,
                diameter=options.peg,
                along=along,
                room=room,
                needed=needed,
                value_place=written_at(meeting.join, option),
            )
    return None


def _holes(
    meeting: Meeting, layout: Layout, back: Fraction, options: PeggedTenon, tool: Tool
) -> tuple[Cut, ...]:
    """B's holes and then the tenon's, each from one face right through."""
    inwards = -1 if layout.entry.positive else 1
    face = meeting.b.face(layout.entry)
    side = Side(meeting.a.thick, True)
    cuts = []
    for host, from_face in ((meeting.b, back), (meeting.a, back - options.draw)):
        for along in _spots(layout, options.pegs):
            middle = in_plane(
                side, layout.entry.axis, float(face + inwards * from_face), float(along)
            )
            hole = disc(middle, float(options.peg / 2))
            cuts.append(drawn_cut(meeting, host, side, hole, depth=None, tool=tool, work=Work.BORE))
    return tuple(cuts)


def _spots(layout: Layout, pegs: int) -> tuple[Fraction, ...]:
    """Where pegs stand along A's width: evenly in each tenon of a row, twins alike."""
    row: dict[tuple[Fraction, Fraction], Box] = {}
    for wood in layout.tenons:
        row.setdefault((wood[layout.wide].lo, wood[layout.wide].hi), wood)
    return tuple(
        lo + (hi - lo) * Fraction(2 * i + 1, 2 * pegs) for lo, hi in row for i in range(pegs)
    )


PEGGED_TENON = Family(
    name="pegged_tenon",
    title="pegged mortise and tenon",
    words="a tenon drawn tight by pegs through B",
    verbs=(Verb.INTO,),
    options=(PEGS, PEG, DRAW, BACK, DRILL, *CORE),
    read=_read,
    cut=_cut,
    cut_tilted=_cut_tilted,
)
