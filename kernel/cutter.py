"""What cuts: bits and machines."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from .finding import Place


class BitKind(Enum):
    STRAIGHT = "straight"
    ROUNDOVER = "roundover"
    V = "v"
    DOVETAIL = "dovetail"
    DRILL = "drill"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A router bit; lengths in mm.

    `radius` is half the cutting diameter, for a roundover the radius it leaves. `flute` is the
    length that cuts, `reach` the length below the holder (the flute when not stated). `angle` is
    the included angle of a v or the side angle of a dovetail, in degrees. `by_hand` marks a bit
    used in a hand-held router or a router table, not on the machine.
    """

    name: str
    kind: BitKind
    radius: Fraction
    flute: Fraction | None = None
    reach: Fraction | None = None
    angle: Fraction | None = None
    by_hand: bool = False
    place: Place | None = None

    @property
    def diameter(self) -> Fraction:
        return 2 * self.radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A CNC router: travel along x, y, z in mm, feed in mm/min, acceleration in mm/s2."""

    name: str
    travel: tuple[Fraction, Fraction, Fraction]
    feed: Fraction | None = None
    accel: Fraction | None = None
    place: Place | None = None
