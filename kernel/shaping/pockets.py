"""Pocket, slot, hand hole and square peg: hollows in a side, as the bit leaves them.

A pocket is a rectangle: `at` gives the stretch along both axes of the side, all of the board where
one is left out, and where a stretch comes to the board's end the pocket is open there. A slot has
round ends: a stretch along one axis, over all, and a point along the other. A hand hole is a slot
that lies level, placed by its middle. The square hole for a peg is bored by the machine and its
corners squared by hand with a chisel.

Defaults. Pockets are half as deep as the board; slots and hand holes go through. A hand hole of
100 by 30 mm takes four fingers; pegs of 10 mm in holes 5 mm deep (all common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis, Span
from ..cuts import Cut
from ..design import Along
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
from ..region import Point2, Region, bounds, disc, rectangle
from ..relief import Relief, relieved, roundover_spandrel
from ..shaping_findings import Bound, FiguresClash, Placing, Sides
from .bits import Picked, straight
from .family import ShapingCuts, ShapingFamily
from .holes import centres
from .outline import misplaced
from .shapes import rounded_rectangle, stadium
from .workpiece import OUT, Workpiece

POCKET_DEEP = above_zero("deep", None, "half the board's size there", "how deep the pocket is")
DEEP = above_zero("deep", None, "through", "how deep it is")
WIDE = above_zero("wide", Fraction(8), "8mm", "how wide the slot is")
LONG = above_zero("long", Fraction(100), "100mm", "how long the hole is, over all")
HAND_WIDE = above_zero("wide", Fraction(30), "30mm", "how high the hole is")
PEG = above_zero("wide", Fraction(10), "10mm", "how wide the square is")
PEG_DEEP = above_zero("deep", Fraction(5), "5mm", "how deep the hole is")
CORNER = length("corner", Fraction(0), "the bit's radius", "the radius of the corners")
RELIEF = relief(Relief.NONE, (Relief.NONE, Relief.CORNER, Relief.SIDE, Relief.SWEPT))
BIT = bit_named("bit", "the straight bit that cuts it")
CHISEL = "chisel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    deep: Fraction | None
    corner: Fraction
    relief: ReliefAsked
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """`long` is None for a slot, whose stretch says it."""

    long: Fraction | None
    wide: Fraction
    deep: Fraction | None
    bit: NamedBit | None


@dataclass(frozen=True, slots=True)
class SquarePeg:
    wide: Fraction
    deep: Fraction
    bit: NamedBit | None


def _made(
    piece: Workpiece, regions: tuple[Region, ...], picked: Picked, deep: Fraction | None
) -> Outcome[ShapingCuts]:
    cuts = tuple(piece.made(region=region, bit=picked.bit, deep=deep) for region in regions)
    return Outcome(ShapingCuts(cuts=cuts, bit=picked.bit, bit_chosen=picked.chosen))


# ---- pocket ------------------------------------------------------------------------------------


def _pocket(piece: Workpiece, options: Pocket) -> Outcome[ShapingCuts]:
    spans = _spans(piece)
    if isinstance(spans, Finding):
        return Outcome(None, (spans,))
    deep = options.deep or piece.span(piece.side.axis).size / 2
    wrong = piece.too_deep(piece.side, deep, DEEP.name) or _corner_amiss(piece, options, spans)
    if wrong is not None:
        return Outcome(None, (wrong,))
    narrow = _narrowest(piece, spans)
    if options.corner:
        narrow = min(narrow or 2 * options.corner, 2 * options.corner)
    picked = straight(piece, options.bit, narrow, deep)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    asked = _outline(piece, spans, options.corner)
    limits, kind = piece.limits(piece.side), options.relief.relief
    region = asked if options.corner else relieved(asked, limits, picked.radius, kind)
    cut = piece.made(region=region, asked=asked, bit=picked.bit, deep=deep)
    return Outcome(ShapingCuts(cuts=(cut,), bit=picked.bit, bit_chosen=picked.chosen))


def _spans(piece: Workpiece) -> tuple[Span, Span] | Finding:
    """The stretches along the two axes of the side."""
    wrong = misplaced(piece, piece.side.plane)
    if wrong is not None:
        return wrong
    u, v = (piece.stretch(axis) for axis in piece.side.plane)
    if isinstance(u, Finding):
        return u
    return v if isinstance(v, Finding) else (u, v)


def _narrowest(piece: Workpiece, spans: tuple[Span, Span]) -> Fraction | None:
    """The lesser distance of two walls that face each other; None without such walls."""
    closed = [
        span.size
        for axis, span in zip(piece.side.plane, spans, strict=True)
        if not piece.is_open(axis, span)
    ]
    return min(closed, default=None)


def _corner_amiss(piece: Workpiece, options: Pocket, spans: tuple[Span, Span]) -> Finding | None:
    narrow = _narrowest(piece, spans)
    if narrow is None or options.corner <= narrow / 2:
        return None
    return FiguresClash(
        place=piece.option_place(CORNER.name),
        cut=piece.kind,
        option=CORNER.name,
        value=options.corner,
        bound=Bound.HALF_THE_WIDTH,
        limit=narrow / 2,
    )


def _outline(piece: Workpiece, spans: tuple[Span, Span], corner: Fraction) -> Region:
    """The rectangle, going on into air where it is open, its corners rounded if asked."""
    u, v = (_open(piece, a, s, corner) for a, s in zip(piece.side.plane, spans, strict=True))
    low, high = (float(u.lo), float(v.lo)), (float(u.hi), float(v.hi))
    return rounded_rectangle(low, high, float(corner)) if corner else rectangle(*low, *high)


def _open(piece: Workpiece, axis: Axis, span: Span, further: Fraction) -> Span:
    """The stretch run out at the board's ends, `further` than usual for round corners in air."""
    out = piece.open_ends(axis, span)
    return Span(
        out.lo if out.lo == span.lo else out.lo - further,
        out.hi if out.hi == span.hi else out.hi + further,
    )


