"""What did a join's options say, and what holds where they say nothing?

Each family lists its options as `OptionSpec`s: a name, a default, one line of words and the reader
that turns what was written into a typed value. `Reading.take(spec)` gives that value, or the
default after noting a finding, so no untyped option travels further than this module.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Any, Generic, TypeVar

from ..design import Join, Option, OptionValue, Several, Shaping, Word
from ..figures import figure, mm
from ..finding import Finding, Place
from ..joint_findings import (
    Form,
    OptionsContradict,
    OptionTwice,
    UnknownChoice,
    UnknownOption,
    ValueTooSmall,
    WrongKindOfValue,
)
from ..near import nearest
from ..quantity import COUNT, LENGTH, Quantity
from ..relief import Relief

T = TypeVar("T")
E = TypeVar("E", bound=Enum)


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionSpec(Generic[T]):
    """One option of a family. `shown` is the default as it would be written, `words` one line on
    what the option does."""

    name: str
    form: Form
    default: T
    shown: str
    words: str
    read: Callable[[Option], T | Finding]


@dataclass(frozen=True, slots=True)
class NamedBit:
    """A bit named in an option."""

    name: str
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class ReliefAsked:
    """A relief, and for `half_round` the companion roundover where one is named."""

    relief: Relief
    companion: NamedBit | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Stops:
    """How far short of the board's two edges a channel stops, along its run; None: not at all."""

    lo: Fraction | None = None
    hi: Fraction | None = None


class Reading:
    """The options of one join or shaping, read against its family's list; findings gather on the
    way."""

    def __init__(
        self, join: Join | Shaping, specs: tuple[OptionSpec[Any], ...], others: Others
    ) -> None:
        self.join = join
        self.findings: list[Finding] = []
        self._written: dict[str, Option] = {}
        known = tuple(spec.name for spec in specs)
        for option in join.options:
            if option.name not in known:
                self.findings.append(
                    UnknownOption(
                        place=option.place,
                        option=option.name,
                        family=join.family,
                        nearest=nearest(option.name, known),
                        known=known,
                        families=others(option.name),
                    )
                )
            elif option.name in self._written:
                first = self._written[option.name].place
                self.findings.append(
                    OptionTwice(place=option.place, option=option.name, first_place=first)
                )
            else:
                self._written[option.name] = option

    def take(self, spec: OptionSpec[T]) -> T:
        """The option's value, its default where it is not written or not sound."""
        option = self._written.get(spec.name)
        if option is None:
            return spec.default
        value = spec.read(option)
        if isinstance(value, Finding):
            self.findings.append(value)
            return spec.default
        return value

    def place(self, spec: OptionSpec[Any]) -> Place | None:
        """Where the option is written; the join's own place where it is not."""
        option = self._written.get(spec.name)
        return self.join.place if option is None else option.place

    def not_both(self, one: OptionSpec[Any], other: OptionSpec[Any]) -> None:
        """Notes a finding when both are written."""
        first, second = self._written.get(one.name), self._written.get(other.name)
        if first is not None and second is not None:
            self.findings.append(
                OptionsContradict(
                    place=second.place,
                    option=second.name,
                    other=first.name,
                    other_place=first.place,
                )
            )


Others = Callable[[str], tuple[str, ...]]
"""Gives the families that have an option of a name."""


# --- the kinds of option -----------------------------------------------------------------------


def length(
    name: str, default: T, shown: str, words: str, *, least: Fraction = Fraction(0)
) -> OptionSpec[Fraction | T]:
    """A length of `least` mm or more."""

    def read(option: Option) -> Fraction | T | Finding:
        if len(option.values) != 1:
            return wrong_kind(option, Form.LENGTH)
        return _length(option, option.values[0], Form.LENGTH, least)

    return OptionSpec(
        name=name, form=Form.LENGTH, default=default, shown=shown, words=words, read=read
    )


