"""From where to where in the finished piece is a figure measured?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

Vector: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Ends:
    """A point of the one thing measured and one of the other.

    `along` is the direction it was measured along, of length 1: from the one to the other, but
    where wood lies in wood, there the other lies behind. None where the two meet in a point and
    nothing tells a direction.
    """

    one: Vector
    other: Vector
    along: Vector | None
