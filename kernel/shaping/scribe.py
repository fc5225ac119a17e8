"""Scribed lines: shallow marks for setting out, engraved as wide as the bit.

With `of BOARD` the mark goes round the spot where that board stands on the side, inside its
outline, so that the board hides it. Else `at` says where: a stretch along both axes of the side is
an outline, points along one axis are lines across the board, or along the stretch given for the
other axis.

Defaults. 0.5 mm deep, with the smallest straight bit (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis, Box, Span
from ..design import Along, Spots, Word
from ..finding import Finding, Outcome
from ..frames import box_in, common
from ..joint_findings import DoesNotReach, UnknownBoard
from ..joints.options import NamedBit, above_zero, bit_named
from ..near import nearest
from ..region import Point2, Region, rectangle
from ..shaping_findings import Bound, FiguresClash, Placing, Sides
from .bits import finest
from .family import ShapingCuts, ShapingFamily
from .options import board_named
from .outline import misplaced
from .shapes import stadium
from .workpiece import Workpiece

OF = board_named("of", "none", "the board to mark the place of")
DEEP = above_zero("deep", Fraction(1, 2), "0.5mm", "how deep the line is")
BIT = bit_named("bit", "the straight bit whose width the line has")


@dataclass(frozen=True, slots=True)
class Scribe:
    of: Word | None
    deep: Fraction
    bit: NamedBit | None


@dataclass(frozen=True, slots=True)
class Stroke:
    """The way of the bit's middle along `run`, from `lo` to `hi`, `at` across it.

    The round ends are left out of one that `joins` others, which have made them.
    """

    run: Axis
    lo: Fraction
    hi: Fraction
    at: Fraction
    joins: bool = False


def _scribe(piece: Workpiece, options: Scribe) -> Outcome[ShapingCuts]:
    wrong = misplaced(piece, () if options.of else piece.side.plane)
    picked = finest(piece, options.bit) if wrong is None else wrong
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    half = next(b.radius for b in piece.bits if b.name == picked.bit)
    strokes = _lines(piece, half) if options.of is None else _round_mate(piece, options.of, half)
    if isinstance(strokes, Finding):
        return Outcome(None, (strokes,))
    wrong = piece.too_deep(piece.side, options.deep, DEEP.name)
    if wrong is not None:
        return Outcome(None, (wrong,))
    cuts = tuple(
        piece.made(region=_swept(piece, stroke, half), bit=picked.bit, deep=options.deep)
        for stroke in strokes
    )
    return Outcome(ShapingCuts(cuts=cuts, bit=picked.bit, bit_chosen=picked.chosen))


def _swept(piece: Workpiece, stroke: Stroke, half: Fraction) -> Region:
    def point(along: Fraction, across: Fraction) -> Point2:
        if stroke.run == piece.side.plane[0]:
            return float(along), float(across)
        return float(across), float(along)

    if stroke.joins:
        low, high = point(stroke.lo, stroke.at - half), point(stroke.hi, stroke.at + half)
        return rectangle(*low, *high)
    return stadium(point(stroke.lo, stroke.at), point(stroke.hi, stroke.at), float(half))


# ---- where at says -----------------------------------------------------------------------------


def _lines(piece: Workpiece, half: Fraction) -> tuple[Stroke, ...] | Finding:
    u, v = piece.side.plane
    placed = {axis: piece.placed(axis) for axis in (u, v)}
    stretched = [axis for axis in (u, v) if isinstance(placed[axis], Along)]
    if len(stretched) == 2:
        return _outline(piece, half)
    spots = [axis for axis in (u, v) if isinstance(placed[axis], Spots)]
    if len(spots) != 1 and not stretched:
        takes = Placing.STRETCH if spots else Placing.POINTS
        entry = placed[v]
        place = None if entry is None else entry.place
        return piece.amiss(v, takes, place, missing=not spots)
    across = spots[0] if spots else next(axis for axis in (u, v) if axis not in stretched)
    return _across(piece, across, half)


def _across(piece: Workpiece, across: Axis, half: Fraction) -> tuple[Stroke, ...] | Finding:
    """A line at each point along `across`, over the stretch given for the other axis."""
    run = next(axis for axis in piece.side.plane if axis != across)
    points, stretch = piece.points(across), piece.stretch(run)
    if isinstance(points, Finding):
        return points
    if isinstance(stretch, Finding):
        return stretch
    for at in points:
        wrong = piece.inside(across, Span(at - half, at + half), None)
        if wrong is not None:
            return wrong
    ends = _ends(piece, run, stretch, half)
    return _no_room(piece, run, half, stretch) or tuple(
        Stroke(run, ends.lo, ends.hi, at) for at in points
    )


def _ends(piece: Workpiece, run: Axis, stretch: Span, half: Fraction) -> Span:
    """Where the bit's middle starts and stops: past the board's end where the line comes to it."""
    own = piece.span(run)
    return Span(
        stretch.lo - half if stretch.lo == own.lo else stretch.lo + half,
        stretch.hi + half if stretch.hi == own.hi else stretch.hi - half,
    )


def _no_room(piece: Workpiece, axis: Axis, half: Fraction, stretch: Span) -> Finding | None:
    """The finding that an outline or a line is no longer than its two ends are wide."""
    if stretch.size > 4 * half:
        return None
    return FiguresClash(
        place=piece.place_along(axis),
        cut=piece.kind,
        option=BIT.name,
        value=2 * half,
        bound=Bound.ROOM,
        limit=stretch.size / 2,
    )


def _outline(piece: Workpiece, half: Fraction) -> tuple[Stroke, ...] | Finding:
    u, v = (piece.stretch(axis) for axis in piece.side.plane)
    if isinstance(u, Finding):
        return u
    if isinstance(v, Finding):
        return v
    return _round(piece, (u, v), half)


def _round(
    piece: Workpiece, spans: tuple[Span, Span], half: Fraction
) -> tuple[Stroke, ...] | Finding:
    """The strokes round a rectangle, inside it; none along the board's own edges."""
    strokes: list[Stroke] = []
    for index, across in enumerate(piece.side.plane):
        run, own = piece.side.plane[1 - index], piece.span(across)
        wrong = _no_room(piece, across, half, spans[index])
        if wrong is not None:
            return wrong
        ends, joins = _ends(piece, run, spans[1 - index], half), index == 1
        if spans[index].lo > own.lo:
            strokes.append(Stroke(run, ends.lo, ends.hi, spans[index].lo + half, joins))
        if spans[index].hi < own.hi:
            strokes.append(Stroke(run, ends.lo, ends.hi, spans[index].hi - half, joins))
    return tuple(strokes)


