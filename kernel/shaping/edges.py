"""Eased edges, roundovers, chamfers, and rabbets along an edge that nothing enters.

Edges are named by two sides: the one after `from` and those in `edges`, all four round that side
where none is named. An edge is worked along its whole length. With a roundover of the radius, or a
v bit of a right angle wide enough, that is done with the bit, else by hand; `by hand` leaves it to
the hand in any case. Eased edges are always rounded a little by hand.

A rabbet is cut from one side along the `edge` it makes with another, over the stretch that `at`
gives, and is open wherever it comes to the board's end.

Defaults. Eased edges 1.5 mm, roundovers the radius of the first roundover declared, else 3 mm,
chamfers 3 mm; rabbets as wide as the board is thick and a third of it deep (all common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis, Span
from ..cuts import Cut, Side, Work
from ..cutter import BitKind
from ..finding import Finding, Outcome
from ..joints.options import (
    NamedBit,
    ReliefAsked,
    above_zero,
    bit_named,
    relief,
)
from ..region import Point2, Region, moved, rectangle
from ..relief import Relief, relieved
from ..shaping_findings import Bound, FiguresClash, Sides, WrongSide
from .bits import HAND_TOOLS, Picked, for_edge, straight
from .family import ShapingCuts, ShapingFamily
from .options import by_hand, side, sides
from .outline import misplaced
from .shapes import bevel, rounding
from .workpiece import OUT, Workpiece, side_word

EDGES = sides("edges", "all round the side", "the other side of each edge to work")
EASED = above_zero("radius", Fraction(3, 2), "1.5mm", "the radius left")
RADIUS = above_zero("radius", None, "that of the bit, else 3mm", "the radius left")
SIZE = above_zero("size", Fraction(3), "3mm", "how wide the chamfer is on the side")
ROUNDOVER_BIT = bit_named("bit", "the roundover bit")
V_BIT = bit_named("bit", "the v bit")
BY = by_hand("`by hand` for work without the machine")
EDGE = side("edge", "must be named", "the other side of the edge")
DEEP = above_zero("deep", None, "a third of the board's size there", "how deep the step is")
WIDE = above_zero("wide", None, "the board's thickness", "how wide the step is, from the edge")
RELIEF = relief(Relief.NONE, (Relief.NONE, Relief.CORNER, Relief.SIDE, Relief.SWEPT))
BIT = bit_named("bit", "the straight bit that cuts the step")


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeWork:
    """`size` is a radius, or a chamfer's width; None for the bit's own."""

    size: Fraction | None
    edges: tuple[Side, ...]
    bit: NamedBit | None
    by_hand: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Rabbet:
    edge: Side | None
    deep: Fraction | None
    wide: Fraction | None
    relief: ReliefAsked
    bit: NamedBit | None


# ---- along edges -------------------------------------------------------------------------------


def _ease(piece: Workpiece, options: EdgeWork) -> Outcome[ShapingCuts]:
    size = options.size or Fraction(3, 2)
    tool = Picked(HAND_TOOLS[piece.kind], float(size), False, True)
    return _worked(piece, options, EASED.name, size, tool)


def _roundover(piece: Workpiece, options: EdgeWork) -> Outcome[ShapingCuts]:
    size = options.size or _radius_of_bit(piece, options.bit)
    picked = for_edge(piece, options.bit, BitKind.ROUNDOVER, size, options.by_hand)
    return _worked(piece, options, RADIUS.name, size, picked)


def _radius_of_bit(piece: Workpiece, named: NamedBit | None) -> Fraction:
    """The radius of the bit named, else of the first roundover declared, else 3 mm."""
    rounding_bits = [b for b in piece.bits if b.kind is BitKind.ROUNDOVER]
    fitting = [b for b in rounding_bits if named is None or b.name == named.name]
    return fitting[0].radius if fitting else Fraction(3)


def _chamfer(piece: Workpiece, options: EdgeWork) -> Outcome[ShapingCuts]:
    size = options.size or Fraction(3)
    picked = for_edge(piece, options.bit, BitKind.V, size, options.by_hand)
    return _worked(piece, options, SIZE.name, size, picked)


def _worked(
    piece: Workpiece, options: EdgeWork, option: str, size: Fraction, picked: Picked | Finding
) -> Outcome[ShapingCuts]:
    """The cuts along the edges, a prism each, or what keeps them from being made."""
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    edges = _edges(piece, options.edges)
    if isinstance(edges, Finding):
        return Outcome(None, (edges,))
    down = _down(piece, picked, size)
    wrong = misplaced(piece, ()) or _too_large(piece, edges, option, size, down)
    if wrong is not None:
        return Outcome(None, (wrong,))
    is_bevel = piece.kind == CHAMFER.name
    shape = bevel(float(size), down) if is_bevel else rounding(float(size))
    cuts = tuple(_along(piece, edge, shape, picked, is_bevel=is_bevel) for edge in edges)
    bit = None if picked.bit in HAND_TOOLS.values() else picked.bit
    return Outcome(ShapingCuts(cuts=cuts, bit=bit, bit_chosen=picked.chosen))


def _edges(piece: Workpiece, asked: tuple[Side, ...]) -> tuple[Side, ...] | Finding:
    """The other side of each edge."""
    around = tuple(Side(axis, end) for axis in sorted(piece.side.plane) for end in (False, True))
    for other in asked:
        if other not in around:
            return wrong_edge(piece, EDGES.name, other)
    return asked or around


def wrong_edge(piece: Workpiece, option: str, other: Side | None) -> Finding:
    """The finding that a side makes no edge with the one that is cut from; None: not named."""
    around = (Side(axis, end) for axis in sorted(piece.side.plane) for end in (False, True))
    return WrongSide(
        place=piece.option_place(option),
        cut=piece.kind,
        board=piece.board.name,
        side="" if other is None else side_word(other),
        sides=Sides.ANY,
        option=option,
        could=tuple(map(side_word, around)),
    )


def _down(piece: Workpiece, picked: Picked, size: Fraction) -> float:
    """How far a chamfer goes down the other side: the v bit's point looks into the side."""
    angle = next((b.angle for b in piece.bits if b.name == picked.bit), None)
    if angle is None or angle == 90:
        return float(size)
    return float(size) / math.tan(math.radians(float(angle)) / 2)


