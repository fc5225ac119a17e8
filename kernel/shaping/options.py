"""Which kinds of option have cuts on boards besides those of joints?"""

from __future__ import annotations

from fractions import Fraction
from typing import TypeVar

from ..board import Axis
from ..cuts import Side
from ..design import Option, Word
from ..finding import Finding
from ..joint_findings import Form, UnknownChoice, ValueTooSmall
from ..joints.options import OptionSpec, value_place, wrong_kind
from ..near import nearest
from ..quantity import COUNT, Quantity

T = TypeVar("T")

SIDES = {f"{axis.letter}.{end}": Side(axis, end == "hi") for axis in Axis for end in ("lo", "hi")}
"""The words for a board's sides."""


def side(name: str, shown: str, words: str) -> OptionSpec[Side | None]:
    """One side of the board, `z.hi`."""

    def read(option: Option) -> Side | Finding | None:
        match option.values:
            case (Word() as word,):
                return _side(option, word)
        return wrong_kind(option, Form.SIDE)

    return OptionSpec(name=name, form=Form.SIDE, default=None, shown=shown, words=words, read=read)


def sides(name: str, shown: str, words: str) -> OptionSpec[tuple[Side, ...]]:
    """Several sides of the board, `x.lo x.hi z.hi`; none are the default."""

    def read(option: Option) -> tuple[Side, ...] | Finding:
        found: list[Side] = []
        for value in option.values:
            if not isinstance(value, Word):
                return wrong_kind(option, Form.SIDES)
            one = _side(option, value)
            if isinstance(one, Finding):
                return one
            found.append(one)
        return tuple(dict.fromkeys(found)) if found else wrong_kind(option, Form.SIDES)

    return OptionSpec(name=name, form=Form.SIDES, default=(), shown=shown, words=words, read=read)


def _side(option: Option, word: Word) -> Side | Finding:
    if word.text in SIDES:
        return SIDES[word.text]
    return UnknownChoice(
        place=word.place or value_place(option),
        option=option.name,
        written=word.text,
        nearest=nearest(word.text, SIDES),
        choices=tuple(SIDES),
    )


def by_hand(words: str) -> OptionSpec[bool]:
    """`by hand`."""

    def read(option: Option) -> bool | Finding:
        match option.values:
            case (Word("hand"),):
                return True
        return wrong_kind(option, Form.HAND)

    return OptionSpec(
        name="by",
        form=Form.HAND,
        default=False,
        shown="the machine, with a fitting bit",
        words=words,
        read=read,
    )


def count(name: str, default: int, words: str) -> OptionSpec[int]:
    """A whole number, 1 or more."""

    def read(option: Option) -> int | Finding:
        match option.values:
            case (Quantity(number, dimension),) if dimension == COUNT and number.denominator == 1:
                if number >= 1:
                    return int(number)
                return ValueTooSmall(
                    place=value_place(option),
                    option=option.name,
                    form=Form.COUNT,
                    value=number,
                    least=Fraction(1),
                )
        return wrong_kind(option, Form.COUNT)

    return OptionSpec(
        name=name, form=Form.COUNT, default=default, shown=str(default), words=words, read=read
    )


def board_named(name: str, shown: str, words: str) -> OptionSpec[Word | None]:
    """The name of another board."""

    def read(option: Option) -> Word | Finding | None:
        match option.values:
            case (Word() as word,):
                return word
        return wrong_kind(option, Form.BOARD)

    return OptionSpec(name=name, form=Form.BOARD, default=None, shown=shown, words=words, read=read)
