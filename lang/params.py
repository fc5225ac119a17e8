"""Which value does a `param` have: the one set from outside, or its default?"""

from __future__ import annotations

from ..kernel.finding import Place
from ..kernel.quantity import Quantity
from . import syntax
from .arithmetic import bounds, wrong_kind
from .evaluate import evaluate, range_of
from .name_findings import DeclaredTwice, Where
from .names import Binding, Scope
from .run import Room, Run
from .units import in_dimension
from .value_findings import OutOfBounds
from .values import UNKNOWN, Stretch, Value, kind_of


def declare(name: syntax.Ident, value: Value, scope: Scope, run: Run) -> None:
    """Give a value its name, which nothing else in the same scope may have."""
    earlier = scope.values.get(name.text)
    if earlier is None:
        scope.values[name.text] = Binding(value, name.place)
    elif not run.rehearsing:
        run.report(DeclaredTwice(place=name.place, name=name.text, other=earlier.place))


def param(statement: syntax.Param, scope: Scope, room: Room, run: Run) -> None:
    """Declare a param. Only those of the design's own file can be set from outside."""
    value = evaluate(statement.value, scope, run)
    limits: Value = UNKNOWN
    if statement.within is not None:
        written = range_of(statement.within, scope, run)
        limits = bounds(written, statement.within.place, run)
    default = _inside(statement, value, statement.value.place, limits, run)
    setting = run.settings.get(statement.name.text) if room.where is Where.TOP else None
    if setting is not None:
        run.taken.add(statement.name.text)
        given = _set(statement, setting, evaluate(setting.value, scope, run), value, run)
        default = _inside(statement, given, setting.value.place, limits, run)
    declare(statement.name, default, scope, run)


def _set(
    statement: syntax.Param, setting: syntax.Param, value: Value, default: Value, run: Run
) -> Value:
    """The value set from outside, which must be of the default's kind."""
    if value is UNKNOWN:
        return UNKNOWN
    if isinstance(value, Quantity) and isinstance(default, Quantity):
        value = in_dimension(value, default.dimension) or value
    if default is not UNKNOWN and kind_of(value) is not kind_of(default):
        place, other = setting.value.place, statement.name.place
        run.report(wrong_kind(value, (kind_of(default),), place, other))
        return UNKNOWN
    return value


def _inside(statement: syntax.Param, value: Value, place: Place, limits: Value, run: Run) -> Value:
    """The value, unless it lies outside the bounds."""
    if value is UNKNOWN or not isinstance(limits, Stretch) or statement.within is None:
        return value
    number = in_dimension(value, limits.lo.dimension) if isinstance(value, Quantity) else None
    if number is None:
        wanted = (kind_of(limits.lo),)
        run.report(wrong_kind(value, wanted, place, statement.within.place))
        return UNKNOWN
    if limits.lo.number <= number.number <= limits.hi.number:
        return number
    run.report(
        OutOfBounds(
            place=place,
            name=statement.name.text,
            value=number,
            lo=limits.lo,
            hi=limits.hi,
            other=statement.within.place,
        )
    )
    return UNKNOWN
