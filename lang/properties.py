"""What stands in the braces of a declaration? Its properties, read one by one.

A property that is unknown, given twice, missing or zero is a finding, and the sheet has then
failed: what it declares is not known.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from ..kernel.near import nearest
from ..kernel.quantity import ANGLE, LENGTH, Dimension, Quantity
from . import syntax
from .arithmetic import bounds, wrong_kind
from .evaluate import evaluate
from .name_findings import MissingProperty, PropertyTwice, UnknownProperty
from .names import Scope
from .run import Run
from .units import in_dimension
from .value_findings import NotPositive, PropertyAmiss
from .values import MEASURED_KINDS, UNKNOWN, Stretch, Unknown

STOCK: Final[Mapping[str, str]] = {
    "thick": "thick 12mm",
    "actual": "actual 11.6mm..12.2mm",
    "sheet": "sheet 2440mm by 1220mm",
    "lumber": "lumber",
    "widest": "widest 200mm",
    "longest": "longest 3m",
    "species": "species beech",
}
"""The properties of a stock, each as it is written."""

SHAPES: Final[Mapping[str, str]] = {
    "straight": "straight 6mm",
    "roundover": "roundover 3mm",
    "v": "v 12mm 60deg",
    "dovetail": "dovetail 12mm 14deg",
    "drill": "drill 5mm",
}
"""The shapes of bits; of the figures the length is the diameter, for a roundover the radius."""

BIT: Final[Mapping[str, str]] = {
    **SHAPES,
    "flute": "flute 22mm",
    "reach": "reach 40mm",
    "by": "by hand",
}

MACHINE: Final[Mapping[str, str]] = {
    "travel": "travel 600mm by 600mm by 80mm",
    "feed": "feed 2400mm/min",
    "accel": "accel 400mm/s2",
}

PROPERTIES: Final[Mapping[str, Mapping[str, str]]] = {
    "stock": STOCK,
    "bit": BIT,
    "machine": MACHINE,
}


@dataclass(slots=True)
class Sheet:
    """The properties of one declaration while they are read; `failed` once one is amiss."""

    line: syntax.Declaration
    scope: Scope
    run: Run
    given: dict[str, syntax.Property] = field(default_factory=dict)
    failed: bool = False


def sheet_of(line: syntax.Declaration, scope: Scope, run: Run) -> Sheet:
    sheet = Sheet(line, scope, run)
    keyword = line.keyword.text
    known = PROPERTIES[keyword]
    for written in line.properties:
        word = written.word.text
        if word not in known:
            near = nearest(word, known)
            place = written.word.place
            sheet.failed = True
            run.report(
                UnknownProperty(
                    place=place, word=word, keyword=keyword, nearest=near, known=tuple(known)
                )
            )
        elif word in sheet.given:
            _clash(sheet, word, sheet.given[word], written)
        else:
            sheet.given[word] = written
    return sheet


def _clash(sheet: Sheet, word: str, first: syntax.Property, second: syntax.Property) -> None:
    sheet.failed = True
    other = first.place
    sheet.run.report(
        PropertyTwice(place=second.place, word=word, first=first.word.text, other=other)
    )


def exclude(sheet: Sheet, one: str, other: str) -> None:
    """Of two properties that exclude each other, the later one is amiss."""
    if one in sheet.given and other in sheet.given:
        pair = sorted((sheet.given[one], sheet.given[other]), key=lambda p: p.place.start)
        _clash(sheet, pair[1].word.text, pair[0], pair[1])


def need(sheet: Sheet, words: tuple[str, ...]) -> None:
    """One of `words` must be given. Where some property was not understood, it may be that one."""
    if sheet.failed or any(word in sheet.given for word in words):
        return
    sheet.failed = True
    line = sheet.line
    sheet.run.report(
        MissingProperty(
            place=line.name.place, keyword=line.keyword.text, name=line.name.text, missing=words
        )
    )


def amiss(sheet: Sheet, written: syntax.Property) -> None:
    sheet.failed = True
    example = PROPERTIES[sheet.line.keyword.text][written.word.text]
    sheet.run.report(PropertyAmiss(place=written.place, word=written.word.text, example=example))


def one(sheet: Sheet, word: str, dimension: Dimension = LENGTH) -> Fraction | None:
    """The single figure of a property, above zero."""
    figures = several(sheet, word, 1, dimension)
    return None if figures is None else figures[0]


def several(
    sheet: Sheet, word: str, count: int, dimension: Dimension = LENGTH
) -> tuple[Fraction, ...] | None:
    """The figures of a property, parted by `by`, all above zero."""
    written = sheet.given.get(word)
    if written is None:
        return None
    values, parting = written.items[::2], written.items[1::2]
    by = all(isinstance(item, syntax.Name) and item.text == "by" for item in parting)
    if len(values) != count or len(parting) != count - 1 or not by:
        amiss(sheet, written)
        return None
    figures = [figure(sheet, word, value, dimension) for value in values]
    return tuple(f for f in figures if f is not None) if None not in figures else None


def figure(sheet: Sheet, word: str, expr: syntax.Expr, dimension: Dimension) -> Fraction | None:
    value = evaluate(expr, sheet.scope, sheet.run)
    number = in_dimension(value, dimension) if isinstance(value, Quantity) else None
    if number is None or number.number <= 0:
        sheet.failed = True
    if number is not None and number.number <= 0:
        sheet.run.report(NotPositive(place=expr.place, word=word, figure=number))
    elif number is None and value is not UNKNOWN:
        wanted = (MEASURED_KINDS[dimension],)
        sheet.run.report(wrong_kind(value, wanted, expr.place))
    return None if number is None else number.number


def actual(sheet: Sheet) -> tuple[Fraction, Fraction] | None:
    """The least and greatest thickness delivered; one figure stands for both."""
    written = sheet.given.get("actual")
    if written is None:
        return None
    if len(written.items) != 1:
        amiss(sheet, written)
        return None
    item = written.items[0]
    if not isinstance(item, syntax.Range):
        only = figure(sheet, "actual", item, LENGTH)
        return None if only is None else (only, only)
    lo, hi = (figure(sheet, "actual", end, LENGTH) for end in (item.lo, item.hi))
    if lo is None or hi is None or sheet.failed:
        return None
    span: Stretch | Unknown = bounds(
        Stretch(Quantity(lo, LENGTH), Quantity(hi, LENGTH)), item.place, sheet.run
    )
    sheet.failed = sheet.failed or span is UNKNOWN
    return lo, hi


def shape(sheet: Sheet, word: str) -> tuple[Fraction | None, Fraction | None]:
    """The size of a bit and, for a v or a dovetail, its angle; the two in either order."""
    written = sheet.given[word]
    angled = word in ("v", "dovetail")
    if len(written.items) != (2 if angled else 1):
        amiss(sheet, written)
        return None, None
    if not angled:
        return figure(sheet, word, written.items[0], LENGTH), None
    first = evaluate(written.items[0], sheet.scope, sheet.run)
    turned = isinstance(first, Quantity) and first.dimension == ANGLE
    size, angle = reversed(written.items) if turned else written.items
    return figure(sheet, word, size, LENGTH), figure(sheet, word, angle, ANGLE)


def words(sheet: Sheet, word: str) -> tuple[str, ...]:
    """The bare words after a property."""
    written = sheet.given.get(word)
    items = () if written is None else written.items
    return tuple(item.text for item in items if isinstance(item, syntax.Name))


def bare(sheet: Sheet, word: str) -> None:
    """A property that is a word alone."""
    if word in sheet.given and sheet.given[word].items:
        amiss(sheet, sheet.given[word])


def species(sheet: Sheet) -> str | None:
    """The species: a bare word or a text."""
    written = sheet.given.get("species")
    if written is None:
        return None
    match written.items:
        case (syntax.Name(text=word),) | (syntax.Text(value=word),):
            return word
        case _:
            amiss(sheet, written)
            return None
