"""The words of T codes: what a design claims about itself and does not hold."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.checks.findings import (
    DividedByZero,
    ExpectationFailed,
    Measured,
    NoFitToMeasure,
    NotComparable,
    NothingToMeasure,
    UnknownMeasure,
)
from ...kernel.figures import figure
from ...kernel.finding import Finding
from ...kernel.quantity import COUNT, Dimension
from . import Wording
from .words import Help, Words

KINDS: Mapping[Dimension, str] = {
    COUNT: "a count",
    Dimension(mm=1): "a length",
    Dimension(mm=2): "an area",
    Dimension(mm=3): "a volume",
    Dimension(deg=1): "an angle",
}


def _kind(dimension: Dimension) -> str:
    return KINDS.get(dimension, f"a figure in {_unit(dimension)}")


def _unit(dimension: Dimension) -> str:
    names = (("mm", dimension.mm), ("deg", dimension.deg), ("s", dimension.s))
    return "·".join(f"{name}{_power(power)}" for name, power in names if power)


def _power(power: int) -> str:
    return "" if power == 1 else str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))


def _figure(value: float, dimension: Dimension) -> str:
    return f"{figure(value)}{_unit(dimension)}"


def _call(name: str, subjects: tuple[str, ...]) -> str:
    return f"{name}({', '.join(subjects)})"


def _measured(measured: Measured) -> str:
    value = _figure(measured.value, measured.dimension)
    return f"{_call(measured.name, measured.subjects)} measures {value}"


def _failed(finding: ExpectationFailed) -> Words:
    value = _figure(finding.value, finding.dimension)
    wanted = "..".join(_figure(bound, finding.dimension) for bound in finding.bounds)
    if len(finding.measured) == 1 and finding.measured[0].value == finding.value:
        title = f"{_measured(finding.measured[0])}, wanted {finding.wanted} {wanted}"
        notes: tuple[str, ...] = ()
    else:
        title = f"`{finding.test}` comes out at {value}, wanted {finding.wanted} {wanted}"
        notes = tuple(_measured(measured) for measured in finding.measured)
    margin = _figure(finding.margin, finding.dimension)
    return Words(title=title, label=f"{value}: it misses by {margin}", notes=notes)


def _nothing(finding: NothingToMeasure) -> Words:
    near = () if finding.near is None else (Help(f"did you mean `{finding.near}`?"),)
    return Words(
        title=f"there is no board `{finding.board}` to measure",
        label=f"`{finding.measure}` asks for it here",
        help=near,
    )


def _no_fit(finding: NoFitToMeasure) -> Words:
    fitted = ", ".join(f"`{name}`" for name in finding.fitted_to)
    return Words(
        title=f"no joint fits `{finding.part}` into `{finding.socket}`",
        label="so there is no fit between them to measure",
        notes=(f"`{finding.part}` is fitted to {fitted}",) if fitted else (),
    )


def _unknown(finding: UnknownMeasure) -> Words:
    known = ", ".join(finding.known)
    if finding.takes is None:
        return Words(
            title=f"`{finding.name}` cannot be measured or claimed",
            label="not known",
            help=(Help(f"what there is: {known}"),),
        )
    boards = "one board" if finding.takes == 1 else "two boards"
    return Words(
        title=f"`{finding.name}` measures {boards}, not {finding.given}",
        label=f"{finding.given} given",
    )


def _not_comparable(finding: NotComparable) -> Words:
    return Words(
        title=f"{_kind(finding.left)} cannot be set against {_kind(finding.right)}",
        label="the two sides measure different things",
    )


def _by_zero(finding: DividedByZero) -> Words:
    return Words(
        title=f"`{finding.test}` divides by a figure that came out as 0",
        label="there is no such share",
    )


WORDS: Mapping[type[Finding], Wording] = {
    ExpectationFailed: _failed,
    NothingToMeasure: _nothing,
    NoFitToMeasure: _no_fit,
    UnknownMeasure: _unknown,
    NotComparable: _not_comparable,
    DividedByZero: _by_zero,
}
