"""Units are exact: what is written is what is meant, there and back."""

from fractions import Fraction
from math import pi

import pytest
from dryfit.kernel.quantity import ANGLE, AREA, COUNT, LENGTH, VOLUME, Dimension, Quantity
from dryfit.lang.units import (
    NOUGHT,
    PI,
    SPEED,
    UNITS,
    in_dimension,
    matched,
    product,
    quantity,
    quotient,
    unit_word,
    written,
)
from hypothesis import given
from hypothesis import strategies as st

NUMBERS = st.fractions(min_value=-(10**9), max_value=10**9, max_denominator=10**6)
DIMENSIONS = st.builds(Dimension, st.integers(-3, 3), st.integers(-2, 2), st.integers(-2, 2))
QUANTITIES = st.builds(Quantity, NUMBERS, DIMENSIONS)


@pytest.mark.parametrize(
    ("number", "unit", "base", "dimension"),
    [
        # The inch is 25.4 mm exactly since the international yard and pound agreement of 1959.
        ("1", "in", "25.4", LENGTH),
        ("3/4", "in", "19.05", LENGTH),
        ("3/2", "in", "38.1", LENGTH),
        ("1", "ft", "304.8", LENGTH),
        ("1/3", "mm", "1/3", LENGTH),
        ("2.5", "cm", "25", LENGTH),
        ("1", "m", "1000", LENGTH),
        ("1", "in2", "645.16", AREA),
        ("1", "in3", "16387.064", VOLUME),
        ("1", "m3", "1000000000", VOLUME),
        ("45", "deg", "45", ANGLE),
        ("2400", "mm/min", "40", SPEED),
        ("1", "m/s2", "1000", Dimension(mm=1, s=-2)),
        ("7", None, "7", COUNT),
    ],
)
def test_what_units_are_worth(
    number: str, unit: str | None, base: str, dimension: Dimension
) -> None:
    assert quantity(Fraction(number), unit) == Quantity(Fraction(base), dimension)


def test_a_word_that_is_no_unit_has_no_worth() -> None:
    assert quantity(Fraction(3), "mn") is None


def test_the_radian_is_right_to_thirty_places() -> None:
    assert float(PI) == pi
    half_turn = quantity(PI, "rad")
    assert half_turn == Quantity(Fraction(180), ANGLE)


@given(NUMBERS, st.sampled_from(sorted(UNITS)))
def test_units_go_there_and_back_exactly(number: Fraction, word: str) -> None:
    value = quantity(number, word)
    assert value is not None
    assert value.number / UNITS[word].factor == number


@given(QUANTITIES, QUANTITIES)
def test_a_product_divided_by_one_side_is_the_other(a: Quantity, b: Quantity) -> None:
    whole = product(a, b)
    assert whole == product(b, a)
    if b.number:
        assert quotient(whole, b) == a


@given(QUANTITIES, QUANTITIES)
def test_only_like_goes_with_like(a: Quantity, b: Quantity) -> None:
    pair = matched(a, b)
    assert (pair == (a, b)) if a.dimension == b.dimension else (pair is None)


@given(QUANTITIES)
def test_the_literal_nought_goes_with_anything(a: Quantity) -> None:
    zero = Quantity(Fraction(0), a.dimension)
    assert matched(NOUGHT, a) == (zero, a)
    assert matched(a, NOUGHT) == (a, zero)
    assert in_dimension(NOUGHT, a.dimension) == zero


def test_a_count_that_comes_out_as_nought_is_still_a_count() -> None:
    assert matched(Quantity(Fraction(0)), Quantity(Fraction(1), LENGTH)) is None


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Quantity(Fraction(25, 2), LENGTH), "12.5mm"),
        (Quantity(Fraction(1, 3), LENGTH), "0.333mm"),
        (Quantity(Fraction(40), SPEED), "2400mm/min"),
        (Quantity(Fraction(3)), "3"),
        (Quantity(Fraction(3), Dimension(mm=4)), "3mm4"),
        (Quantity(Fraction(3), Dimension(mm=1, deg=-1)), "3mm/deg"),
        (Quantity(Fraction(3), Dimension(deg=-2)), "3/deg2"),
    ],
)
def test_how_values_are_shown(value: Quantity, text: str) -> None:
    assert written(value) == text


def test_every_unit_word_shows_its_dimension_in_base_units() -> None:
    shown = {unit_word(unit.dimension) for unit in UNITS.values()}
    assert shown == {"mm", "mm2", "mm3", "deg", "kg", "mm/min", "mm/s2"}
