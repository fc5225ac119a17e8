"""What is a measured value, exactly?

Numbers are rationals; a dimension is four exponents (millimetres, degrees, seconds, kilograms;
seconds only for a machine's feed and acceleration). Floats appear only once a cut region or a solid
is formed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, order=True)
class Dimension:
    """Exponents of mm, degrees, seconds and kg: a length is `Dimension(1)`, a count
    `Dimension()`."""

    mm: int = 0
    deg: int = 0
    s: int = 0
    kg: int = 0

    def times(self, other: Dimension, power: int = 1) -> Dimension:
        """The dimension of a product; of a quotient when `power` is -1."""
        return Dimension(
            self.mm + power * other.mm,
            self.deg + power * other.deg,
            self.s + power * other.s,
            self.kg + power * other.kg,
        )

    @property
    def powers(self) -> tuple[tuple[str, int], ...]:
        """Each base unit's word with its exponent."""
        return ("mm", self.mm), ("deg", self.deg), ("s", self.s), ("kg", self.kg)


COUNT = Dimension()
LENGTH = Dimension(mm=1)
AREA = Dimension(mm=2)
VOLUME = Dimension(mm=3)
ANGLE = Dimension(deg=1)
MASS = Dimension(kg=1)


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact number of `dimension`, in mm, mm2, mm3, degrees, plain counts, kg, mm/s or mm/s2."""

    number: Fraction
    dimension: Dimension = COUNT
