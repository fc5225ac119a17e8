"""The words of U codes: units and values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from ...kernel.figures import mm
from ...kernel.finding import Finding, Place
from ...kernel.quantity import Quantity
from ..units import UNITS, written
from ..value_findings import (
    AxisTwice,
    BackwardRange,
    DividedByNought,
    EmptySpan,
    MeasuredLogic,
    MixedDimensions,
    NoClaim,
    NotComparable,
    NothingGiven,
    NotOneBoard,
    NotPositive,
    NotWhole,
    OutOfBounds,
    PropertyAmiss,
    UnknownUnit,
    WrongKind,
)
from ..values import Kind
from . import Wording
from .listing import listed
from .words import Edit, Help, Label, Words

KINDS: Final[Mapping[Kind, str]] = {
    Kind.LENGTH: "a length",
    Kind.AREA: "an area",
    Kind.VOLUME: "a volume",
    Kind.MASS: "a mass",
    Kind.ANGLE: "an angle",
    Kind.COUNT: "a count",
    Kind.SPEED: "a speed",
    Kind.ACCELERATION: "an acceleration",
    Kind.OTHER_MEASURE: "a measure of another sort",
    Kind.TRUTH: "something true or false",
    Kind.TEXT: "a text",
    Kind.LIST: "a list",
    Kind.RANGE: "a range",
    Kind.STOCK: "a stock",
    Kind.BIT: "a bit",
    Kind.MACHINE: "a machine",
    Kind.BOARD: "a board",
    Kind.SPAN: "a board's span",
    Kind.PLACED: "an assembly put down",
    Kind.GROUP: "a name with an index",
    Kind.UNKNOWN: "unknown",
}
"""What each sort of value is called."""


def _told(kind: Kind, figure: Quantity | None) -> str:
    """`a length, 12mm`; without the figure where it is not known."""
    return KINDS[kind] if figure is None else f"{KINDS[kind]}, {written(figure)}"


def _named(kind: Kind, figure: Quantity | None) -> str:
    """`a length (12mm)`, for the middle of a sentence."""
    return KINDS[kind] if figure is None else f"{KINDS[kind]} ({written(figure)})"


def _unit_help(figure: Quantity | None, place: Place | None, unit: str) -> tuple[Help, ...]:
    """Write the unit; as an edit where the place is nothing but the bare number."""
    if figure is None or place is None:
        return ()
    number = written(figure)
    is_bare = place.end - place.start == len(number)
    edit = Edit(Place(place.file, place.end, place.end), unit) if is_bare else None
    return (Help(f"if it is meant as one, write its unit: `{number}{unit}`", edit),)


def _unknown_unit(finding: UnknownUnit) -> Words:
    place, near = finding.place, finding.nearest
    units = listed(tuple(f"`{word}`" for word in UNITS if not word[-1].isdigit()), "and")
    if near is None:
        return Words(
            title=f"`{finding.unit}` is no unit",
            label="this unit does not exist",
            notes=(
                f"the units are {units}; `mm2` and `mm3` and the like measure areas and volumes",
            ),
        )
    edit = None
    if place is not None:
        edit = Edit(Place(place.file, place.end - len(finding.unit), place.end), near)
    return Words(
        title=f"`{finding.unit}` is no unit",
        label="this unit does not exist",
        help=(Help(f"the nearest one is `{near}`", edit),),
    )


_JOINING: Final[Mapping[str, str]] = {
    "+": "{right} cannot be added to {left}",
    "-": "{right} cannot be taken from {left}",
    "..": "a range cannot run from {left} to {right}",
}


def _mixed(finding: MixedDimensions) -> Words:
    left = _named(finding.left, finding.left_figure)
    right = _named(finding.right, finding.right_figure)
    form = _JOINING.get(finding.op, "{left} cannot be compared with {right}")
    help_: tuple[Help, ...] = ()
    if finding.right is Kind.COUNT and finding.left is Kind.LENGTH:
        help_ = _unit_help(finding.right_figure, finding.right_place, "mm")
    elif finding.left is Kind.COUNT and finding.right is Kind.LENGTH:
        help_ = _unit_help(finding.left_figure, finding.left_place, "mm")
    return Words(
        title=form.format(left=left, right=right),
        others=(
            Label(finding.left_place, _told(finding.left, finding.left_figure)),
            Label(finding.right_place, _told(finding.right, finding.right_figure)),
        ),
        help=help_,
    )


def _wrong_kind(finding: WrongKind) -> Words:
    wanted = listed(tuple(KINDS[kind] for kind in finding.wanted), "or")
    others = () if finding.other is None else (Label(finding.other, f"this asks for {wanted}"),)
    help_: tuple[Help, ...] = ()
    if finding.found is Kind.COUNT and finding.wanted == (Kind.LENGTH,):
        help_ = _unit_help(finding.figure, finding.place, "mm")
    elif finding.found is Kind.COUNT and finding.wanted == (Kind.ANGLE,):
        help_ = _unit_help(finding.figure, finding.place, "deg")
    return Words(
        title=f"{wanted} is wanted here, not {_named(finding.found, finding.figure)}",
        label=f"this is {_told(finding.found, finding.figure)}",
        others=others,
        help=help_,
    )


def _divided(finding: DividedByNought) -> Words:
    return Words(
        title="nothing can be divided by 0",
        label="this comes out as 0",
        help=(Help("guard it: `if … == 0 then … else …`"),),
    )


def _not_whole(finding: NotWhole) -> Words:
    return Words(
        title=f"a whole number is wanted here, not {written(finding.figure)}",
        label=f"this is {written(finding.figure)}",
        help=(Help("round it with `floor(…)`, `round(…)` or `ceil(…)`"),),
    )


def _out_of_bounds(finding: OutOfBounds) -> Words:
    lo, hi = written(finding.lo), written(finding.hi)
    below = finding.value.number < finding.lo.number
    bound = f"at least {lo}" if below else f"at most {hi}"
    return Words(
        title=f"`{finding.name}` is {written(finding.value)}, but must be {bound}",
        label=f"{'below' if below else 'above'} its bounds, {lo}..{hi}",
        others=(Label(finding.other, f"bounded here to {lo}..{hi}"),),
        help=(Help("set it within its bounds, or widen them if the design allows it"),),
    )


def _backward(finding: BackwardRange) -> Words:
    lo, hi = written(finding.lo), written(finding.hi)
    place = finding.place
    edit = None
    if place is not None and place.end - place.start == len(f"{lo}..{hi}"):
        edit = Edit(place, f"{hi}..{lo}")
    return Words(
        title=f"these bounds run backwards, from {lo} down to {hi}",
        label="nothing lies between them",
        help=(Help(f"put the lower end first: `{hi}..{lo}`", edit),),
    )


def _empty_span(finding: EmptySpan) -> Words:
    axis, lo, hi = finding.axis.letter, mm(finding.lo), mm(finding.hi)
    count = finding.elsewhere
    if finding.lo == finding.hi:
        label = f"begins and ends at {axis} = {lo}"
    else:
        label = f"begins at {axis} = {lo} and ends before that, at {axis} = {hi}"
    return Words(
        title=f"`{finding.board}` fills no space along {axis}",
        label=label,
        notes=(f"{count} more {'board has' if count == 1 else 'boards have'} this span",)
        * (count > 0),
        help=(Help(f"write the lower end first; `{axis} a..+n` runs n on from a"),),
    )


def _not_positive(finding: NotPositive) -> Words:
    return Words(
        title=f"`{finding.word}` must be above 0, not {written(finding.figure)}",
        label=f"this is {written(finding.figure)}",
    )


def _axis_twice(finding: AxisTwice) -> Words:
    return Words(
        title=f"{finding.axis.letter} is given twice",
        label="given here again",
        others=(Label(finding.other, "given here first"),),
        help=(Help("keep one of the two"),),
    )


def _no_claim(finding: NoClaim) -> Words:
    return Words(
        title=f"an expectation is true or false; this is {KINDS[finding.found]}",
        label=f"{KINDS[finding.found]} claims nothing by itself",
        help=(Help("compare it, `… >= 2mm`, or bound it, `… within 1mm..2mm`"),),
    )


def _measured_logic(finding: MeasuredLogic) -> Words:
    under = f"under `{finding.op}`" if finding.op else "here"
    return Words(
        title=f"a measured figure cannot stand {under}",
        label="what is measured is not known before the piece is cut",
        help=(Help("compare it with one value, or write several `expect` lines"),),
    )


def _not_comparable(finding: NotComparable) -> Words:
    left, right = KINDS[finding.left], KINDS[finding.right]
    return Words(
        title=f"`{finding.op}` cannot compare {left} with {right}",
        label=f"{left} to its left, {right} to its right",
    )


def _nothing_given(finding: NothingGiven) -> Words:
    return Words(
        title=f"`{finding.function}` of nothing has no value",
        label="no value is given",
        help=(Help(f"give it measures, `{finding.function}(a, b)`, or a list that has some"),),
    )


def _not_one_board(finding: NotOneBoard) -> Words:
    many = f"{finding.count} boards" if finding.count else "no board"
    return Words(
        title=f"`{finding.measure}` measures one board at a time, not {many}",
        label=f"this stands for {many}",
        help=(Help("name one of them, by its index"),),
    )


def _amiss(finding: PropertyAmiss) -> Words:
    return Words(
        title=f"`{finding.word}` is not written like this",
        label=f"wanted is the form `{finding.example}`",
    )


WORDS: Mapping[type[Finding], Wording] = {
    UnknownUnit: _unknown_unit,
    MixedDimensions: _mixed,
    WrongKind: _wrong_kind,
    DividedByNought: _divided,
    NotWhole: _not_whole,
    OutOfBounds: _out_of_bounds,
    BackwardRange: _backward,
    EmptySpan: _empty_span,
    NotPositive: _not_positive,
    AxisTwice: _axis_twice,
    NoClaim: _no_claim,
    MeasuredLogic: _measured_logic,
    NotComparable: _not_comparable,
    NothingGiven: _nothing_given,
    NotOneBoard: _not_one_board,
    PropertyAmiss: _amiss,
}