# ---- where another board stands ----------------------------------------------------------------


def _round_mate(piece: Workpiece, of: Word, half: Fraction) -> tuple[Stroke, ...] | Finding:
    other = piece.others.get(of.text)
    if other is None:
        return UnknownBoard(place=of.place, board=of.text, nearest=nearest(of.text, piece.others))
    box = box_in(other.board, piece.board)
    spot = None if box is None else _footprint(piece, box)
    if spot is None:
        return _apart(piece, of, box)
    return _round(piece, spot, half)


def _footprint(piece: Workpiece, box: Box) -> tuple[Span, Span] | None:
    """The part of the side that a box stands on or goes into; None when it does neither."""
    at, deep = piece.end(piece.side), box[piece.side.axis]
    shared = common(piece.board.box, box)
    u, v = (shared[axis] for axis in piece.side.plane)
    if not deep.lo <= at <= deep.hi or u.size <= 0 or v.size <= 0:
        return None
    return u, v


def _apart(piece: Workpiece, of: Word, box: Box | None) -> Finding:
    near = None
    if box is not None:
        near = box[piece.side.axis].lo if piece.side.positive else box[piece.side.axis].hi
    return DoesNotReach(
        place=of.place or piece.shaping.place,
        board=of.text,
        mate=piece.board.name,
        family=piece.kind,
        wants_touch=True,
        axis=None if near is None else piece.side.axis,
        board_at=near,
        mate_at=None if near is None else piece.end(piece.side),
        mate_place=piece.board.place,
    )


SCRIBE = ShapingFamily(
    name="scribe",
    title="scribed lines",
    words="shallow lines for setting out, or round the spot where a board stands",
    written="cut A from x.hi with scribe { of B }",
    sides=Sides.ANY,
    options=(OF, DEEP, BIT),
    read=lambda reading: Scribe(reading.take(OF), reading.take(DEEP), reading.take(BIT)),
    cut=_scribe,
)
