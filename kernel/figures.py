"""How are numbers, directions and rows of names written for a person? The one place for it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

STRAIGHT = 1e-9
"""Of a direction's length: what leaves an axis by less, by rounding, goes along it."""

UP_OR_DOWN = {"+z": "+z (up)", "-z": "-z (down)"}


def figure(value: Fraction | float, digits: int = 3) -> str:
    """The number to at most `digits` decimals, without trailing zeros or a negative zero.

    >>> figure(Fraction(12)), figure(0.30000001), figure(-0.00001)
    ('12', '0.3', '0')
    """
    text = f"{float(value):.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def mm(value: Fraction | float, digits: int = 3) -> str:
    """A length with its unit, `12.5mm`."""
    return f"{figure(value, digits)}mm"


def way(direction: tuple[float, float, float]) -> str:
    """A direction for a person: `-y`, or `x 0.5, z 0.866` for one along no axis.

    >>> way((0.0, -1.0, 0.0)), way((0.6, 0.0, 0.8))
    ('-y', 'x 0.6, z 0.8')
    """
    parts = [(letter, c) for letter, c in zip("xyz", direction, strict=True) if abs(c) > STRAIGHT]
    if len(parts) == 1:
        letter, c = parts[0]
        return f"{'+' if c > 0 else '-'}{letter}"
    return ", ".join(f"{letter} {figure(c)}" for letter, c in parts)


def course(direction: tuple[float, float, float]) -> str:
    """A direction as one points it out at the bench: the axis it is nearest to, and its lean.

    >>> course((0.0, 0.0, -1.0)), course((-0.99, 0.0, -0.141))
    ('-z (down)', '-x, leaning 8.1 degrees to -z (down)')
    """
    parts = sorted(enumerate(direction), key=lambda part: -abs(part[1]))
    (first, most), (second, less), (_, least) = parts
    if abs(least) > STRAIGHT:
        return way(direction)
    along = _axis(first, most)
    if abs(less) <= STRAIGHT:
        return along
    lean = math.degrees(math.atan2(abs(less), abs(most)))
    return f"{along}, leaning {figure(lean, 1)} degrees to {_axis(second, less)}"


def _axis(which: int, towards: float) -> str:
    said = f"{'+' if towards > 0 else '-'}{'xyz'[which]}"
    return UP_OR_DOWN.get(said, said)


def in_a_row(names: Sequence[str]) -> str:
    """Names in a sentence.

    >>> in_a_row(["left", "top", "back"])
    'left, top and back'
    """
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
