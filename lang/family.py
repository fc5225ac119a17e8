"""Which variants does a sweep try? Every value of each param with every value of the others.

A family is never written out: the settings of a variant are worked out from its number, so that one
of a million variants is no larger than one of three. The param named last changes fastest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from ..kernel.faults import InternalError


@dataclass(frozen=True, slots=True)
class Listed:
    """A param and its values one by one, each as the language writes it."""

    name: str
    values: tuple[str, ...]

    @property
    def size(self) -> int:
        return len(self.values)

    def value(self, index: int) -> str:
        return self.values[index]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stepped:
    """A param that goes from `start` by `step`, exact numbers of one unit; a count has none."""

    name: str
    start: Fraction
    step: Fraction
    size: int
    unit: str = ""

    def value(self, index: int) -> str:
        return written(self.start + self.step * index, self.unit)


Axis: TypeAlias = Listed | Stepped


@dataclass(frozen=True, slots=True)
class Family:
    """The params that are varied, in the order written; each has a value at least."""

    axes: tuple[Axis, ...]

    @property
    def size(self) -> int:
        """How many variants there are."""
        return math.prod(axis.size for axis in self.axes)

    def settings(self, index: int) -> dict[str, str]:
        """The values of a variant, by param, in the order written.

        >>> family = Family((Listed("kind", ("a", "b")), Listed("rows", ("1", "2", "3"))))
        >>> family.settings(0), family.settings(4)
        ({'kind': 'a', 'rows': '1'}, {'kind': 'b', 'rows': '2'})
        """
        if not 0 <= index < self.size:
            raise InternalError(f"a family of {self.size} has no variant {index}")
        found = []
        for axis in reversed(self.axes):
            index, at = divmod(index, axis.size)
            found.append((axis.name, axis.value(at)))
        return dict(reversed(found))


def written(number: Fraction, unit: str) -> str:
    """An exact number with its unit, as the language writes it.

    >>> written(Fraction(5, 2), "mm"), written(Fraction(-3), ""), written(Fraction(7, 3), "in")
    ('2.5mm', '-3', '7in / 3')
    """
    rest, twos, fives = number.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return f"{number.numerator}{unit} / {number.denominator}"
    places = max(twos, fives)
    digits = f"{abs(number.numerator) * 10**places // number.denominator:0{places + 1}}"
    figures = f"{digits[:-places]}.{digits[-places:]}" if places else digits
    return f"{'-' if number < 0 else ''}{figures}{unit}"
