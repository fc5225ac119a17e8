"""Arch, notch, cove, round corner and scallop: cuts in an edge that shape the board's outline.

They are made from an edge or end, and the machine cuts them right through from the face. `at` gives
the stretch along the edge, all of it when left out; nothing is placed along the thickness.

Arch: a circular segment. Notch: a rectangle, its inside corners left round by the bit unless a
relief is asked for. Cove: a quarter circle out of a corner of the outline, round corner: the same
corner rounded off; both corners of the edge unless one is named. Scallop: a row of equal hollows,
with a land between them so that no sharp point is left.

Defaults. Rise of an arch: an eighth of its width; of a scallop: a quarter of a hollow's. A notch is
as deep as the board is thick. Coves and corners have a radius of 25 mm. A land of 3 mm (all of them
common practice).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from ..board import Axis, Span
from ..cuts import Cut, Side
from ..finding import Finding, Outcome
from ..joints.options import (
    NamedBit,
    Reading,
    ReliefAsked,
    above_zero,
    bit_named,
    length,
    relief,
)
from ..region import Region, disc, moved, rectangle
from ..relief import Relief, relieved
from ..shaping_findings import Bound, FiguresClash, Placing, Sides, WrongSide
from .bits import Picked, straight
from .family import ShapingCuts, ShapingFamily
from .options import count, side
from .shapes import EdgeFrame, hollow, rounding
from .workpiece import Workpiece, side_word

RISE = above_zero("rise", None, "an eighth of the width", "how high the arch is")
HOLLOW_RISE = above_zero("rise", None, "a quarter of a hollow's width", "how deep each hollow is")
COUNT = count("count", 5, "how many hollows there are")
LAND = length("land", Fraction(3), "3mm", "how much of the edge is left between two hollows")
DEEP = above_zero("deep", None, "the board's thickness", "how far the notch goes in from the edge")
RADIUS = above_zero("radius", Fraction(25), "25mm", "the radius of the quarter circle")
EDGE = side("edge", "both", "the other side at the corner")
RELIEF = relief(Relief.NONE, (Relief.NONE, Relief.CORNER, Relief.SIDE, Relief.SWEPT))
BIT = bit_named("bit", "the straight bit that cuts it")


@dataclass(frozen=True, slots=True)
class Arch:
    rise: Fraction | None
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    deep: Fraction | None
    relief: ReliefAsked
    bit: NamedBit | None


@dataclass(frozen=True, slots=True)
class Corner:
    radius: Fraction
    edge: Side | None
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scallop:
    count: int
    rise: Fraction | None
    land: Fraction
    bit: NamedBit | None


def frame(piece: Workpiece) -> EdgeFrame | Finding:
    """The edge that the cut goes in by, seen in the plane of the face."""
    if piece.side.axis == piece.run.thick:
        return WrongSide(
            place=piece.shaping.side_place or piece.shaping.place,
            cut=piece.kind,
            board=piece.board.name,
            side=side_word(piece.side),
            sides=Sides.OUTLINE,
            option=None,
            could=tuple(
                f"{axis.letter}.{end}"
                for axis in (piece.run.length, piece.run.width)
                for end in ("lo", "hi")
            ),
        )
    return EdgeFrame(piece.face, piece.side, float(piece.end(piece.side)))


def misplaced(piece: Workpiece, axes: tuple[Axis, ...]) -> Finding | None:
    """The finding that something is placed along another axis than these; None when nothing is."""
    for entry in piece.shaping.at:
        if entry.axis not in axes:
            return piece.amiss(entry.axis, Placing.NOTHING, entry.place)
    return None


Ground: TypeAlias = tuple[EdgeFrame, Span]


def _ground(piece: Workpiece) -> Ground | Finding:
    """The edge and the stretch along it."""
    edge = frame(piece)
    if isinstance(edge, Finding):
        return edge
    wrong = misplaced(piece, (edge.along,))
    if wrong is not None:
        return wrong
    stretch = piece.stretch(edge.along)
    return stretch if isinstance(stretch, Finding) else (edge, stretch)


def _through(
    piece: Workpiece,
    edge: EdgeFrame,
    regions: tuple[Region, ...],
    picked: Picked | Finding,
    *,
    cleared: Callable[[Region, Picked], Region] = lambda region, _: region,
) -> Outcome[ShapingCuts]:
    """The cuts of these regions, drawn at the edge, or the finding on the bit."""
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    cuts: list[Cut] = []
    for region in regions:
        asked = edge.placed(region)
        cut = piece.made(side=edge.face, region=cleared(asked, picked), asked=asked, bit=picked.bit)
        cuts.append(cut)
    return Outcome(ShapingCuts(cuts=tuple(cuts), bit=picked.bit, bit_chosen=picked.chosen))


def _thick(piece: Workpiece) -> Fraction:
    return piece.span(piece.run.thick).size


# ---- arch and scallop --------------------------------------------------------------------------


def _rise(
    piece: Workpiece, width: Fraction, rise: Fraction | None, share: int
) -> Fraction | Finding:
    """The rise of a hollow of that width, which leaves wood over it."""
    high = width / share if rise is None else rise
    if high > width / 2:
        return FiguresClash(
            place=piece.option_place(RISE.name),
            cut=piece.kind,
            option=RISE.name,
            value=high,
            bound=Bound.HALF_THE_WIDTH,
            limit=width / 2,
        )
    return piece.too_deep(piece.side, high, RISE.name) or high


def _arch(piece: Workpiece, options: Arch) -> Outcome[ShapingCuts]:
    ground = _ground(piece)
    if isinstance(ground, Finding):
        return Outcome(None, (ground,))
    edge, stretch = ground
    rise = _rise(piece, stretch.size, options.rise, 8)
    if isinstance(rise, Finding):
        return Outcome(None, (rise,))
    return _hollows(piece, edge, (stretch,), rise, options.bit)


def _hollows(
    piece: Workpiece,
    edge: EdgeFrame,
    stretches: tuple[Span, ...],
    rise: Fraction,
    bit: NamedBit | None,
) -> Outcome[ShapingCuts]:
    """A hollow over each of the stretches, which are equally long."""
    chord = stretches[0].size
    widest = 2 * ((chord / 2) ** 2 + rise**2) / (2 * rise)
    picked = straight(piece, bit, widest, _thick(piece))
    regions = tuple(hollow(float(s.lo), float(s.hi), float(rise)) for s in stretches)
    return _through(piece, edge, regions, picked)


def _scallop(piece: Workpiece, options: Scallop) -> Outcome[ShapingCuts]:
    ground = _ground(piece)
    if isinstance(ground, Finding):
        return Outcome(None, (ground,))
    edge, stretch = ground
    number, land = options.count, options.land
    width = (stretch.size - (number - 1) * land) / number
    if width <= 0:
        clash = FiguresClash(
            place=piece.option_place(LAND.name),
            cut=piece.kind,
            option=LAND.name,
            value=land,
            bound=Bound.ROOM,
            limit=stretch.size / (number - 1),
        )
        return Outcome(None, (clash,))
    rise = _rise(piece, width, options.rise, 4)
    if isinstance(rise, Finding):
        return Outcome(None, (rise,))
    starts = [stretch.lo + i * (width + land) for i in range(number)]
    return _hollows(piece, edge, tuple(Span(lo, lo + width) for lo in starts), rise, options.bit)


# ---- notch -------------------------------------------------------------------------------------


def _notch(piece: Workpiece, options: Notch) -> Outcome[ShapingCuts]:
    ground = _ground(piece)
    if isinstance(ground, Finding):
        return Outcome(None, (ground,))
    edge, stretch = ground
    deep = _thick(piece) if options.deep is None else options.deep
    wrong = piece.too_deep(piece.side, deep, DEEP.name)
    if wrong is not None:
        return Outcome(None, (wrong,))
    narrowest = None if piece.is_open(edge.along, stretch) else stretch.size
    picked = straight(piece, options.bit, narrowest, _thick(piece))
    run = piece.open_ends(edge.along, stretch)
    region = rectangle(float(run.lo), -1.0, float(run.hi), float(deep))
    limits, kind = piece.limits(edge.face), options.relief.relief
    return _through(
        piece,
        edge,
        (region,),
        picked,
        cleared=lambda asked, bit: relieved(asked, limits, bit.radius, kind),
    )


# ---- corners of the outline --------------------------------------------------------------------


def _corners(piece: Workpiece, options: Corner) -> tuple[EdgeFrame, tuple[Side, ...]] | Finding:
    """The edge, and the sides with which it makes the corners asked for."""
    edge = frame(piece)
    if isinstance(edge, Finding):
        return edge
    wrong = misplaced(piece, ())
    if wrong is not None:
        return wrong
    both = (Side(edge.along, False), Side(edge.along, True))
    if options.edge is None:
        return edge, both
    if options.edge in both:
        return edge, (options.edge,)
    return WrongSide(
        place=piece.option_place(EDGE.name),
        cut=piece.kind,
        board=piece.board.name,
        side=side_word(options.edge),
        sides=Sides.OUTLINE,
        option=EDGE.name,
        could=tuple(map(side_word, both)),
    )


def _room_at_corners(piece: Workpiece, radius: Fraction, at: tuple[Side, ...]) -> Finding | None:
    """The finding that quarter circles of that radius take all of the board, or meet."""
    room = piece.span(at[0].axis).size / len(at)
    if radius > room:
        return FiguresClash(
            place=piece.option_place(RADIUS.name),
            cut=piece.kind,
            option=RADIUS.name,
            value=radius,
            bound=Bound.ROOM,
            limit=room,
        )
    return piece.too_deep(piece.side, radius, RADIUS.name)


def _cove(piece: Workpiece, options: Corner) -> Outcome[ShapingCuts]:
    corners = _corners(piece, options)
    if isinstance(corners, Finding):
        return Outcome(None, (corners,))
    edge, ends = corners
    wrong = _room_at_corners(piece, options.radius, ends)
    if wrong is not None:
        return Outcome(None, (wrong,))
    picked = straight(piece, options.bit, 2 * options.radius, _thick(piece))
    regions = tuple(disc((float(piece.end(end)), 0.0), float(options.radius)) for end in ends)
    return _through(piece, edge, regions, picked)


def _round_corner(piece: Workpiece, options: Corner) -> Outcome[ShapingCuts]:
    corners = _corners(piece, options)
    if isinstance(corners, Finding):
        return Outcome(None, (corners,))
    edge, ends = corners
    wrong = _room_at_corners(piece, options.radius, ends)
    if wrong is not None:
        return Outcome(None, (wrong,))
    picked = straight(piece, options.bit, None, _thick(piece))
    regions = tuple(_rounded_off(float(piece.end(e)), e, float(options.radius)) for e in ends)
    return _through(piece, edge, regions, picked)


def _rounded_off(at: float, end: Side, radius: float) -> Region:
    """What comes off the corner of an edge at `s = at`."""
    inward = -1.0 if end.positive else 1.0
    return moved(rounding(radius), lambda p: (at + inward * p[0], p[1]), mirrored=end.positive)


# ---- the families ------------------------------------------------------------------------------


def _read_corner(reading: Reading) -> Corner:
    return Corner(reading.take(RADIUS), reading.take(EDGE), reading.take(BIT))


ARCH = ShapingFamily(
    name="arch",
    title="arch",
    words="a circular arch in an edge",
    written="cut A from z.lo at y 60mm..180mm with arch { rise 40mm }",
    sides=Sides.OUTLINE,
    options=(RISE, BIT),
    read=lambda reading: Arch(reading.take(RISE), reading.take(BIT)),
    cut=_arch,
)
NOTCH = ShapingFamily(
    name="notch",
    title="notch",
    words="a square notch in an edge, its corners as the bit leaves them",
    written="cut A from z.lo at y 0mm..60mm with notch { deep 80mm }",
    sides=Sides.OUTLINE,
    options=(DEEP, RELIEF, BIT),
    read=lambda reading: Notch(
        deep=reading.take(DEEP), relief=reading.take(RELIEF), bit=reading.take(BIT)
    ),
    cut=_notch,
)
COVE = ShapingFamily(
    name="cove",
    title="cove",
    words="a quarter circle out of the corners of an edge",
    written="cut A from z.hi with cove { radius 40mm, edge y.lo }",
    sides=Sides.OUTLINE,
    options=(RADIUS, EDGE, BIT),
    read=_read_corner,
    cut=_cove,
)
ROUND_CORNER = ShapingFamily(
    name="round_corner",
    title="round corner",
    words="the corners of an edge rounded off",
    written="cut A from z.hi with round_corner { radius 40mm }",
    sides=Sides.OUTLINE,
    options=(RADIUS, EDGE, BIT),
    read=_read_corner,
    cut=_round_corner,
)
SCALLOP = ShapingFamily(
    name="scallop",
    title="scallops",
    words="a row of round hollows along an edge",
    written="cut A from z.lo at y 20mm..220mm with scallop { count 4, rise 10mm }",
    sides=Sides.OUTLINE,
    options=(COUNT, HOLLOW_RISE, LAND, BIT),
    read=lambda reading: Scallop(
        count=reading.take(COUNT),
        rise=reading.take(HOLLOW_RISE),
        land=reading.take(LAND),
        bit=reading.take(BIT),
    ),
    cut=_scallop,
)
