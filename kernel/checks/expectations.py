"""Do the design's own claims hold on the parts as cut?

In: the bodies of a plan. Each expectation of each test stands alone. What touches a board or a
joint that another finding already stopped stays silent, and so does `no interference`: boards that
overlap are told of by themselves, in every check, with the wood that both claim.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias, assert_never

from .. import measure, thresholds
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
    Test,
    Within,
)
from ..finding import Finding
from ..near import nearest
from ..quantity import LENGTH, VOLUME, Dimension
from ..solids import Bodies
from .findings import (
    DividedByZero,
    ExpectationFailed,
    Measured,
    NoFitToMeasure,
    NotComparable,
    NothingToMeasure,
    UnknownMeasure,
)

OfOne: TypeAlias = Callable[[Bodies, str], float | None]
OfTwo: TypeAlias = Callable[[Bodies, str, str], float | None]

OF_ONE: Mapping[str, tuple[OfOne, Dimension]] = {
    "volume": (measure.volume, VOLUME),
    "length": (lambda bodies, name: _number(measure.length(bodies, name)), LENGTH),
    "width": (lambda bodies, name: _number(measure.width(bodies, name)), LENGTH),
    "thick": (lambda bodies, name: _number(measure.thick(bodies, name)), LENGTH),
}
OF_TWO: Mapping[str, tuple[OfTwo, Dimension]] = {
    "fit": (measure.fit, LENGTH),
    "overlap": (measure.overlap, VOLUME),
}
CLAIMS = ("no interference",)


@dataclass(frozen=True, slots=True)
class Value:
    """A figure worked out: its number, in mm, mm2, mm3, degrees or counts, and what was measured
    for it."""

    number: float
    dimension: Dimension
    measured: tuple[Measured, ...] = ()


@dataclass(frozen=True, slots=True)
class Stopped:
    """No figure: a finding that says why, or None when another finding already does."""

    finding: Finding | None


Result: TypeAlias = Value | Stopped


@dataclass(frozen=True, slots=True)
class Bench:
    """What expectations are tried on."""

    bodies: Bodies
    test: Test


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
            return _claim(bench, statement)
        case Compare():
            return _compare(bench, statement)
        case Within():
            return _within(bench, statement)
        case _:
            assert_never(statement)


def _claim(bench: Bench, claim: Claim) -> Finding | None:
    """Only claims that are nothing to us: what `no interference` asks is looked at anyway."""
    if claim.words in CLAIMS:
        return None
    return UnknownMeasure(
        place=claim.place,
        test=bench.test.name,
        name=claim.words,
        given=0,
        takes=None,
        known=CLAIMS,
    )


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
            return _measure(bench, figure)
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
            made = Dimension(one.mm + other.mm, one.deg + other.deg, one.s + other.s)
            return Value(left.number * right.number, made, measured)
        case Op.DIV:
            if right.number == 0.0:
                return Stopped(DividedByZero(place=sum_.place, test=bench.test.name))
            made = Dimension(one.mm - other.mm, one.deg - other.deg, one.s - other.s)
            return Value(left.number / right.number, made, measured)
        case _:
            assert_never(sum_.op)


def _measure(bench: Bench, asked: Measure) -> Result:
    wrong = _wrong_subjects(bench, asked)
    if wrong is not None:
        return wrong
    if asked.name in OF_ONE:
        of_one, dimension = OF_ONE[asked.name]
        number = of_one(bench.bodies, asked.subjects[0])
    else:
        of_two, dimension = OF_TWO[asked.name]
        number = of_two(bench.bodies, asked.subjects[0], asked.subjects[1])
    if number is None:
        return Stopped(_no_fit(bench, asked))
    return Value(number, dimension, (Measured(asked.name, asked.subjects, number, dimension),))


def _wrong_subjects(bench: Bench, asked: Measure) -> Stopped | None:
    """Why the measure cannot be taken of these boards at all; None when it can."""
    takes = 1 if asked.name in OF_ONE else 2 if asked.name in OF_TWO else None
    if takes != len(asked.subjects):
        return Stopped(
            UnknownMeasure(
                place=asked.place,
                test=bench.test.name,
                name=asked.name,
                given=len(asked.subjects),
                takes=takes,
                known=(*OF_ONE, *OF_TWO),
            )
        )
    written = [board.name for board in bench.bodies.plan.design.boards]
    for name in asked.subjects:
        if bench.bodies.index(name) is None:
            if name in written:
                return Stopped(None)
            return Stopped(
                NothingToMeasure(
                    place=asked.place,
                    test=bench.test.name,
                    measure=asked.name,
                    board=name,
                    near=nearest(name, written),
                )
            )
    return None


def _no_fit(bench: Bench, asked: Measure) -> Finding | None:
    """No joint fits the two together; silent when a joint of theirs was stopped."""
    part, socket = asked.subjects
    joints = bench.bodies.plan.joints
    if any(j.failed and {j.first.name, j.second.name} == {part, socket} for j in joints):
        return None
    others = {
        (m.socket if m.part == part else m.part): None
        for joint in joints
        for m in joint.matings
        if part in (m.part, m.socket)
    }
    return NoFitToMeasure(
        place=asked.place, test=bench.test.name, part=part, socket=socket, fitted_to=tuple(others)
    )


def _number(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
