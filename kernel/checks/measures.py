"""Which figure does a measure of a test give on the parts as cut, or why is there none?

In: the bodies of a plan and a measure with its subjects' names. Out: the figure with its place, or
a finding; none where another finding already tells why.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from .. import measure
from ..expect import Measure, Test
from ..finding import Finding, Place
from ..measure import Found
from ..near import nearest
from ..quantity import AREA, COUNT, LENGTH, MASS, VOLUME, Dimension
from ..solids import Bodies
from ..species import densities
from .expect_findings import (
    Measured,
    NoFitToMeasure,
    NoSuchJoint,
    NothingBetween,
    NothingToMeasure,
    UnknownMeasure,
    UnknownWood,
)

OfOne: TypeAlias = Callable[[Bodies, str], float | Fraction | None]
OfTwo: TypeAlias = Callable[[Bodies, str, str], Found | float | None]

OF_ONE: Mapping[str, tuple[OfOne, Dimension]] = {
    "volume": (measure.volume, VOLUME),
    "mass": (measure.mass, MASS),
    "length": (measure.length, LENGTH),
    "width": (measure.width, LENGTH),
    "thick": (measure.thick, LENGTH),
    "sides_cut": (measure.sides_cut, COUNT),
}
OF_TWO: Mapping[str, tuple[OfTwo, Dimension]] = {
    "fit": (measure.fit_found, LENGTH),
    "clearance": (measure.clearance_found, LENGTH),
    "gap": (measure.gap_found, LENGTH),
    "overlap": (measure.overlap_found, VOLUME),
    "glue_area": (measure.glue_area, AREA),
}
OF_JOINT: Mapping[str, tuple[OfOne, Dimension]] = {"glue_area": (measure.joint_glue_area, AREA)}
"""Measures of one subject that is a joint."""

OF_WHOLE = ("volume", "mass", "clearance", "gap")
"""Measures that take an assembly put down as well as a board."""


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


def measured(bench: Bench, asked: Measure) -> Result:
    wrong = _wrong_subjects(bench, asked)
    if wrong is not None:
        return wrong
    names = asked.subjects
    if len(names) == 1:
        of_one, dimension = (OF_JOINT if asked.name in OF_JOINT else OF_ONE)[asked.name]
        got: Found | float | Fraction | None = of_one(bench.bodies, names[0])
        ends = measure.size_ends(bench.bodies, names[0], asked.name)
    else:
        of_two, dimension = OF_TWO[asked.name]
        got, ends = of_two(bench.bodies, names[0], names[1]), None
    if got is None:
        return Stopped(_no_figure(bench, asked))
    found = got if isinstance(got, Found) else Found(float(got))
    ends = found.ends or ends
    told = Measured(asked.name, names, found.value, dimension, found.at, ends, found.boards)
    return Value(found.value, dimension, (told,))


def _wrong_subjects(bench: Bench, asked: Measure) -> Stopped | None:
    """Why the measure cannot be taken of these things at all; None when it can."""
    given = len(asked.subjects)
    if given == 1 and asked.name in OF_JOINT:
        return None
    takes = 1 if asked.name in OF_ONE else 2 if asked.name in OF_TWO else None
    if takes != given:
        return Stopped(
            UnknownMeasure(
                place=asked.place,
                test=bench.test.name,
                name=asked.name,
                given=given,
                takes=takes,
                known=(*OF_ONE, *OF_TWO),
            )
        )
    for name in asked.subjects:
        gone = missing(bench, asked.name, name, asked.place, asked.name in OF_WHOLE)
        if gone is not None:
            return gone
    return None


def missing(
    bench: Bench, measured: str, name: str, place: Place | None, whole: bool
) -> Stopped | None:
    """Why there is nothing of that name to measure; None when there is. Boards that were left out
    were told of; of an assembly that has one of these nothing is measured."""
    found = measure.boards_of(bench.bodies, name) if whole else ()
    written = [board.name for board in bench.bodies.plan.design.boards]
    own = [one for one in written if one == name or (whole and one.startswith(f"{name}."))]
    if bench.bodies.index(name) is not None or (found and len(found) >= len(own)):
        return None
    if own:
        return Stopped(None)
    near = nearest(name, written)
    return Stopped(
        NothingToMeasure(place=place, test=bench.test.name, measure=measured, board=name, near=near)
    )


def _no_figure(bench: Bench, asked: Measure) -> Finding | None:
    """Why a measure of things that are there gave nothing."""
    match asked.name, asked.subjects:
        case "mass", (subject,):
            return _unknown_wood(bench, asked, subject)
        case "glue_area", (joint,):
            return _no_such_joint(bench, asked, joint)
        case "gap", (first, second):
            return NothingBetween(
                place=asked.place, test=bench.test.name, first=first, second=second
            )
        case _:
            return _no_fit(bench, asked)


def _unknown_wood(bench: Bench, asked: Measure, subject: str) -> Finding:
    name = measure.unknown_wood(bench.bodies, subject)[0]
    stock = next(stock for stock in bench.bodies.plan.design.stocks if stock.name == name)
    return UnknownWood(
        place=asked.place,
        test=bench.test.name,
        subject=subject,
        stock=name,
        stock_place=stock.place,
        species=stock.species,
        near=None if stock.species is None else nearest(stock.species, densities()),
    )


def _no_such_joint(bench: Bench, asked: Measure, joint: str) -> Finding:
    known = tuple(join.name for join in bench.bodies.plan.design.joins)
    return NoSuchJoint(
        place=asked.place,
        test=bench.test.name,
        measure=asked.name,
        joint=joint,
        near=nearest(joint, known),
        known=known,
    )


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