def above_zero(name: str, default: T, shown: str, words: str) -> OptionSpec[Fraction | T]:
    """A length greater than zero."""

    def read(option: Option) -> Fraction | T | Finding:
        if len(option.values) != 1:
            return wrong_kind(option, Form.LENGTH)
        return _length(option, option.values[0], Form.LENGTH, Fraction(0), above=True)

    return OptionSpec(
        name=name, form=Form.LENGTH, default=default, shown=shown, words=words, read=read
    )


def whole_number(
    name: str, default: T, shown: str, words: str, *, least: int
) -> OptionSpec[int | T]:
    """A whole number of `least` or more."""

    def read(option: Option) -> int | T | Finding:
        match option.values:
            case (Quantity(number, dimension),) if dimension == COUNT and number.denominator == 1:
                if number >= least:
                    return int(number)
                return ValueTooSmall(
                    place=value_place(option),
                    option=option.name,
                    form=Form.COUNT,
                    value=number,
                    least=Fraction(least),
                )
        return wrong_kind(option, Form.COUNT)

    return OptionSpec(
        name=name, form=Form.COUNT, default=default, shown=shown, words=words, read=read
    )


def choice(name: str, default: E, words: str) -> OptionSpec[E]:
    """One word of an enum's values."""
    kinds = type(default)

    def read(option: Option) -> E | Finding:
        match option.values:
            case (Word(text, place),):
                names = tuple(str(kind.value) for kind in kinds)
                if text in names:
                    return kinds(text)
                return _unknown_choice(option, text, names, place)
        return wrong_kind(option, Form.WORD)

    return OptionSpec(
        name=name,
        form=Form.WORD,
        default=default,
        shown=str(default.value),
        words=words,
        read=read,
    )


def bit_named(
    name: str, words: str, shown: str = "the largest that fits"
) -> OptionSpec[NamedBit | None]:
    """The name of a declared bit."""

    def read(option: Option) -> NamedBit | Finding | None:
        match option.values:
            case (Word(text, place),):
                return NamedBit(text, place or option.place)
        return wrong_kind(option, Form.BIT)

    return OptionSpec(
        name=name,
        form=Form.BIT,
        default=None,
        shown=shown,
        words=words,
        read=read,
    )


def relief(default: Relief, allowed: tuple[Relief, ...]) -> OptionSpec[ReliefAsked]:
    """`relief WORD`, and `relief half_round BIT` for a named companion roundover."""

    def read(option: Option) -> ReliefAsked | Finding:
        names = tuple(kind.value for kind in allowed)
        match option.values:
            case (Word(text, place),) if text in names:
                return ReliefAsked(Relief(text), place=place or option.place)
            case (Word("half_round", place), Word(bit, bit_place)) if "half_round" in names:
                companion = NamedBit(bit, bit_place or option.place)
                return ReliefAsked(Relief.HALF_ROUND, companion, place or option.place)
            case (Word(text, place), *_) if text not in names:
                return _unknown_choice(option, text, names, place)
        return wrong_kind(option, Form.RELIEF)

    return OptionSpec(
        name="relief",
        form=Form.RELIEF,
        default=ReliefAsked(default),
        shown=default.value,
        words=f"room for square edges in corners: {', '.join(kind.value for kind in allowed)}",
        read=read,
    )


def pair_of_lengths(
    name: str, words: str, shown: str = "0mm"
) -> OptionSpec[tuple[Fraction, Fraction] | None]:
    """One length for both sides, or a list of two: the low side's and the high side's."""

    def read(option: Option) -> tuple[Fraction, Fraction] | Finding | None:
        values = _listed(option)
        if len(values) not in (1, 2):
            return wrong_kind(option, Form.LENGTHS)
        got = [_length(option, value, Form.LENGTHS, Fraction(0)) for value in values]
        for one in got:
            if isinstance(one, Finding):
                return one
        lengths = [one for one in got if isinstance(one, Fraction)]
        return lengths[0], lengths[-1]

    return OptionSpec(
        name=name, form=Form.LENGTHS, default=None, shown=shown, words=words, read=read
    )


