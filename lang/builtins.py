"""What do the language's own functions give? Few, exact, and rational.

There is no square root or sine: their values are no rationals, and lengths here are exact.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, TypeAlias

from ..kernel.finding import Place
from ..kernel.quantity import COUNT, Quantity
from . import syntax
from .arithmetic import bounded, measure, wrong_kind
from .name_findings import MissingArguments, TooManyArguments
from .run import Run
from .units import NOUGHT, matched
from .value_findings import DividedByNought, MixedDimensions, NothingGiven
from .values import UNKNOWN, Group, Items, Kind, Unknown, Value, kind_of

Given: TypeAlias = tuple[tuple[Value, Place], ...]
BuiltIn: TypeAlias = Callable[[syntax.Call, Given, Run], Value]


def least(call: syntax.Call, given: Given, run: Run) -> Value:
    """`min(a, b, …)`, or of a list."""
    alike = _alike(call, given, run)
    return min(alike, key=lambda q: q.number) if alike else UNKNOWN


def greatest(call: syntax.Call, given: Given, run: Run) -> Value:
    """`max(a, b, …)`, or of a list."""
    alike = _alike(call, given, run)
    return max(alike, key=lambda q: q.number) if alike else UNKNOWN


def total(call: syntax.Call, given: Given, run: Run) -> Value:
    """`sum(list)`."""
    alike = _alike(call, given, run)
    if not alike:
        return UNKNOWN
    whole = sum((q.number for q in alike), Fraction(0))
    return bounded(Quantity(whole, alike[0].dimension), call.place, run)


def size(call: syntax.Call, given: Given, run: Run) -> Value:
    """`abs(a)`."""
    if not _count_is(call, given, ("value",), 1, run):
        return UNKNOWN
    value = measure(*given[0], run)
    return value if value is UNKNOWN else Quantity(abs(value.number), value.dimension)


def how_many(call: syntax.Call, given: Given, run: Run) -> Value:
    """`len(list)`: how many items a list has, or an indexed name."""
    if not _count_is(call, given, ("list",), 1, run):
        return UNKNOWN
    value, place = given[0]
    if isinstance(value, Items | Group):
        return Quantity(Fraction(len(value.items)), COUNT)
    run.report(wrong_kind(value, (Kind.LIST, Kind.GROUP), place))
    return UNKNOWN


def _rounded(to_whole: Callable[[Fraction], int]) -> BuiltIn:
    def rounded(call: syntax.Call, given: Given, run: Run) -> Value:
        """To whole counts, or to whole multiples of a second value: `floor(room, 1mm)`."""
        if not _count_is(call, given, ("value", "step"), 1, run):
            return UNKNOWN
        value = measure(*given[0], run)
        step = measure(*given[1], run) if len(given) > 1 else Quantity(Fraction(1))
        if value is UNKNOWN or step is UNKNOWN:
            return UNKNOWN
        if len(given) == 1 and value.dimension != COUNT:
            missing = MissingArguments(
                place=call.function.place, callee=call.function.text, missing=("step",)
            )
            run.report(missing)
            return UNKNOWN
        pair = _pair(call, value, step, given, run)
        if pair is None:
            return UNKNOWN
        if step.number == 0:
            run.report(DividedByNought(place=given[-1][1]))
            return UNKNOWN
        steps = to_whole(pair[0].number / pair[1].number)
        return bounded(Quantity(steps * pair[1].number, pair[1].dimension), call.place, run)

    return rounded


FUNCTIONS: Final[Mapping[str, BuiltIn]] = {
    "min": least,
    "max": greatest,
    "abs": size,
    "floor": _rounded(math.floor),
    "ceil": _rounded(math.ceil),
    "round": _rounded(lambda number: math.floor(number + Fraction(1, 2))),  # a half goes up
    "sum": total,
    "len": how_many,
}
"""The language's own functions, by name."""


def _count_is(
    call: syntax.Call, given: Given, names: tuple[str, ...], least_: int, run: Run
) -> bool:
    """Whether there are as many values as a function takes."""
    callee, place = call.function.text, call.function.place
    if len(given) < least_:
        run.report(MissingArguments(place=place, callee=callee, missing=names[len(given) : least_]))
        return False
    if len(given) > len(names):
        extra = given[len(names)][1]
        most = len(names)
        run.report(TooManyArguments(place=extra, callee=callee, most=most, given=len(given)))
        return False
    return True


def _alike(call: syntax.Call, given: Given, run: Run) -> list[Quantity]:
    """The measures given, or those of the one list given, in one dimension; empty, with a finding,
    when there are none or they do not go together."""
    if len(given) == 1 and isinstance(given[0][0], Items):
        given = tuple((item, given[0][1]) for item in given[0][0].items)
    if not given:
        run.report(NothingGiven(place=call.place, function=call.function.text))
        return []
    measures = [(measure(value, place, run), place) for value, place in given]
    if any(value is UNKNOWN for value, _ in measures):
        return []
    return _in_one_dimension(call, measures, run)


def _in_one_dimension(
    call: syntax.Call, measures: list[tuple[Quantity | Unknown, Place]], run: Run
) -> list[Quantity]:
    known = [(value, place) for value, place in measures if isinstance(value, Quantity)]
    guide = next((pair for pair in known if pair[0] is not NOUGHT), known[0])
    alike: list[Quantity] = []
    for value, place in known:
        pair = _pair(call, guide[0], value, ((guide[0], guide[1]), (value, place)), run)
        if pair is None:
            return []
        alike.append(pair[1])
    return alike


def _pair(
    call: syntax.Call, left: Quantity, right: Quantity, given: Given, run: Run
) -> tuple[Quantity, Quantity] | None:
    """Both in one dimension, or a finding; `given` are their places, first and last."""
    pair = matched(left, right)
    if pair is None:
        run.report(
            MixedDimensions(
                place=call.function.place,
                op=call.function.text,
                left=kind_of(left),
                right=kind_of(right),
                left_figure=left,
                right_figure=right,
                left_place=given[0][1],
                right_place=given[-1][1],
            )
        )
    return pair
