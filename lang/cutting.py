"""Which boards does a `cut` line cut, from which side, where, and with which options?

Lines are resolved once every board is known, as joins are. After `at` stand positions in the
boards' own coordinates; among the options `z.hi` is a side of the board, where `z` has no other
meaning, and a board's name stands for that board after `of`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from ..kernel.board import Axis, Span
from ..kernel.design import Along, Option, OptionValue, Shaping, Spots, Word
from ..kernel.finding import Place
from ..kernel.near import nearest
from ..kernel.quantity import LENGTH, Quantity
from . import syntax
from .arithmetic import length, wrong_kind
from .evaluate import evaluate
from .joins import boards_named, listed, name_given, option, option_value, unique
from .name_findings import UnknownMember
from .names import Scope
from .pieces import AXES
from .run import CutToDo, Run
from .value_findings import AxisTwice, BackwardRange
from .values import UNKNOWN, BoardValue, Items, Kind, Stretch, Value

ENDS: Final = ("lo", "hi")

PLACES: Final = (Kind.LENGTH, Kind.LIST, Kind.RANGE)
"""What can stand after the axis of a place."""


def shaped(todo: CutToDo, taken: dict[str, None], run: Run) -> Shaping | None:
    """The shaping of one line; None, with findings, when a part of it is not understood. `taken`
    are the names of the joins and cuts so far, to which its own is added."""
    line, scope = todo.line, todo.scope
    boards = boards_named(line.boards, scope, run)
    is_high = _is_high(line.side, run)
    at = _spots(line.at, scope, run)
    options = [_option(written, scope, run) for written in line.options]
    side = f"{line.side.axis.text}.{line.side.end.text}"
    in_words = f"{listed(todo, boards or ())} from {side} with {line.family.text}"
    local = name_given(todo, in_words, run)
    if boards is None or is_high is None or at is None or local is None or todo.rehearsed:
        return None
    if None in options:
        return None
    return Shaping(
        name=unique(todo.frame.prefix + local, taken),
        family=line.family.text,
        boards=boards,
        axis=AXES[line.side.axis.text],
        positive=is_high,
        at=at,
        options=tuple(each for each in options if each is not None),
        place=line.place,
        family_place=line.family.place,
        side_place=line.side.place,
    )


def _is_high(side: syntax.SideName, run: Run) -> bool | None:
    """Whether the side is the high one of its axis; None, with a finding, when it is neither."""
    end = side.end.text
    if end in ENDS:
        return end == "hi"
    near = nearest(end, ENDS)
    run.report(
        UnknownMember(place=side.end.place, name=end, of=side.axis.text, nearest=near, known=ENDS)
    )
    return None


# ---- where ---------------------------------------------------------------------------------------


def _spots(
    written: tuple[syntax.Spot, ...], scope: Scope, run: Run
) -> tuple[Spots | Along, ...] | None:
    """The places, one an axis; None, with findings, when one of them is not understood."""
    found: dict[Axis, Spots | Along | None] = {}
    first: dict[Axis, syntax.Spot] = {}
    for spot in written:
        axis = AXES[spot.axis.text]
        place = _spot(spot, axis, scope, run)
        if axis in first:
            run.report(AxisTwice(place=spot.place, axis=axis, other=first[axis].place))
            found[axis] = None
        else:
            first[axis] = spot
            found[axis] = place
    known = tuple(place for place in found.values() if place is not None)
    return known if len(known) == len(found) else None


def _spot(spot: syntax.Spot, axis: Axis, scope: Scope, run: Run) -> Spots | Along | None:
    value = evaluate(spot.lo, scope, run)
    if spot.hi is not None:
        lo = length(value, spot.lo.place, run)
        hi = length(evaluate(spot.hi, scope, run), spot.hi.place, run)
        if lo is None or hi is None:
            return None
        return _along(axis, lo, lo + hi if spot.hi_is_run else hi, spot, run)
    match value:
        case Stretch(lo=low, hi=high):
            lo, hi = length(low, spot.lo.place, run), length(high, spot.lo.place, run)
            return None if lo is None or hi is None else _along(axis, lo, hi, spot, run)
        case Items(items):
            at = [_point(item, spot.lo, run) for item in items]
        case _:
            at = [_point(value, spot.lo, run)]
    points = tuple(point for point in at if point is not None)
    return Spots(axis, points, spot.place) if len(points) == len(at) else None


def _along(axis: Axis, lo: Fraction, hi: Fraction, spot: syntax.Spot, run: Run) -> Along | None:
    if lo < hi:
        return Along(axis, Span(lo, hi), spot.place)
    end = spot.lo.place.end if spot.hi is None else spot.hi.place.end
    place = Place(spot.place.file, spot.lo.place.start, end)
    run.report(BackwardRange(place=place, lo=Quantity(lo, LENGTH), hi=Quantity(hi, LENGTH)))
    return None


def _point(value: Value, written: syntax.Expr, run: Run) -> Fraction | None:
    if isinstance(value, Quantity) or value is UNKNOWN:
        return length(value, written.place, run)
    run.report(wrong_kind(value, PLACES, written.place))
    return None


# ---- options -------------------------------------------------------------------------------------


def _option(written: syntax.Property, scope: Scope, run: Run) -> Option | None:
    return option(written, scope, run, _board if written.word.text == "of" else _value)


def _value(item: syntax.Expr, scope: Scope, run: Run) -> OptionValue | None:
    match item:
        case syntax.Member(of=syntax.Name(text=axis), name=end) if axis in AXES:
            if scope.value(axis) is None:
                return Word(f"{axis}.{end.text}", item.place)
    return option_value(item, scope, run)


def _board(item: syntax.Expr, scope: Scope, run: Run) -> OptionValue | None:
    """A board by its full name."""
    value = evaluate(item, scope, run)
    if isinstance(value, BoardValue):
        return Word(value.board.name, item.place)
    if value is not UNKNOWN:
        run.report(wrong_kind(value, (Kind.BOARD,), item.place))
    return None