def stops(name: str, words: str) -> OptionSpec[Stops]:
    """`stop 10mm` at the low end, or with `lo`, `hi` or `both` before the length."""

    def read(option: Option) -> Stops | Finding:
        ends, values = "lo", option.values
        match values:
            case (Word(text, place), *rest):
                if text not in ("lo", "hi", "both"):
                    return _unknown_choice(option, text, ("lo", "hi", "both"), place)
                ends, values = text, tuple(rest)
        if len(values) != 1:
            return wrong_kind(option, Form.STOP)
        size = _length(option, values[0], Form.STOP, Fraction(0), above=True)
        if isinstance(size, Finding):
            return size
        return Stops(
            size if ends in ("lo", "both") else None, size if ends in ("hi", "both") else None
        )

    return OptionSpec(
        name=name, form=Form.STOP, default=Stops(), shown="none", words=words, read=read
    )


def pins(name: str, words: str, shown: str) -> OptionSpec[int | tuple[Fraction, ...] | None]:
    """A count of pins over both boards, or a list of their widths from the low end."""

    def read(option: Option) -> int | tuple[Fraction, ...] | Finding | None:
        match option.values:
            case (Quantity(number, dimension),) if dimension == COUNT:
                if number.denominator != 1:
                    return wrong_kind(option, Form.PINS)
                return _enough_pins(option, int(number))
            case (Several(items),):
                got = [_length(option, item, Form.PINS, Fraction(0), above=True) for item in items]
                for one in got:
                    if isinstance(one, Finding):
                        return one
                widths = tuple(one for one in got if isinstance(one, Fraction))
                enough = _enough_pins(option, len(widths))
                return enough if isinstance(enough, Finding) else widths
        return wrong_kind(option, Form.PINS)

    return OptionSpec(name=name, form=Form.PINS, default=None, shown=shown, words=words, read=read)


def _enough_pins(option: Option, count: int) -> int | Finding:
    if count >= 2:
        return count
    return ValueTooSmall(
        place=value_place(option),
        option=option.name,
        form=Form.PINS,
        value=Fraction(count),
        least=Fraction(2),
    )


# --- reading one value -------------------------------------------------------------------------


def _listed(option: Option) -> tuple[OptionValue, ...]:
    match option.values:
        case (Several(items),):
            return items
    return option.values


def _length(
    option: Option, value: OptionValue, form: Form, least: Fraction, *, above: bool = False
) -> Fraction | Finding:
    if not (isinstance(value, Quantity) and value.dimension == LENGTH):
        return wrong_kind(option, form)
    if value.number < least or (above and value.number == least):
        return ValueTooSmall(
            place=value_place(option),
            option=option.name,
            form=form,
            value=value.number,
            least=least,
            above=above,
        )
    return value.number


def _unknown_choice(
    option: Option, text: str, names: tuple[str, ...], place: Place | None
) -> Finding:
    return UnknownChoice(
        place=place or value_place(option),
        option=option.name,
        written=text,
        nearest=nearest(text, names),
        choices=names,
    )


def wrong_kind(option: Option, form: Form) -> Finding:
    """The finding that an option's values are of another kind than `form`."""
    written = " ".join(as_written(value) for value in option.values)
    return WrongKindOfValue(
        place=value_place(option), option=option.name, form=form, written=written
    )


def written_at(join: Join, name: str) -> Place | None:
    """Where the values of a join's option are written; None where it is not."""
    written = (option for option in join.options if option.name == name and option.value_places)
    return next((value_place(option) for option in written), None)


def value_place(option: Option) -> Place | None:
    """From the first of an option's values to the last; the whole option where unknown."""
    if not option.value_places:
        return option.place
    first, last = option.value_places[0], option.value_places[-1]
    return Place(first.file, first.start, last.end)


def as_written(value: OptionValue) -> str:
    """A value as text: `10mm`, `7`, `corner`, `[10mm, 20mm]`."""
    match value:
        case Word(text):
            return text
        case Several(items):
            return "[" + ", ".join(as_written(item) for item in items) + "]"
        case Quantity(number, dimension) if dimension == LENGTH:
            return mm(number)
        case Quantity(number, dimension) if dimension.deg == 1 and dimension.mm == 0:
            return f"{figure(number)}deg"
        case Quantity(number, _):
            return figure(number)
