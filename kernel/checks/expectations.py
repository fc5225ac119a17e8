"""Do the design's own claims hold on the parts as cut?

In: the bodies of a plan. Each expectation of each test stands alone. What touches a board or a
joint that another finding already stopped stays silent, and so do `no interference` and `travels`:
boards that overlap and motions that are blocked are told of by themselves, in every check.
"""

from __future__ import annotations

from typing import assert_never

from .. import thresholds
from ..expect import (
    Arithmetic,
    Claim,
    Compare,
    Figure,
    Given,
    Measure,
    Op,
    Relation,
    Statement,
    Within,
)
from ..finding import Finding
from ..solids import Bodies
from .claims import claim_finding
from .expect_findings import DividedByZero, ExpectationFailed, NotComparable
from .measures import Bench, Result, Stopped, Value, measured


def expectation_findings(bodies: Bodies) -> tuple[Finding, ...]:
    """A finding for each expectation that does not hold or cannot be measured."""
    findings: list[Finding] = []
    for test in bodies.plan.design.tests:
        bench = Bench(bodies, test)
        for statement in test.expectations:
            finding = _tried(bench, statement)
            if finding is not None:
                findings.append(finding)
    return tuple(findings)


def _tried(bench: Bench, statement: Statement) -> Finding | None:
    match statement:
        case Claim():
            return claim_finding(bench, statement)
        case Compare():
            return _compare(bench, statement)
        case Within():
            return _within(bench, statement)
        case _:
            assert_never(statement)


def _compare(bench: Bench, compare: Compare) -> Finding | None:
    left, right = _figure(bench, compare.left), _figure(bench, compare.right)
    stopped = _stopped(bench, compare, left, right)
    if isinstance(stopped, Stopped):
        return stopped.finding
    one, other = stopped
    if _holds(compare.relation, one.number, other.number):
        return None
    return _failed(bench, compare, compare.relation.value, one, (other,))


def _within(bench: Bench, within: Within) -> Finding | None:
    figures = [_figure(bench, f) for f in (within.figure, within.lo, within.hi)]
    stopped = _stopped(bench, within, *figures)
    if isinstance(stopped, Stopped):
        return stopped.finding
    value, lo, hi = stopped
    if _holds(Relation.GE, value.number, lo.number) and _holds(
        Relation.LE, value.number, hi.number
    ):
        return None
    return _failed(bench, within, "within", value, (lo, hi))


def _stopped(
    bench: Bench, statement: Compare | Within, *results: Result
) -> Stopped | tuple[Value, ...]:
    """The values, all of one dimension, or why there are none."""
    values = []
    for result in results:
        if isinstance(result, Stopped):
            return result
        values.append(result)
    for value in values[1:]:
        if value.dimension != values[0].dimension:
            return Stopped(
                NotComparable(
                    place=statement.place,
                    test=bench.test.name,
                    left=values[0].dimension,
                    right=value.dimension,
                )
            )
    return tuple(values)


def _holds(relation: Relation, left: float, right: float) -> bool:
    """Figures read off solids carry rounding: those closer than `SAME`, or than a part in 10^9 of
    a volume, are equal, and so neither less nor greater."""
    same = abs(left - right) <= max(thresholds.SAME, 1e-9 * max(abs(left), abs(right)))
    match relation:
        case Relation.EQ:
            return same
        case Relation.NE:
            return not same
        case Relation.LT:
            return left < right and not same
        case Relation.LE:
            return left < right or same
        case Relation.GT:
            return left > right and not same
        case Relation.GE:
            return left > right or same
        case _:
            assert_never(relation)


def _failed(
    bench: Bench, statement: Compare | Within, wanted: str, value: Value, bounds: tuple[Value, ...]
) -> Finding:
    return ExpectationFailed(
        place=statement.place,
        test=bench.test.name,
        value=value.number,
        dimension=value.dimension,
        wanted=wanted,
        bounds=tuple(bound.number for bound in bounds),
        margin=min(abs(value.number - bound.number) for bound in bounds),
        measured=tuple(m for v in (value, *bounds) for m in v.measured),
    )


def _figure(bench: Bench, figure: Figure) -> Result:
    match figure:
        case Given(quantity):
            return Value(float(quantity.number), quantity.dimension)
        case Measure():
            return measured(bench, figure)
        case Arithmetic():
            return _arithmetic(bench, figure)
        case _:
            assert_never(figure)


def _arithmetic(bench: Bench, sum_: Arithmetic) -> Result:
    left, right = _figure(bench, sum_.left), _figure(bench, sum_.right)
    if isinstance(left, Stopped):
        return left
    if isinstance(right, Stopped):
        return right
    measured = (*left.measured, *right.measured)
    one, other = left.dimension, right.dimension
    match sum_.op:
        case Op.ADD | Op.SUB:
            if one != other:
                return Stopped(
                    NotComparable(place=sum_.place, test=bench.test.name, left=one, right=other)
                )
            sign = 1.0 if sum_.op is Op.ADD else -1.0
            return Value(left.number + sign * right.number, one, measured)
        case Op.MUL:
            return Value(left.number * right.number, one.times(other), measured)
        case Op.DIV:
            if right.number == 0.0:
                return Stopped(DividedByZero(place=sum_.place, test=bench.test.name))
            return Value(left.number / right.number, one.times(other, -1), measured)
        case _:
            assert_never(sum_.op)
