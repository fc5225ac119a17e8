"""How is a number written for a person? The one place that turns figures into text."""

from __future__ import annotations

from fractions import Fraction


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
