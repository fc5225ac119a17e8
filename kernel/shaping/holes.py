"""Bore, counterbore and shelf pins: round holes at points of a side.

`at` gives points along both axes of the side, the middle of the board where one is left out; a list
gives several, and two lists every pair of theirs. Holes are drilled where a drill of just their
diameter is declared; else a straight bit no wider goes round in them.

A counterbore is a hole with a wider, flat seat for a head. Shelf pins stand in rows: `at` gives the
stretch that a row runs over, from its first hole on, and points for the rows.

Defaults. Holes go through, those for pins 10 mm deep. 5 mm holes every 32 mm are usual for shelf
pins, 5 mm holes with a 10 mm seat half as deep as the board for screws (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis, Span
from ..cuts import Work
from ..design import Along
from ..finding import Finding, Outcome
from ..joints.options import NamedBit, Reading, above_zero, bit_named
from ..region import disc
from ..shaping_findings import Bound, FiguresClash, Placing, Sides
from .bits import drilling
from .family import ShapingCuts, ShapingFamily
from .outline import misplaced
from .workpiece import Workpiece

DIAMETER = above_zero("diameter", None, "that of the bit named, else 8mm", "how wide the hole is")
PIN_DIAMETER = above_zero(
    "diameter", None, "that of the bit named, else 5mm", "how wide the holes are"
)
SHANK = above_zero("diameter", Fraction(5), "5mm", "how wide the hole is under the seat")
DEEP = above_zero("deep", None, "through", "how deep the hole is")
PIN_DEEP = above_zero("deep", Fraction(10), "10mm", "how deep the holes are")
HEAD = above_zero("head", Fraction(10), "10mm", "how wide the seat is")
SEAT = above_zero("seat", None, "half the board's size there", "how deep the seat is")
EVERY = above_zero("every", Fraction(32), "32mm", "from hole to hole along the row")
BIT = bit_named("bit", "the drill, or the straight bit that goes round in the hole")

Centre = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Bore:
    diameter: Fraction
    deep: Fraction | None
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Counterbore:
    diameter: Fraction
    deep: Fraction | None
    head: Fraction
    seat: Fraction | None
    bit: NamedBit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfPins:
    diameter: Fraction | None
    deep: Fraction
    every: Fraction
    bit: NamedBit | None


def centres(piece: Workpiece) -> tuple[Centre, ...] | Finding:
    """Every pair of the points along the two axes of the side, in its plane's coordinates."""
    wrong = misplaced(piece, piece.side.plane)
    if wrong is not None:
        return wrong
    u, v = (piece.points(axis) for axis in piece.side.plane)
    if isinstance(u, Finding):
        return u
    if isinstance(v, Finding):
        return v
    return tuple((p, q) for p in u for q in v)


def drilled(
    piece: Workpiece, at: tuple[Centre, ...], hole: Bore, option: str = DIAMETER.name
) -> Outcome[ShapingCuts]:
    """A hole at each of the points, all within the board."""
    wrong = _out_of_board(piece, at, hole.diameter)
    if wrong is None and hole.deep is not None:
        wrong = piece.too_deep(piece.side, hole.deep, DEEP.name, can_go_through=True)
    if wrong is not None:
        return Outcome(None, (wrong,))
    size = piece.span(piece.side.axis).size
    picked = drilling(piece, hole.bit, hole.diameter, hole.deep or size, option)
    if isinstance(picked, Finding):
        return Outcome(None, (picked,))
    radius = float(hole.diameter) / 2
    cuts = tuple(
        piece.made(
            region=disc((float(u), float(v)), radius),
            bit=picked.bit,
            deep=hole.deep,
            work=Work.BORE,
            by_hand=picked.by_hand,
        )
        for u, v in at
    )
    return Outcome(ShapingCuts(cuts=cuts, bit=picked.bit, bit_chosen=picked.chosen))


def _out_of_board(piece: Workpiece, at: tuple[Centre, ...], diameter: Fraction) -> Finding | None:
    for centre in at:
        for axis, middle in zip(piece.side.plane, centre, strict=True):
            wide = Span(middle - diameter / 2, middle + diameter / 2)
            wrong = piece.inside(axis, wide, None, touching=False)
            if wrong is not None:
                return wrong
    return None


def _size(piece: Workpiece, written: Fraction | None, bit: NamedBit | None, else_: int) -> Fraction:
    """The diameter written, that of the bit named, or the usual one."""
    if written is not None:
        return written
    named = (b.diameter for b in piece.bits if bit is not None and b.name == bit.name)
    return next(named, Fraction(else_))


def _bore(piece: Workpiece, options: tuple[Fraction | None, Bore]) -> Outcome[ShapingCuts]:
    at = centres(piece)
    if isinstance(at, Finding):
        return Outcome(None, (at,))
    written, rest = options
    return drilled(piece, at, Bore(_size(piece, written, rest.bit, 8), rest.deep, rest.bit))


