"""What is `left.thick`, `left.x.lo`, `drawer[1].front`? Parts of values, by name or by index."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ..kernel.board import Axis, board_run
from ..kernel.cutter import Bit, Machine
from ..kernel.near import nearest
from ..kernel.quantity import ANGLE, LENGTH, Dimension, Quantity
from ..kernel.stock import Stock
from . import syntax
from .arithmetic import whole, wrong_kind
from .name_findings import UnknownIndex, UnknownMember
from .names import shown
from .run import Run
from .units import ACCELERATION, SPEED
from .values import (
    UNKNOWN,
    BoardValue,
    Group,
    Items,
    Kind,
    Placed,
    SpanOf,
    Stretch,
    Value,
)

WITH_MEMBERS = (Kind.BOARD, Kind.PLACED, Kind.STOCK, Kind.BIT)
"""What to name where something with parts is wanted."""


def member(expr: syntax.Member, of: Value, run: Run) -> Value:
    """`of.name`."""
    if of is UNKNOWN:
        return UNKNOWN
    known = parts(of)
    if known is None:
        run.report(wrong_kind(of, WITH_MEMBERS, expr.of.place))
        return UNKNOWN
    if expr.name.text in known:
        return known[expr.name.text]
    if isinstance(of, Placed) and of.may_have(expr.name.text):
        return UNKNOWN
    run.report(
        UnknownMember(
            place=expr.name.place,
            name=expr.name.text,
            of=shown(expr.of),
            nearest=nearest(expr.name.text, known),
            known=tuple(known),
        )
    )
    return UNKNOWN


def indexed(expr: syntax.Index, of: Value, at: Value, run: Run) -> Value:
    """`of[at]`: what was declared with that index, or an item of a list, counted from 1."""
    if of is UNKNOWN or at is UNKNOWN:
        return UNKNOWN
    if not isinstance(of, Group | Items):
        run.report(wrong_kind(of, (Kind.GROUP, Kind.LIST), expr.of.place))
        return UNKNOWN
    number = whole(at, expr.at.place, run)
    if number is None:
        return UNKNOWN
    if isinstance(of, Items):
        if 1 <= number <= len(of.items):
            return of.items[number - 1]
        ends = ("1", str(len(of.items))) if of.items else None
    else:
        if number in of.items:
            return of.items[number]
        if of.unsure:
            return UNKNOWN
        ends = (str(min(of.items)), str(max(of.items))) if of.items else None
    run.report(UnknownIndex(place=expr.at.place, of=shown(expr.of), index=str(number), known=ends))
    return UNKNOWN


def parts(of: Value) -> Mapping[str, Value] | None:
    """What stands behind the dot of a value, by name; None for a value without parts. A part that
    was not stated, such as the reach of a bit without one, is left out."""
    match of:
        case BoardValue():
            return _board_parts(of)
        case SpanOf(span):
            ends = {"lo": span.lo, "hi": span.hi, "size": span.size}
            return {name: Quantity(value, LENGTH) for name, value in ends.items()}
        case Placed():
            return of.members
        case Stretch(lo, hi):
            return {"lo": lo, "hi": hi}
        case Stock():
            return _stock_parts(of)
        case Bit():
            angle = _measures(ANGLE, angle=of.angle)
            return _lengths(diameter=of.diameter, radius=of.radius, flute=of.flute) | angle
        case Machine():
            x, y, z = of.travel
            pace = _measures(SPEED, feed=_per_second(of.feed))
            return _lengths(x=x, y=y, z=z) | pace | _measures(ACCELERATION, accel=of.accel)
        case _:
            return None


def _board_parts(of: BoardValue) -> dict[str, Value]:
    """The spans by axis; length, width and thickness by how the board lies, unknown when no span
    equals the stock's thickness (the kernel has a finding for that)."""
    box = of.board.box
    spans: dict[str, Value] = {axis.letter: SpanOf(box[axis]) for axis in Axis}
    lie = board_run(of.board, of.stock)
    if lie is None:
        return spans | {"length": UNKNOWN, "width": UNKNOWN, "thick": UNKNOWN}
    return spans | _lengths(
        length=box[lie.length].size, width=box[lie.width].size, thick=box[lie.thick].size
    )


def _stock_parts(of: Stock) -> dict[str, Value]:
    lo, hi = of.actual
    actual = Stretch(Quantity(lo, LENGTH), Quantity(hi, LENGTH))
    known: dict[str, Value] = {"actual": actual}
    if of.species is not None:
        known["species"] = of.species
    length, width = of.sheet if of.sheet is not None else (of.longest, of.widest)
    return _lengths(thick=of.thick, length=length, width=width) | known


def _lengths(**figures: Fraction | None) -> dict[str, Value]:
    return _measures(LENGTH, **figures)


def _measures(dimension: Dimension, **figures: Fraction | None) -> dict[str, Value]:
    return {
        name: Quantity(value, dimension) for name, value in figures.items() if value is not None
    }


def _per_second(feed: Fraction | None) -> Fraction | None:
    """A feed is kept per minute, as machines are set; values are worked out per second."""
    return None if feed is None else feed / 60
