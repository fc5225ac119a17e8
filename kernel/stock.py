"""What are boards cut from?"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from .finding import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A material as the yard sells it; lengths in mm.

    `thick` is what the geometry uses; `actual` is the (least, greatest) thickness delivered, equal
    to `(thick, thick)` when not stated. `sheet` is (length, width) with the sheet's grain along its
    length. `widest` is the widest board of a lumber stock. At most one of the two is set.
    """

    name: str
    thick: Fraction
    actual: tuple[Fraction, Fraction]
    sheet: tuple[Fraction, Fraction] | None = None
    widest: Fraction | None = None
    longest: Fraction | None = None
    species: str | None = None
    place: Place | None = None
