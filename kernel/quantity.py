"""What is a measured value, exactly?

Numbers are rationals; a dimension is three exponents (millimetres, degrees, seconds; the last only
for a machine's feed and acceleration). Floats appear only once a cut region or a solid is formed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, order=True)
class Dimension:
    """Exponents of mm, degrees and seconds: a length is `Dimension(1)`, a count `Dimension()`."""

    mm: int = 0
    deg: int = 0
    s: int = 0


COUNT = Dimension()
LENGTH = Dimension(mm=1)
AREA = Dimension(mm=2)
VOLUME = Dimension(mm=3)
ANGLE = Dimension(deg=1)


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact number of `dimension`, in mm, mm2, mm3, degrees, plain counts, mm/s or mm/s2."""

    number: Fraction
    dimension: Dimension = COUNT
