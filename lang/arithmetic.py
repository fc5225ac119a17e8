"""What comes out of an operator? Exact sums, products and comparisons of values.

Each function takes values and the tree that they came from, for the places of its findings.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from ..kernel.cutter import Bit
from ..kernel.finding import Place
from ..kernel.quantity import LENGTH, Quantity
from ..kernel.stock import Stock
from .run import Run
from .syntax import Binary
from .units import NOUGHT, matched, product, quotient
from .value_findings import (
    BackwardRange,
    DividedByNought,
    MixedDimensions,
    NotComparable,
    NotWhole,
    TooFine,
    TooLarge,
    WrongKind,
)
from .values import UNKNOWN, Kind, Stretch, Unknown, Value, kind_of

MEASURES: Final = (Kind.LENGTH, Kind.ANGLE, Kind.COUNT)
"""What to name where any measure will do."""

_ORDER: Final[Mapping[str, Callable[[Fraction, Fraction], bool]]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
    "!=": operator.ne,
}


def bounded(value: Quantity, place: Place, run: Run) -> Quantity | Unknown:
    """The value, unless it is larger or finer than any design needs: exact numbers would grow
    without end under repeated multiplication."""
    number, dimension = value.number, value.dimension
    power = max(1, abs(dimension.mm))
    if abs(number.numerator) > run.limits.magnitude**power * number.denominator:
        run.report(TooLarge(place=place, limit=run.limits.magnitude))
        return UNKNOWN
    if number.denominator.bit_length() > run.limits.exact_bits:
        run.report(TooFine(place=place, limit=run.limits.exact_digits))
        return UNKNOWN
    return value


def measure(value: Value, place: Place, run: Run) -> Quantity | Unknown:
    """The value as a measure; UNKNOWN, with a finding, for anything else."""
    if isinstance(value, Quantity) or value is UNKNOWN:
        return value
    run.report(WrongKind(place=place, wanted=MEASURES, found=kind_of(value)))
    return UNKNOWN


def truth(value: Value, place: Place, run: Run) -> bool | Unknown:
    """The value as true or false; UNKNOWN, with a finding, for anything else."""
    if isinstance(value, bool) or value is UNKNOWN:
        return value
    run.report(wrong_kind(value, (Kind.TRUTH,), place))
    return UNKNOWN


def length(value: Value, place: Place, run: Run) -> Fraction | None:
    """The value as a length in mm; None, with a finding where it is known, for anything else."""
    if value is NOUGHT:
        return NOUGHT.number
    if isinstance(value, Quantity) and value.dimension == LENGTH:
        return value.number
    if value is not UNKNOWN:
        run.report(wrong_kind(value, (Kind.LENGTH,), place))
    return None


def whole(value: Value, place: Place, run: Run) -> int | None:
    """The value as a whole count; None, with a finding where it is known, for anything else."""
    if value is UNKNOWN:
        return None
    if kind_of(value) is not Kind.COUNT or not isinstance(value, Quantity):
        run.report(wrong_kind(value, (Kind.COUNT,), place))
        return None
    if value.number.denominator != 1:
        run.report(NotWhole(place=place, figure=value))
        return None
    return value.number.numerator


def wrong_kind(
    value: Value, wanted: tuple[Kind, ...], place: Place, other: Place | None = None
) -> WrongKind:
    figure = value if isinstance(value, Quantity) else None
    return WrongKind(place=place, wanted=wanted, found=kind_of(value), figure=figure, other=other)


def negative(value: Value, place: Place, run: Run) -> Value:
    number = measure(value, place, run)
    if number is UNKNOWN or number is NOUGHT:
        return number
    return replace(number, number=-number.number)


def binary(expr: Binary, left: Value, right: Value, run: Run) -> Value:
    """What `left op right` is worth, for every operator but `and` and `or`."""
    if left is UNKNOWN or right is UNKNOWN:
        return UNKNOWN
    if expr.op in _ORDER:
        return _compared(expr, left, right, run)
    a = measure(left, expr.left.place, run)
    b = measure(right, expr.right.place, run)
    if a is UNKNOWN or b is UNKNOWN:
        return UNKNOWN
    if expr.op == "*":
        return bounded(product(a, b), expr.place, run)
    if expr.op == "/":
        if b.number == 0:
            run.report(DividedByNought(place=expr.right.place))
            return UNKNOWN
        return bounded(quotient(a, b), expr.place, run)
    pair = _pair(expr.op, (a, b), (expr.left.place, expr.right.place), expr.op_place, run)
    if pair is None:
        return UNKNOWN
    sign = 1 if expr.op == "+" else -1
    total = Quantity(pair[0].number + sign * pair[1].number, pair[0].dimension)
    return bounded(total, expr.place, run)


def stretch(
    lo: Value, hi: Value, places: tuple[Place, Place], place: Place, run: Run
) -> Stretch | Unknown:
    """The range `lo..hi`; its ends may stand in any order."""
    if lo is UNKNOWN or hi is UNKNOWN:
        return UNKNOWN
    a, b = measure(lo, places[0], run), measure(hi, places[1], run)
    if a is UNKNOWN or b is UNKNOWN:
        return UNKNOWN
    pair = _pair("..", (a, b), places, place, run)
    return UNKNOWN if pair is None else Stretch(*pair)


def bounds(value: Value, place: Place, run: Run) -> Stretch | Unknown:
    """The range as bounds, its lower end first."""
    if value is UNKNOWN:
        return UNKNOWN
    if not isinstance(value, Stretch):
        run.report(wrong_kind(value, (Kind.RANGE,), place))
        return UNKNOWN
    if value.lo.number > value.hi.number:
        run.report(BackwardRange(place=place, lo=value.lo, hi=value.hi))
        return UNKNOWN
    return value


def within(
    value: Value, limits: Value, places: tuple[Place, Place], place: Place, run: Run
) -> Value:
    """Whether `value within lo..hi`, both ends belonging to it."""
    if value is UNKNOWN or limits is UNKNOWN:
        return UNKNOWN
    number, ends = measure(value, places[0], run), bounds(limits, places[1], run)
    if number is UNKNOWN or ends is UNKNOWN:
        return UNKNOWN
    low = _pair("within", (number, ends.lo), places, place, run)
    if low is None:
        return UNKNOWN
    return ends.lo.number <= number.number <= ends.hi.number


def _pair(
    op: str, both: tuple[Quantity, Quantity], places: tuple[Place, Place], place: Place, run: Run
) -> tuple[Quantity, Quantity] | None:
    """Both in one dimension, or a finding that tells what each is."""
    a, b = both
    pair = matched(a, b)
    if pair is None:
        left_place, right_place = places
        run.report(
            MixedDimensions(
                place=place,
                op=op,
                left=kind_of(a),
                right=kind_of(b),
                left_figure=a,
                right_figure=b,
                left_place=left_place,
                right_place=right_place,
            )
        )
    return pair


def _compared(expr: Binary, left: Value, right: Value, run: Run) -> Value:
    if isinstance(left, Quantity) and isinstance(right, Quantity):
        places = (expr.left.place, expr.right.place)
        pair = _pair(expr.op, (left, right), places, expr.op_place, run)
        return UNKNOWN if pair is None else _ORDER[expr.op](pair[0].number, pair[1].number)
    if expr.op in ("==", "!="):
        same = _same(left, right)
        if same is not None:
            return same == (expr.op == "==")
    run.report(
        NotComparable(place=expr.op_place, op=expr.op, left=kind_of(left), right=kind_of(right))
    )
    return UNKNOWN


def _same(left: Value, right: Value) -> bool | None:
    """Whether two values without an order are the same; None when they cannot be compared."""
    match left, right:
        case (bool(), bool()) | (str(), str()):
            return left == right
        case (Stock(name=a), Stock(name=b)) | (Bit(name=a), Bit(name=b)):
            return a == b
        case _:
            return None
