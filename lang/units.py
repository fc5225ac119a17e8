"""What is a written number exactly, in millimetres, degrees, seconds, kilograms or plain counts?

Everything is a rational; an inch is 25.4 mm and a pound 0.45359237 kg by definition. The one
approximation is the radian: pi is taken as `PI`, its decimal expansion to 30 places, so that an
angle in radians is off by less than 1e-30 of itself. Nothing here knows about names or texts.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from ..kernel.figures import figure
from ..kernel.quantity import ANGLE, AREA, COUNT, LENGTH, MASS, VOLUME, Dimension, Quantity

PI: Final = Fraction(3141592653589793238462643383279, 10**30)
"""Pi to 30 decimal places (OEIS A000796)."""

SPEED: Final = Dimension(mm=1, s=-1)
ACCELERATION: Final = Dimension(mm=1, s=-2)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit word: what one of it is in base units, and of which dimension."""

    word: str
    factor: Fraction
    dimension: Dimension


_LENGTHS: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
_MASSES: Final = {
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
    "lb": Fraction(45359237, 10**8),
}


def _units() -> dict[str, Unit]:
    units = [Unit(word, size, LENGTH) for word, size in _LENGTHS.items()]
    units += [Unit(f"{word}2", size**2, AREA) for word, size in _LENGTHS.items()]
    units += [Unit(f"{word}3", size**3, VOLUME) for word, size in _LENGTHS.items()]
    units += [Unit("deg", Fraction(1), ANGLE), Unit("rad", Fraction(180) / PI, ANGLE)]
    units += [Unit(word, size, MASS) for word, size in _MASSES.items()]
    for word in ("mm", "m", "in"):
        size = _LENGTHS[word]
        units.append(Unit(f"{word}/min", size / 60, SPEED))
        units.append(Unit(f"{word}/s", size, SPEED))
        units.append(Unit(f"{word}/s2", size, ACCELERATION))
    return {unit.word: unit for unit in units}


UNITS: Final = _units()
"""Every unit word, lengths first."""

NOUGHT: Final = Quantity(Fraction(0), COUNT)
"""The literal `0`. Nought is nought in any unit, so this one value (told by identity, as a count
that merely comes out as zero is still a count) stands wherever a measure is wanted."""


def quantity(number: Fraction, unit: str | None) -> Quantity | None:
    """The quantity written `number unit`; None for a unit word that does not exist.

    >>> quantity(Fraction(3, 4), "in").number
    Fraction(381, 20)
    """
    if unit is None:
        return Quantity(number) if number else NOUGHT
    known = UNITS.get(unit)
    return None if known is None else Quantity(number * known.factor, known.dimension)


def in_dimension(value: Quantity, dimension: Dimension) -> Quantity | None:
    """The value as one of `dimension`; None when it is of another. Nought is of every one."""
    if value.dimension == dimension:
        return value
    return Quantity(Fraction(0), dimension) if value is NOUGHT else None


def matched(left: Quantity, right: Quantity) -> tuple[Quantity, Quantity] | None:
    """Both values in one dimension, so that they can be added or compared; None otherwise."""
    if left.dimension == right.dimension:
        return left, right
    if left is NOUGHT:
        return Quantity(Fraction(0), right.dimension), right
    if right is NOUGHT:
        return left, Quantity(Fraction(0), left.dimension)
    return None


def product(left: Quantity, right: Quantity) -> Quantity:
    return Quantity(left.number * right.number, _sum(left.dimension, right.dimension, 1))


def quotient(left: Quantity, right: Quantity) -> Quantity:
    """The left over the right, which is not zero."""
    return Quantity(left.number / right.number, _sum(left.dimension, right.dimension, -1))


def _sum(left: Dimension, right: Dimension, sign: int) -> Dimension:
    if right == COUNT:
        return left
    return left.times(right, sign)


def unit_word(dimension: Dimension) -> str:
    """The unit that values of this dimension are shown in, `mm2`; made up of parts where no single
    unit word exists, such as `mm4` or `mm/deg`."""
    if dimension == SPEED:
        return "mm/min"
    over, under = "", ""
    for word, power in dimension.powers:
        text = word if abs(power) == 1 else f"{word}{abs(power)}"
        if power > 0:
            over += text
        elif power < 0:
            under += text
    return f"{over}/{under}" if under else over


def written(value: Quantity, digits: int = 3) -> str:
    """The value as a design would write it, rounded to `digits` decimals.

    >>> written(Quantity(Fraction(40), SPEED)), written(Quantity(Fraction(25, 2), LENGTH))
    ('2400mm/min', '12.5mm')
    """
    shown = value.number * 60 if value.dimension == SPEED else value.number
    return f"{figure(shown, digits)}{unit_word(value.dimension)}"
