"""What is an expression worth?

In come a tree and the scope it stands in, out comes a value; what is wrong with it goes to the
`Run`, and the value is then `UNKNOWN`. Nothing here declares or makes anything.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, assert_never

from ..kernel.near import nearest
from ..kernel.quantity import Quantity
from . import arithmetic, calls, members, syntax
from .builtins import FUNCTIONS
from .measures import IN_TESTS_ONLY
from .name_findings import DeclaredLater, UnknownName
from .names import Scope
from .run import Run
from .units import UNITS, quantity
from .value_findings import TooManyItems, UnknownUnit
from .values import UNKNOWN, Items, Unknown, Value, size_of

TRUTHS: Final[Mapping[str, bool]] = {"true": True, "false": False}
"""The language's own names of values."""


def evaluate(expr: syntax.Expr, scope: Scope, run: Run) -> Value:
    """The value of `expr`."""
    if not run.enter(expr.place):
        run.depth -= 1
        return UNKNOWN
    value = _value(expr, scope, run)
    run.depth -= 1
    return value


def _value(expr: syntax.Expr, scope: Scope, run: Run) -> Value:
    match expr:
        case syntax.Number():
            return number(expr, run)
        case syntax.Name():
            return name(expr, scope, run)
        case syntax.Binary():
            return _binary(expr, scope, run)
        case syntax.Member():
            return members.member(expr, evaluate(expr.of, scope, run), run)
        case syntax.Index():
            of, at = evaluate(expr.of, scope, run), evaluate(expr.at, scope, run)
            return members.indexed(expr, of, at, run)
        case syntax.Unary():
            return _unary(expr, scope, run)
        case syntax.Call():
            return calls.call(expr, scope, run)
        case syntax.Choice():
            return _choice(expr, scope, run)
        case syntax.Range():
            return range_of(expr, scope, run)
        case syntax.WithinRange():
            return _within(expr, scope, run)
        case syntax.ListOf():
            return _list(expr, scope, run)
        case syntax.Text():
            return expr.value
        case _:
            assert_never(expr)


def number(expr: syntax.Number, run: Run) -> Quantity | Unknown:
    """A written number, exactly."""
    value = quantity(expr.value, expr.unit)
    if value is None and expr.place in run.slips:
        return UNKNOWN
    if value is None:
        unit = expr.unit or ""
        run.report(UnknownUnit(place=expr.place, unit=unit, nearest=nearest(unit, UNITS)))
        return UNKNOWN
    return arithmetic.bounded(value, expr.place, run)


def name(expr: syntax.Name, scope: Scope, run: Run) -> Value:
    """What a name stands for."""
    binding = scope.value(expr.text)
    if binding is not None:
        return binding.value
    if expr.text in TRUTHS:
        return TRUTHS[expr.text]
    if expr.place not in run.passed:
        run.passed.add(expr.place)
        _missing(expr, scope, run)
    return UNKNOWN


def _missing(expr: syntax.Name, scope: Scope, run: Run) -> None:
    """Tell that nothing in sight has the name."""
    later = scope.declared_later(expr.text)
    if later is not None:
        run.report_missing(DeclaredLater(place=expr.place, name=expr.text, other=later))
    elif not scope.may_declare(expr.text):
        near = nearest(expr.text, [*scope.value_names(), *TRUTHS])
        called = expr.text in FUNCTIONS or expr.text in IN_TESTS_ONLY
        run.report_missing(
            UnknownName(place=expr.place, name=expr.text, nearest=near, is_called=called)
        )


def range_of(expr: syntax.Range, scope: Scope, run: Run) -> Value:
    lo, hi = evaluate(expr.lo, scope, run), evaluate(expr.hi, scope, run)
    return arithmetic.stretch(lo, hi, (expr.lo.place, expr.hi.place), expr.place, run)


def _list(expr: syntax.ListOf, scope: Scope, run: Run) -> Value:
    items = tuple(evaluate(item, scope, run) for item in expr.items)
    size, limit = size_of(items), run.limits.loop_rounds
    if size > limit:
        run.report(TooManyItems(place=expr.place, limit=limit))
        return UNKNOWN
    return Items(items, size)


def _binary(expr: syntax.Binary, scope: Scope, run: Run) -> Value:
    """A chain `a + b + c …` is worked out from its left end in a loop: it may be long."""
    chain = [expr]
    while isinstance(chain[-1].left, syntax.Binary):
        chain.append(chain[-1].left)
    value = evaluate(chain[-1].left, scope, run)
    for link in reversed(chain):
        if link.op in ("and", "or"):
            value = _logic(link, value, scope, run)
        else:
            value = arithmetic.binary(link, value, evaluate(link.right, scope, run), run)
    return value


def _logic(expr: syntax.Binary, left: Value, scope: Scope, run: Run) -> Value:
    """`and` and `or` leave out the right side where the left one decides."""
    first = arithmetic.truth(left, expr.left.place, run)
    if first is UNKNOWN or first == (expr.op == "or"):
        return first
    return arithmetic.truth(evaluate(expr.right, scope, run), expr.right.place, run)


def _unary(expr: syntax.Unary, scope: Scope, run: Run) -> Value:
    value = evaluate(expr.operand, scope, run)
    if expr.op == "-":
        return arithmetic.negative(value, expr.operand.place, run)
    claim = arithmetic.truth(value, expr.operand.place, run)
    return claim if claim is UNKNOWN else not claim


def _choice(expr: syntax.Choice, scope: Scope, run: Run) -> Value:
    condition = evaluate(expr.condition, scope, run)
    chosen = arithmetic.truth(condition, expr.condition.place, run)
    if chosen is UNKNOWN:
        return UNKNOWN
    return evaluate(expr.yes if chosen else expr.no, scope, run)


def _within(expr: syntax.WithinRange, scope: Scope, run: Run) -> Value:
    value = evaluate(expr.value, scope, run)
    limits = range_of(expr.range, scope, run)
    places = (expr.value.place, expr.range.place)
    return arithmetic.within(value, limits, places, expr.place, run)
