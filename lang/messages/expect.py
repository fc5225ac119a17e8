"""The words of T codes: what a design claims about itself and does not hold."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.checks.expect_findings import (
    DividedByZero,
    ExpectationFailed,
    Measured,
    NoFitToMeasure,
    NoSuchJoint,
    NotComparable,
    NothingBetween,
    NothingMoves,
    NothingToMeasure,
    TooLargeForMachine,
    UnknownMeasure,
    UnknownWood,
)
from ...kernel.figures import figure
from ...kernel.finding import Finding
from ...kernel.quantity import COUNT, LENGTH, MASS, Dimension
from . import Wording
from .assembly import point
from .listing import ticked
from .words import Help, Label, Words

MOST_JOINTS = 6
"""How many joints of the design are named where one is missing."""

KINDS: Mapping[Dimension, str] = {
    COUNT: "a count",
    Dimension(mm=1): "a length",
    Dimension(mm=2): "an area",
    Dimension(mm=3): "a volume",
    Dimension(deg=1): "an angle",
    MASS: "a mass",
}


def _kind(dimension: Dimension) -> str:
    return KINDS.get(dimension, f"a figure in {_unit(dimension)}")


def _unit(dimension: Dimension) -> str:
    return "·".join(f"{name}{_power(power)}" for name, power in dimension.powers if power)


def _power(power: int) -> str:
    return "" if power == 1 else str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))


def with_unit(value: float, dimension: Dimension) -> str:
    """A measured figure, `12000mm³`."""
    return f"{figure(value)}{_unit(dimension)}"


def _call(name: str, subjects: tuple[str, ...]) -> str:
    return f"{name}({', '.join(subjects)})"


def _measured(measured: Measured) -> str:
    value = with_unit(measured.value, measured.dimension)
    return f"{_call(measured.name, measured.subjects)} measures {value}"


def _with_place(measured: Measured) -> str:
    where = "" if measured.at is None else f", at {point(measured.at)}"
    return f"{_measured(measured)}{where}"


def _failed(finding: ExpectationFailed) -> Words:
    value = with_unit(finding.value, finding.dimension)
    wanted = "..".join(with_unit(bound, finding.dimension) for bound in finding.bounds)
    if len(finding.measured) == 1 and finding.measured[0].value == finding.value:
        title = f"{_measured(finding.measured[0])}, wanted {finding.wanted} {wanted}"
        at = finding.measured[0].at
        notes: tuple[str, ...] = () if at is None else (f"measured at {point(at)}",)
    else:
        title = f"`{finding.test}` comes out at {value}, wanted {finding.wanted} {wanted}"
        notes = tuple(_with_place(measured) for measured in finding.measured)
    margin = with_unit(finding.margin, finding.dimension)
    return Words(title=title, label=f"{value}: it misses by {margin}", notes=notes)


def _nothing(finding: NothingToMeasure) -> Words:
    near = () if finding.near is None else (Help(f"did you mean `{finding.near}`?"),)
    return Words(
        title=f"there is nothing called `{finding.board}` to measure",
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


def _no_joint(finding: NoSuchJoint) -> Words:
    near = () if finding.near is None else (Help(f"did you mean `{finding.near}`?"),)
    known = ticked(finding.known[:MOST_JOINTS], "and")
    more = len(finding.known) - MOST_JOINTS
    notes = (f"the design has {known}{f', and {more} more' if more > 0 else ''}",)
    return Words(
        title=f"there is no joint `{finding.joint}`",
        label=f"`{finding.measure}` asks for it here",
        notes=notes if finding.known else ("the design has no joints",),
        help=(*near, Help("a joint is named on its line: `join … with dado as shelf_joint`")),
    )


def _unknown_wood(finding: UnknownWood) -> Words:
    if finding.species is None:
        title, told = f"`{finding.stock}` names no species", "its density is not known"
    else:
        title = f"the density of `{finding.species}` is not known"
        told = f"`{finding.stock}` is of it"
    near = () if finding.near is None else (Help(f"is `{finding.near}` meant?"),)
    others = () if finding.stock_place is None else (Label(finding.stock_place, told),)
    return Words(
        title=f"{title}, so `{finding.subject}` cannot be weighed",
        label="asked for here",
        others=others,
        help=(
            *near,
            Help("name the species on the stock's line: `species birch_ply`, `species oak`"),
        ),
    )


def _nothing_between(finding: NothingBetween) -> Words:
    first, second = finding.first, finding.second
    return Words(
        title=f"no face of `{first}` looks straight at one of `{second}`",
        label="so there is no gap between them to measure",
        help=(Help(f"`clearance({first}, {second})` is their least distance any way"),),
    )


def _too_large(finding: TooLargeForMachine) -> Words:
    machine = finding.machine
    short = [
        f"along {axis} it takes {_mm(needed)} and the machine has {_mm(has)}: "
        f"{_mm(needed - has)} short"
        for axis, needed, has in machine.short
    ]
    places = ((finding.board_place, "this board"), (machine.place, "this machine"))
    return Words(
        title=f"`{finding.board}` does not fit on `{machine.machine}`",
        label="claimed here",
        others=tuple(Label(place, text) for place, text in places if place is not None),
        notes=tuple(short),
    )


def _mm(value: float) -> str:
    return with_unit(value, LENGTH)


def _nothing_moves(finding: NothingMoves) -> Words:
    subject = finding.subject
    moves = ticked(finding.moves, "and")
    return Words(
        title=f"no line of the design moves `{subject}`",
        label="so nothing tells how it is to travel",
        notes=(f"what moves is {moves}",) if finding.moves else (),
        help=(Help(f"say how far it goes: `travel {subject} along -y for 200mm`"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    ExpectationFailed: _failed,
    NothingToMeasure: _nothing,
    NoFitToMeasure: _no_fit,
    UnknownMeasure: _unknown,
    NotComparable: _not_comparable,
    DividedByZero: _by_zero,
    NoSuchJoint: _no_joint,
    UnknownWood: _unknown_wood,
    NothingBetween: _nothing_between,
    TooLargeForMachine: _too_large,
    NothingMoves: _nothing_moves,
}
