"""What does a call give? The functions of a design and the few that the language has.

`arguments` is shared with `place`, which calls an assembly.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ..kernel.finding import Place
from ..kernel.near import nearest
from ..kernel.quantity import Quantity
from . import builtins, evaluate, syntax
from .arithmetic import wrong_kind
from .measures import IN_TESTS_ONLY
from .name_findings import (
    ArgumentTwice,
    MeasureOutsideTest,
    MissingArguments,
    TooManyArguments,
    UnknownArgument,
    UnknownFunction,
    UnknownKind,
)
from .names import Binding, Function, Scope
from .run import Run
from .units import in_dimension
from .values import MEASURED_KINDS, UNKNOWN, Kind, Value, kind_of

PARAMETER_KINDS: Final[Mapping[str, Kind]] = {
    kind.value: kind
    for kind in (
        Kind.LENGTH,
        Kind.ANGLE,
        Kind.COUNT,
        Kind.TEXT,
        Kind.TRUTH,
        Kind.STOCK,
        Kind.BIT,
        Kind.LIST,
    )
}
"""The kinds that a parameter may be declared to be."""

_DIMENSIONS: Final = {kind: dimension for dimension, kind in MEASURED_KINDS.items()}


def call(expr: syntax.Call, scope: Scope, run: Run) -> Value:
    """What `function(arguments)` gives."""
    name = expr.function.text
    function = scope.function(name)
    if function is not None:
        return _written(function, expr, scope, run)
    if name in builtins.FUNCTIONS and not scope.is_garbled(name):
        return _built_in(expr, scope, run)
    for argument in expr.arguments:  # for what is wrong in them
        evaluate.evaluate(argument.value, scope, run)
    if scope.may_declare(name):
        return UNKNOWN
    if name in IN_TESTS_ONLY:
        run.report(MeasureOutsideTest(place=expr.function.place, name=name))
        return UNKNOWN
    pattern = scope.pattern(name)
    known = [*builtins.FUNCTIONS, *function_names(scope)]
    run.report_missing(
        UnknownFunction(
            place=expr.function.place,
            name=name,
            nearest=nearest(name, known),
            assembly=pattern.written.name.place if pattern else None,
        )
    )
    return UNKNOWN


def function_names(scope: Scope) -> list[str]:
    """Every visible function's name, innermost first."""
    return list(dict.fromkeys(name for around in scope.outwards() for name in around.functions))


def rehearse(function: Function, run: Run) -> None:
    """Go through a function that nothing calls, for the mistakes in it."""
    inner = Scope(parent=function.scope)
    for parameter in function.written.parameters:
        kind_named(parameter, run)
        inner.values[parameter.name.text] = Binding(UNKNOWN, parameter.name.place)
    evaluate.evaluate(function.written.body, inner, run)


def arguments(
    callee: syntax.Fn | syntax.Assembly,
    closure: Scope,
    call_: syntax.Call | syntax.PlaceLine,
    scope: Scope,
    run: Run,
) -> dict[str, Binding]:
    """A value for every parameter of `callee`, from what the call gives and the defaults;
    `UNKNOWN`, with a finding, for what is missing or of the wrong kind."""
    name = callee.name.text
    parameters = {parameter.name.text: parameter for parameter in callee.parameters}
    given = _given(name, parameters, call_.arguments, run)
    inner = Scope(parent=closure)
    missing = []
    for word, parameter in parameters.items():
        value: Value = UNKNOWN
        at = parameter.place
        if word in given:
            at = given[word].value.place
            value = evaluate.evaluate(given[word].value, scope, run)
        elif parameter.default is not None:
            at = parameter.default.place
            value = evaluate.evaluate(parameter.default, inner, run)
        else:
            missing.append(word)
        inner.values[word] = Binding(_fitting(parameter, value, at, run), parameter.name.place)
    if missing and len(call_.arguments) < len(parameters):
        place = (call_.function if isinstance(call_, syntax.Call) else call_.assembly).place
        other = callee.name.place
        run.report(MissingArguments(place=place, callee=name, missing=tuple(missing), other=other))
    return inner.values


def kind_named(parameter: syntax.Parameter, run: Run) -> Kind | None:
    """The kind a parameter is declared to be; None for any, or for one that does not exist."""
    if parameter.kind is None:
        return None
    word = parameter.kind.text
    if word in PARAMETER_KINDS:
        return PARAMETER_KINDS[word]
    run.report(
        UnknownKind(
            place=parameter.kind.place,
            name=word,
            nearest=nearest(word, PARAMETER_KINDS),
            known=tuple(PARAMETER_KINDS),
        )
    )
    return None


def _fitting(parameter: syntax.Parameter, value: Value, at: Place, run: Run) -> Value:
    """The value as one of the parameter's kind."""
    kind = kind_named(parameter, run)
    if kind is None or value is UNKNOWN or kind_of(value) is kind:
        return value
    if isinstance(value, Quantity) and kind in _DIMENSIONS:
        nought = in_dimension(value, _DIMENSIONS[kind])
        if nought is not None:
            return nought
    run.report(wrong_kind(value, (kind,), at, parameter.place))
    return UNKNOWN


def _given(
    callee: str,
    parameters: Mapping[str, syntax.Parameter],
    written: tuple[syntax.Argument, ...],
    run: Run,
) -> dict[str, syntax.Argument]:
    """Which argument goes to which parameter: those without a name in order, then by name."""
    order = list(parameters)
    plain = [argument for argument in written if argument.name is None]
    if len(plain) > len(order):
        place, most = plain[len(order)].place, len(order)
        run.report(TooManyArguments(place=place, callee=callee, most=most, given=len(plain)))
    given = dict(zip(order, plain, strict=False))
    for argument in written:
        name = argument.name
        if name is None:
            continue
        if name.text not in parameters:
            free = [other for other in order if other not in given]
            _no_parameter(name, callee, nearest(name.text, free), tuple(order), run)
        elif name.text in given:
            first = given[name.text].place
            run.report(ArgumentTwice(place=argument.place, name=name.text, other=first))
        else:
            given[name.text] = argument
    return given


def _no_parameter(
    name: syntax.Ident, callee: str, near: str | None, known: tuple[str, ...], run: Run
) -> None:
    run.report(
        UnknownArgument(place=name.place, name=name.text, callee=callee, nearest=near, known=known)
    )


def _written(function: Function, expr: syntax.Call, scope: Scope, run: Run) -> Value:
    """What a function of the design gives."""
    written = function.written
    run.entered.add(written.place)
    values = arguments(written, function.scope, expr, scope, run)
    if not run.may_call(written, expr.function.place):
        return UNKNOWN
    run.calls += 1
    value = evaluate.evaluate(written.body, Scope(parent=function.scope, values=values), run)
    run.calls -= 1
    return value


def _built_in(expr: syntax.Call, scope: Scope, run: Run) -> Value:
    """What one of the language's own functions gives."""
    name = expr.function.text
    values: list[tuple[Value, Place]] = []
    for argument in expr.arguments:
        values.append((evaluate.evaluate(argument.value, scope, run), argument.value.place))
        if argument.name is not None:
            word, place = argument.name.text, argument.name.place
            run.report(UnknownArgument(place=place, name=word, callee=name, nearest=None, known=()))
            return UNKNOWN
    if any(value is UNKNOWN for value, _ in values):
        return UNKNOWN
    return builtins.FUNCTIONS[name](expr, tuple(values), run)
