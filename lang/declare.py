"""What do the braces of `stock`, `bit` and `machine` say?

Each kind of declaration has its few properties; what is unknown, given twice, missing or zero is a
finding, and the thing declared is then not known.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from ..kernel.cutter import Bit, BitKind, Machine
from ..kernel.near import nearest
from ..kernel.quantity import ANGLE, LENGTH, Dimension, Quantity
from ..kernel.stock import Stock
from . import syntax
from .arithmetic import bounds, wrong_kind
from .evaluate import evaluate
from .name_findings import DeclaredTwice, MissingProperty, PropertyTwice, UnknownProperty
from .names import Scope
from .params import declare
from .run import Run
from .units import ACCELERATION, SPEED, in_dimension
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


def declaration(line: syntax.Declaration, scope: Scope, run: Run) -> None:
    """Declare a stock, bit or machine."""
    sheet = _sheet(line, scope, run)
    thing = _thing(sheet)
    if thing is None or sheet.failed:
        run.bits_unsure = run.bits_unsure or line.keyword.text == "bit"
        declare(line.name, UNKNOWN, scope, run)
        return
    if run.rehearsing or _keep(thing, line, run):
        declare(line.name, thing, scope, run)
    else:
        declare(line.name, UNKNOWN, scope, run)


def _thing(sheet: Sheet) -> Stock | Bit | Machine | None:
    match sheet.line.keyword.text:
        case "stock":
            return _stock(sheet)
        case "bit":
            return _bit(sheet)
        case _:
            return _machine(sheet)


def _keep(thing: Stock | Bit | Machine, line: syntax.Declaration, run: Run) -> bool:
    """Take the thing up into the design, where its name must be its own in all files."""
    kept: list[Stock] | list[Bit] | list[Machine]
    match thing:
        case Stock():
            kept = run.stocks
        case Bit():
            kept = run.bits
        case Machine():
            kept = run.machines
    earlier = next((other for other in kept if other.name == thing.name), None)
    if earlier is None:
        kept.append(thing)  # type: ignore[arg-type]  # the match above has paired them
        return True
    run.report(DeclaredTwice(place=line.name.place, name=thing.name, other=earlier.place))
    return False


# ---- the three kinds -----------------------------------------------------------------------------


def _stock(sheet: Sheet) -> Stock | None:
    thick = _one(sheet, "thick")
    area = _several(sheet, "sheet", 2)
    widest, longest = _one(sheet, "widest"), _one(sheet, "longest")
    _bare(sheet, "lumber")
    for word in ("lumber", "widest", "longest"):
        _exclude(sheet, "sheet", word)
    _need(sheet, ("thick",))
    actual = _actual(sheet)
    if thick is None:
        return None
    return Stock(
        name=sheet.line.name.text,
        thick=thick,
        actual=actual or (thick, thick),
        sheet=None if area is None else (area[0], area[1]),
        widest=widest,
        longest=longest,
        species=_species(sheet),
        place=sheet.line.name.place,
    )


def _bit(sheet: Sheet) -> Bit | None:
    shapes = [word for word in sheet.given if word in SHAPES]
    if not shapes:
        _need(sheet, tuple(SHAPES))
        return None
    for word in shapes[1:]:
        _exclude(sheet, shapes[0], word)
    kind = BitKind(shapes[0])
    size, angle = _shape(sheet, shapes[0])
    flute, reach = _one(sheet, "flute"), _one(sheet, "reach")
    by_hand = _words(sheet, "by") == ("hand",)
    if "by" in sheet.given and not by_hand:
        _amiss(sheet, sheet.given["by"])
    if size is None:
        return None
    return Bit(
        name=sheet.line.name.text,
        kind=kind,
        radius=size if kind is BitKind.ROUNDOVER else size / 2,
        flute=flute,
        reach=reach,
        angle=angle,
        by_hand=by_hand,
        place=sheet.line.name.place,
    )


def _machine(sheet: Sheet) -> Machine | None:
    travel = _several(sheet, "travel", 3)
    feed, accel = _one(sheet, "feed", SPEED), _one(sheet, "accel", ACCELERATION)
    _need(sheet, ("travel",))
    if travel is None:
        return None
    return Machine(
        name=sheet.line.name.text,
        travel=(travel[0], travel[1], travel[2]),
        feed=None if feed is None else feed * 60,  # per minute, as machines are set
        accel=accel,
        place=sheet.line.name.place,
    )


# ---- reading properties --------------------------------------------------------------------------


def _sheet(line: syntax.Declaration, scope: Scope, run: Run) -> Sheet:
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


def _exclude(sheet: Sheet, one: str, other: str) -> None:
    """Of two properties that exclude each other, the later one is amiss."""
    if one in sheet.given and other in sheet.given:
        pair = sorted((sheet.given[one], sheet.given[other]), key=lambda p: p.place.start)
        _clash(sheet, pair[1].word.text, pair[0], pair[1])


def _need(sheet: Sheet, words: tuple[str, ...]) -> None:
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


def _amiss(sheet: Sheet, written: syntax.Property) -> None:
    sheet.failed = True
    example = PROPERTIES[sheet.line.keyword.text][written.word.text]
    sheet.run.report(PropertyAmiss(place=written.place, word=written.word.text, example=example))


def _one(sheet: Sheet, word: str, dimension: Dimension = LENGTH) -> Fraction | None:
    """The single figure of a property, above zero."""
    figures = _several(sheet, word, 1, dimension)
    return None if figures is None else figures[0]


def _several(
    sheet: Sheet, word: str, count: int, dimension: Dimension = LENGTH
) -> tuple[Fraction, ...] | None:
    """The figures of a property, parted by `by`, all above zero."""
    written = sheet.given.get(word)
    if written is None:
        return None
    values, parting = written.items[::2], written.items[1::2]
    by = all(isinstance(item, syntax.Name) and item.text == "by" for item in parting)
    if len(values) != count or len(parting) != count - 1 or not by:
        _amiss(sheet, written)
        return None
    figures = [_figure(sheet, word, value, dimension) for value in values]
    return tuple(f for f in figures if f is not None) if None not in figures else None


def _figure(sheet: Sheet, word: str, expr: syntax.Expr, dimension: Dimension) -> Fraction | None:
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


def _actual(sheet: Sheet) -> tuple[Fraction, Fraction] | None:
    """The least and greatest thickness delivered; one figure stands for both."""
    written = sheet.given.get("actual")
    if written is None:
        return None
    if len(written.items) != 1:
        _amiss(sheet, written)
        return None
    item = written.items[0]
    if not isinstance(item, syntax.Range):
        figure = _figure(sheet, "actual", item, LENGTH)
        return None if figure is None else (figure, figure)
    lo, hi = (_figure(sheet, "actual", end, LENGTH) for end in (item.lo, item.hi))
    if lo is None or hi is None or sheet.failed:
        return None
    span: Stretch | Unknown = bounds(
        Stretch(Quantity(lo, LENGTH), Quantity(hi, LENGTH)), item.place, sheet.run
    )
    sheet.failed = sheet.failed or span is UNKNOWN
    return lo, hi


def _shape(sheet: Sheet, word: str) -> tuple[Fraction | None, Fraction | None]:
    """The size of a bit and, for a v or a dovetail, its angle; the two in either order."""
    written = sheet.given[word]
    angled = word in ("v", "dovetail")
    if len(written.items) != (2 if angled else 1):
        _amiss(sheet, written)
        return None, None
    if not angled:
        return _figure(sheet, word, written.items[0], LENGTH), None
    first = evaluate(written.items[0], sheet.scope, sheet.run)
    turned = isinstance(first, Quantity) and first.dimension == ANGLE
    size, angle = reversed(written.items) if turned else written.items
    return _figure(sheet, word, size, LENGTH), _figure(sheet, word, angle, ANGLE)


def _words(sheet: Sheet, word: str) -> tuple[str, ...]:
    """The bare words after a property."""
    written = sheet.given.get(word)
    items = () if written is None else written.items
    return tuple(item.text for item in items if isinstance(item, syntax.Name))


def _bare(sheet: Sheet, word: str) -> None:
    """A property that is a word alone."""
    if word in sheet.given and sheet.given[word].items:
        _amiss(sheet, sheet.given[word])


def _species(sheet: Sheet) -> str | None:
    """The species: a bare word or a text."""
    written = sheet.given.get("species")
    if written is None:
        return None
    match written.items:
        case (syntax.Name(text=word),) | (syntax.Text(value=word),):
            return word
        case _:
            _amiss(sheet, written)
            return None