# ---- slot and hand hole ------------------------------------------------------------------------


def _slot(piece: Workpiece, options: Slot) -> Outcome[ShapingCuts]:
    plane = piece.side.plane
    wrong = misplaced(piece, plane)
    if wrong is not None:
        return Outcome(None, (wrong,))
    runs = [axis for axis in plane if isinstance(piece.placed(axis), Along)]
    if len(runs) != 1:
        return Outcome(None, (_run_amiss(piece, len(runs)),))
    (run,) = runs
    across = plane[1 - plane.index(run)]
    stretch, points = piece.stretch(run), piece.points(across)
    if isinstance(stretch, Finding):
        return Outcome(None, (stretch,))
    if isinstance(points, Finding):
        return Outcome(None, (points,))
    if stretch.size < options.wide:
        return Outcome(None, (_too_short(piece, options.wide, stretch.size),))
    return _stadiums(piece, run, tuple((stretch, point) for point in points), options)


def _run_amiss(piece: Workpiece, stretches: int) -> Finding:
    axis = max(piece.side.plane, key=lambda a: piece.span(a).size)
    placed = piece.placed(axis)
    takes = Placing.POINTS if stretches else Placing.STRETCH
    place = None if placed is None else placed.place
    return piece.amiss(axis, takes, place, missing=placed is None)


def _too_short(piece: Workpiece, wide: Fraction, long: Fraction) -> Finding:
    return FiguresClash(
        place=piece.option_place(WIDE.name),
        cut=piece.kind,
        option=WIDE.name,
        value=wide,
        bound=Bound.LENGTH,
        limit=long,
    )


def _stadiums(
    piece: Workpiece, run: Axis, at: tuple[tuple[Span, Fraction], ...], options: Slot
) -> Outcome[ShapingCuts]:
    """Round-ended hollows along an axis, each over a stretch and in the middle of its width."""
    across = next(axis for axis in piece.side.plane if axis != run)
    half = options.wide / 2
    for _, middle in at:
        wrong = piece.inside(across, Span(middle - half, middle + half), None, touching=False)
        if wrong is not None:
            return Outcome(None, (wrong,))
    if options.deep is not None:
        wrong = piece.too_deep(piece.side, options.deep, DEEP.name, can_go_through=True)
        if wrong is not None:
            return Outcome(None, (wrong,))
    deepest = options.deep or piece.span(piece.side.axis).size
    picked = straight(piece, options.bit, options.wide, deepest)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    regions = tuple(_stadium(piece, run, stretch, middle, half) for stretch, middle in at)
    return _made(piece, regions, picked, options.deep)


def _stadium(
    piece: Workpiece, run: Axis, stretch: Span, middle: Fraction, half: Fraction
) -> Region:
    own = piece.span(run)
    lo = stretch.lo - OUT if stretch.lo == own.lo else stretch.lo + half
    hi = stretch.hi + OUT if stretch.hi == own.hi else stretch.hi - half

    def point(along: Fraction) -> Point2:
        if run == piece.side.plane[0]:
            return float(along), float(middle)
        return float(middle), float(along)

    if lo == hi:
        return disc(point(lo), float(half))
    return stadium(point(lo), point(hi), float(half))


def _hand_hole(piece: Workpiece, options: Slot) -> Outcome[ShapingCuts]:
    at = centres(piece)
    if isinstance(at, Finding):
        return Outcome(None, (at,))
    plane, run = piece.side.plane, _level(piece)
    long = options.long or options.wide
    if long < options.wide:
        return Outcome(None, (_too_short(piece, options.wide, long),))
    stretches = []
    for centre in at:
        along, across = centre[plane.index(run)], centre[1 - plane.index(run)]
        stretch = Span(along - long / 2, along + long / 2)
        wrong = piece.inside(run, stretch, None, touching=False)
        if wrong is not None:
            return Outcome(None, (wrong,))
        stretches.append((stretch, across))
    return _stadiums(piece, run, tuple(stretches), options)