def _counterbore(piece: Workpiece, options: Counterbore) -> Outcome[ShapingCuts]:
    at = centres(piece)
    if isinstance(at, Finding):
        return Outcome(None, (at,))
    seat = options.seat or piece.span(piece.side.axis).size / 2
    wrong = _seat_amiss(piece, options, seat)
    if wrong is not None:
        return Outcome(None, (wrong,))
    head = drilled(piece, at, Bore(options.head, seat, options.bit), HEAD.name)
    hole = drilled(piece, at, Bore(options.diameter, options.deep, None), SHANK.name)
    if head.value is None or hole.value is None:
        return Outcome(None, (*head.findings, *hole.findings)[:1])
    pairs = zip(head.value.cuts, hole.value.cuts, strict=True)
    return Outcome(
        ShapingCuts(
            cuts=tuple(cut for pair in pairs for cut in pair),
            bit=head.value.bit,
            bit_chosen=head.value.bit_chosen,
        )
    )


def _seat_amiss(piece: Workpiece, options: Counterbore, seat: Fraction) -> Finding | None:
    if options.head <= options.diameter:
        return FiguresClash(
            place=piece.option_place(HEAD.name),
            cut=piece.kind,
            option=HEAD.name,
            value=options.head,
            bound=Bound.HOLE,
            limit=options.diameter,
            is_least=True,
        )
    if options.deep is not None and options.deep <= seat:
        return FiguresClash(
            place=piece.option_place(DEEP.name),
            cut=piece.kind,
            option=DEEP.name,
            value=options.deep,
            bound=Bound.SEAT,
            limit=seat,
            is_least=True,
        )
    return piece.too_deep(piece.side, seat, SEAT.name)


def _shelf_pins(piece: Workpiece, options: ShelfPins) -> Outcome[ShapingCuts]:
    rows = _rows(piece, options.every)
    if isinstance(rows, Finding):
        return Outcome(None, (rows,))
    hole = Bore(_size(piece, options.diameter, options.bit, 5), options.deep, options.bit)
    return drilled(piece, rows, hole)


def _rows(piece: Workpiece, every: Fraction) -> tuple[Centre, ...] | Finding:
    """The holes of every row, row by row: a stretch along one axis of the side, points along the
    other."""
    plane = piece.side.plane
    wrong = misplaced(piece, plane)
    if wrong is not None:
        return wrong
    runs = [axis for axis in plane if isinstance(piece.placed(axis), Along)]
    if len(runs) != 1:
        axis = _likely_run(piece) if not runs else plane[1]
        placed = piece.placed(axis)
        takes = Placing.STRETCH if not runs else Placing.POINTS
        place = None if placed is None else placed.place
        return piece.amiss(axis, takes, place, missing=placed is None)
    run = runs[0]
    stretch, rows = piece.stretch(run), piece.points(plane[1 - plane.index(run)])
    if isinstance(stretch, Finding):
        return stretch
    if isinstance(rows, Finding):
        return rows
    holes = [stretch.lo + i * every for i in range(int(stretch.size / every) + 1)]
    if run == plane[0]:
        return tuple((hole, row) for row in rows for hole in holes)
    return tuple((row, hole) for row in rows for hole in holes)


def _likely_run(piece: Workpiece) -> Axis:
    """The axis of the side along which the board is longer."""
    return max(piece.side.plane, key=lambda axis: piece.span(axis).size)


def _read_bore(reading: Reading) -> tuple[Fraction | None, Bore]:
    return reading.take(DIAMETER), Bore(Fraction(8), reading.take(DEEP), reading.take(BIT))


def _read_counterbore(reading: Reading) -> Counterbore:
    return Counterbore(
        diameter=reading.take(SHANK),
        deep=reading.take(DEEP),
        head=reading.take(HEAD),
        seat=reading.take(SEAT),
        bit=reading.take(BIT),
    )


def _read_pins(reading: Reading) -> ShelfPins:
    return ShelfPins(
        diameter=reading.take(PIN_DIAMETER),
        deep=reading.take(PIN_DEEP),
        every=reading.take(EVERY),
        bit=reading.take(BIT),
    )


BORE = ShapingFamily(
    name="bore",
    title="bore",
    words="round holes at points of a side",
    written="cut A from x.hi at y [40mm, 200mm], z 60mm with bore { diameter 8mm, deep 12mm }",
    sides=Sides.ANY,
    options=(DIAMETER, DEEP, BIT),
    read=_read_bore,
    cut=_bore,
)
COUNTERBORE = ShapingFamily(
    name="counterbore",
    title="counterbore",
    words="round holes with a wider, flat seat for a head",
    written="cut A from x.lo at y 40mm, z 60mm with counterbore { head 10mm, seat 6mm }",
    sides=Sides.ANY,
    options=(SHANK, DEEP, HEAD, SEAT, BIT),
    read=_read_counterbore,
    cut=_counterbore,
)
SHELF_PINS = ShapingFamily(
    name="shelf_pins",
    title="shelf-pin rows",
    words="rows of blind holes at even steps, for pins that carry a shelf",
    written="cut A from x.hi at y [37mm, 203mm], z 100mm..420mm with shelf_pins { every 32mm }",
    sides=Sides.ANY,
    options=(PIN_DIAMETER, PIN_DEEP, EVERY, BIT),
    read=_read_pins,
    cut=_shelf_pins,
)