def _too_large(
    piece: Workpiece, edges: tuple[Side, ...], option: str, size: Fraction, down: float
) -> Finding | None:
    """The finding that the work takes more than there is of a side, opposite edges together."""
    for edge in edges:
        shared = 2 if edge.opposite in edges else 1
        room = piece.span(edge.axis).size / shared
        if size > room:
            return _clash(piece, option, size, room)
    deep = piece.span(piece.side.axis).size
    return _clash(piece, option, size, deep * size / Fraction(down)) if down > deep else None


def _clash(piece: Workpiece, option: str, size: Fraction, limit: Fraction) -> Finding:
    return FiguresClash(
        place=piece.option_place(option),
        cut=piece.kind,
        option=option,
        value=size,
        bound=Bound.THICKNESS,
        limit=limit,
    )


def _along(piece: Workpiece, edge: Side, shape: Region, picked: Picked, *, is_bevel: bool) -> Cut:
    """The prism of `shape` along the whole edge, `s` of the shape lying on the side cut from."""
    end = Side(Axis(3 - piece.side.axis - edge.axis), True)
    return piece.made(
        side=end,
        region=_in_corner(piece, end, edge, shape),
        bit=picked.bit,
        work=Work.BEVEL if is_bevel else Work.ROUND,
        by_hand=picked.by_hand,
    )


def _in_corner(piece: Workpiece, end: Side, edge: Side, shape: Region) -> Region:
    """A shape drawn at the corner of `edge` (along s) and the side (along d), seen on `end`."""
    at = {edge.axis: float(piece.end(edge)), piece.side.axis: float(piece.end(piece.side))}
    way = {
        edge.axis: -1.0 if edge.positive else 1.0,
        piece.side.axis: -1.0 if piece.side.positive else 1.0,
    }
    u, v = end.plane
    is_along_u = u == edge.axis

    def point(p: Point2) -> Point2:
        s, d = (
            at[edge.axis] + way[edge.axis] * p[0],
            at[piece.side.axis] + way[piece.side.axis] * p[1],
        )
        return (s, d) if is_along_u else (d, s)

    turned = way[u] * way[v] < 0
    return moved(shape, point, mirrored=turned == is_along_u)