def _level(piece: Workpiece) -> Axis:
    """Which way a hand hole lies: level where the side stands upright, else along the board."""
    if Axis.Z in piece.side.plane:
        return next(axis for axis in piece.side.plane if axis is not Axis.Z)
    return max(piece.side.plane, key=lambda axis: (axis == piece.run.length, -axis))


# ---- square peg --------------------------------------------------------------------------------


def _square_peg(piece: Workpiece, options: SquarePeg) -> Outcome[ShapingCuts]:
    at = centres(piece)
    if isinstance(at, Finding):
        return Outcome(None, (at,))
    half = options.wide / 2
    for centre in at:
        for axis, middle in zip(piece.side.plane, centre, strict=True):
            wrong = piece.inside(axis, Span(middle - half, middle + half), None, touching=False)
            if wrong is not None:
                return Outcome(None, (wrong,))
    wrong = piece.too_deep(piece.side, options.deep, DEEP.name)
    if wrong is not None:
        return Outcome(None, (wrong,))
    picked = straight(piece, options.bit, options.wide, options.deep)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    cuts: list[Cut] = []
    for u, v in at:
        square = rectangle(*(float(edge) for edge in (u - half, v - half, u + half, v + half)))
        cuts += _squared(piece, square, picked, options.deep)
    return Outcome(ShapingCuts(cuts=tuple(cuts), bit=picked.bit, bit_chosen=picked.chosen))


def _squared(piece: Workpiece, square: Region, picked: Picked, deep: Fraction) -> tuple[Cut, Cut]:
    """The hole as the bit leaves it, and the corners that a chisel takes out of it."""
    u0, v0, u1, v1 = bounds(square)
    corners = [
        roundover_spandrel((u, v), ((du, 0.0), (0.0, dv)), picked.radius).loops[0]
        for u, du in ((u0, 1.0), (u1, -1.0))
        for v, dv in ((v0, 1.0), (v1, -1.0))
    ]
    bored = relieved(square, piece.limits(piece.side), picked.radius, Relief.NONE)
    return (
        piece.made(region=bored, asked=square, bit=picked.bit, deep=deep),
        piece.made(region=Region(tuple(corners)), bit=CHISEL, deep=deep, by_hand=True),
    )


def _read_slot(reading: Reading) -> Slot:
    return Slot(long=None, wide=reading.take(WIDE), deep=reading.take(DEEP), bit=reading.take(BIT))


def _read_hand_hole(reading: Reading) -> Slot:
    return Slot(
        long=reading.take(LONG),
        wide=reading.take(HAND_WIDE),
        deep=reading.take(DEEP),
        bit=reading.take(BIT),
    )


POCKET = ShapingFamily(
    name="pocket",
    title="pocket",
    words="a rectangular hollow with a flat floor",
    written="cut A from x.hi at y 60mm..180mm, z 40mm..90mm with pocket { deep 6mm }",
    sides=Sides.ANY,
    options=(POCKET_DEEP, CORNER, RELIEF, BIT),
    read=lambda reading: Pocket(
        deep=reading.take(POCKET_DEEP),
        corner=reading.take(CORNER),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    ),
    cut=_pocket,
)
SLOT = ShapingFamily(
    name="slot",
    title="slot",
    words="a hollow with round ends along an axis",
    written="cut A from x.hi at y 60mm..180mm, z 40mm with slot { wide 8mm }",
    sides=Sides.ANY,
    options=(WIDE, DEEP, BIT),
    read=_read_slot,
    cut=_slot,
)
HAND_HOLE = ShapingFamily(
    name="hand_hole",
    title="hand hole",
    words="a level hole with round ends to lift by",
    written="cut A from x.lo at z 440mm with hand_hole { long 110mm, wide 32mm }",
    sides=Sides.ANY,
    options=(LONG, HAND_WIDE, DEEP, BIT),
    read=_read_hand_hole,
    cut=_hand_hole,
)
SQUARE_PEG = ShapingFamily(
    name="square_peg",
    title="square-peg recess",
    words="a square hole for a peg, its corners squared by hand",
    written="cut A from x.lo at y 20mm, z [30mm, 60mm] with square_peg { wide 10mm, deep 5mm }",
    sides=Sides.ANY,
    options=(PEG, PEG_DEEP, BIT),
    read=lambda reading: SquarePeg(reading.take(PEG), reading.take(PEG_DEEP), reading.take(BIT)),
    cut=_square_peg,
)
