"""The words of B codes: boards and stock, and with `cuts.py` cuts that belong to one board."""

from __future__ import annotations

from collections.abc import Mapping

from ...kernel.board import Axis
from ...kernel.figures import mm
from ...kernel.finding import Finding
from ...kernel.findings import (
    GrainThroughThickness,
    NameTakenTwice,
    SpanNotPositive,
    StockThicknessAmiss,
    ThicknessMatchesNoSpan,
    UnknownStock,
)
from . import Wording, cuts
from .words import Help, Label, Words


def _thickness(finding: ThicknessMatchesNoSpan) -> Words:
    sizes = dict(zip(Axis, finding.sizes, strict=True))
    told = " by ".join(mm(size) for size in finding.sizes)
    near = min(Axis, key=lambda axis: (abs(sizes[axis] - finding.thick), axis))
    thick, letter = mm(finding.thick), near.letter
    return Words(
        title=f"no span of `{finding.board}` is {thick}, the thickness of `{finding.stock}`",
        label=f"{told} along x, y and z",
        others=tuple(Label(p, f"thick {thick}") for p in (finding.stock_place,) if p is not None),
        help=(
            Help(f"make the span along {letter} {thick} instead of {mm(sizes[near])}"),
            Help(f"or name a stock that is {mm(sizes[near])} thick"),
        ),
    )


def _span(finding: SpanNotPositive) -> Words:
    letter = finding.axis.letter
    return Words(
        title=f"`{finding.board}` has no extent along {letter}: from {mm(finding.lo)} to "
        f"{mm(finding.hi)}",
        label="no wood is left between the two",
        help=(Help("the second figure of a span must be the greater one"),),
    )


def _twice(finding: NameTakenTwice) -> Words:
    first = finding.first_place
    return Words(
        title=f"two {finding.thing.value}s are called `{finding.name}`",
        label="the name is taken",
        others=() if first is None else (Label(first, "first used here"),),
        help=(Help("give one of them another name; the first is used, the other left out"),),
    )


def _stock(finding: UnknownStock) -> Words:
    known = ", ".join(f"`{name}`" for name in finding.known)
    return Words(
        title=f"`{finding.board}` is made of `{finding.stock}`, a stock nobody declared",
        label="no such stock",
        notes=(f"declared: {known}",) if known else (),
        help=() if finding.nearest is None else (Help(f"did you mean `{finding.nearest}`?"),),
    )


def _grain(finding: GrainThroughThickness) -> Words:
    letter = finding.axis.letter
    return Words(
        title=f"the grain of `{finding.board}` cannot run through its thickness",
        label=f"only the span along {letter} is {mm(finding.thick)}, as thick as `{finding.stock}`",
        help=(Help(f"let the grain run along an axis other than {letter}"),),
    )


def _amiss(finding: StockThicknessAmiss) -> Words:
    return Words(
        title=f"`{finding.stock}` cannot be {mm(finding.thick)} thick and delivered "
        f"{mm(finding.lo)} to {mm(finding.hi)}",
        label="no such boards exist",
        help=(Help("give a thickness above zero, and the least delivered before the greatest"),),
    )


WORDS: Mapping[type[Finding], Wording] = {
    **cuts.WORDS,
    ThicknessMatchesNoSpan: _thickness,
    SpanNotPositive: _span,
    NameTakenTwice: _twice,
    UnknownStock: _stock,
    GrainThroughThickness: _grain,
    StockThicknessAmiss: _amiss,
}