# ---- rabbet ------------------------------------------------------------------------------------


def _rabbet(piece: Workpiece, options: Rabbet) -> Outcome[ShapingCuts]:
    edge = options.edge
    if edge is None or edge.axis == piece.side.axis:
        return Outcome(None, (wrong_edge(piece, EDGE.name, edge),))
    run = Axis(3 - piece.side.axis - edge.axis)
    wrong = misplaced(piece, (run,))
    stretch = piece.stretch(run) if wrong is None else wrong
    if isinstance(stretch, Finding):
        return Outcome(None, (stretch,))
    deep = options.deep or piece.span(piece.side.axis).size / 3
    wide = options.wide or piece.span(piece.run.thick).size
    wrong = piece.too_deep(piece.side, deep, DEEP.name) or piece.too_deep(edge, wide, WIDE.name)
    if wrong is not None:
        return Outcome(None, (wrong,))
    narrow = None if piece.is_open(run, stretch) else stretch.size
    picked = straight(piece, options.bit, narrow, deep)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    asked = _step(piece, edge, (run, stretch), wide)
    region = relieved(asked, piece.limits(piece.side), picked.radius, options.relief.relief)
    cut = piece.made(region=region, asked=asked, bit=picked.bit, deep=deep)
    return Outcome(ShapingCuts(cuts=(cut,), bit=picked.bit, bit_chosen=picked.chosen))


def _step(piece: Workpiece, edge: Side, over: tuple[Axis, Span], wide: Fraction) -> Region:
    """The step's rectangle, going on into air at the edge and at the board's ends."""
    run, stretch = over
    along = piece.open_ends(run, stretch)
    at = piece.end(edge)
    inner, outer = (at - wide, at + OUT) if edge.positive else (at - OUT, at + wide)
    spans = {run: (along.lo, along.hi), edge.axis: (inner, outer)}
    (u0, u1), (v0, v1) = (spans[axis] for axis in piece.side.plane)
    return rectangle(float(u0), float(v0), float(u1), float(v1))


# ---- the families ------------------------------------------------------------------------------


EASE = ShapingFamily(
    name="ease",
    title="eased edges",
    words="sharp edges rounded a little by hand",
    written="cut A from z.hi with ease { edges x.lo x.hi }",
    sides=Sides.ANY,
    options=(EASED, EDGES),
    read=lambda reading: EdgeWork(
        size=reading.take(EASED), edges=reading.take(EDGES), bit=None, by_hand=True
    ),
    cut=_ease,
)
ROUNDOVER = ShapingFamily(
    name="roundover",
    title="rounded edges",
    words="edges rounded with a roundover bit or by hand",
    written="cut A from x.hi with roundover { radius 6mm, edges y.lo }",
    sides=Sides.ANY,
    options=(RADIUS, EDGES, ROUNDOVER_BIT, BY),
    read=lambda reading: EdgeWork(
        size=reading.take(RADIUS),
        edges=reading.take(EDGES),
        bit=reading.take(ROUNDOVER_BIT),
        by_hand=reading.take(BY),
    ),
    cut=_roundover,
)
CHAMFER = ShapingFamily(
    name="chamfer",
    title="chamfered edges",
    words="edges bevelled with a v bit or by hand",
    written="cut A from x.hi with chamfer { size 4mm, edges y.lo y.hi }",
    sides=Sides.ANY,
    options=(SIZE, EDGES, V_BIT, BY),
    read=lambda reading: EdgeWork(
        size=reading.take(SIZE),
        edges=reading.take(EDGES),
        bit=reading.take(V_BIT),
        by_hand=reading.take(BY),
    ),
    cut=_chamfer,
)
RABBET = ShapingFamily(
    name="rabbet",
    title="rabbet",
    words="a step along an edge, with nothing let into it",
    written="cut A from x.hi with rabbet { edge z.hi, deep 9mm, wide 16mm }",
    sides=Sides.ANY,
    options=(EDGE, DEEP, WIDE, RELIEF, BIT),
    read=lambda reading: Rabbet(
        edge=reading.take(EDGE),
        deep=reading.take(DEEP),
        wide=reading.take(WIDE),
        relief=reading.take(RELIEF),
        bit=reading.take(BIT),
    ),
    cut=_rabbet,
)
