"""What is removed from a board: the closed set of cut records.

Everything made of a board (solid, flat profile, machine program, drawing, check) is made from its
blank and these records and from nothing else. A cut is a flat region swept straight into the board
from one of its six sides.

Side coordinates: a side is named by the axis it faces and the sign. Its plane uses the board's own
other two axes in cyclic order: x -> (y, z), y -> (z, x), z -> (x, y); the numbers are the board's
own coordinates, so a region is read off the design directly. Seen from outside a positive side the
plane is right-handed, seen from a negative side it is mirrored.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from .board import Axis
from .finding import Place
from .region import Region, bounds
from .ruled import between, widest_step


@dataclass(frozen=True, slots=True, order=True)
class Side:
    """The blank's side facing `+axis` or `-axis`."""

    axis: Axis
    positive: bool

    @property
    def plane(self) -> tuple[Axis, Axis]:
        """The two axes of the board that a region on this side is drawn in."""
        return (Axis((self.axis + 1) % 3), Axis((self.axis + 2) % 3))

    @property
    def opposite(self) -> Side:
        return Side(self.axis, not self.positive)

    def __str__(self) -> str:
        return f"{'+' if self.positive else '-'}{self.axis.letter}"


class Work(Enum):
    """What the worker does; never read off a colour."""

    POCKET = "pocket"  # a floor at `depth`
    THROUGH = "through"  # right through the board
    BORE = "bore"  # a round hole, with a floor at `depth` or right through
    ROUND = "round"  # a roundover along an edge that runs into the board from `side`
    BEVEL = "bevel"  # a chamfer or a mitre along an edge that runs into the board from `side`
    SLOT = (
        "slot"  # a slot at a slant, its section drawn on `side`, that it runs into the board from
    )

    @property
    def runs_along(self) -> bool:
        """True for work along an edge, which takes the edge off and leaves no wall."""
        return self in (Work.ROUND, Work.BEVEL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One removal from one board.

    `region` is what the cutter really clears inside and beyond the blank (where the cut runs out
    into air it goes on past the blank's edge); `asked` is the region the joint drew before the
    cutter's roundness and reliefs, so that the wood left in the corners can be traced to the cut.
    `floor` is set where the walls are not square to the side: `region` is the mouth then, on the
    blank's face, and `floor` the region at `depth`, edge for edge (see `ruled.py`).
    `depth` is mm below the blank's face on `side`, None for through. `bit` names the bit, `by_hand`
    a hand step. `joint` names the joint, `mate` the board it makes room for. A cut that belongs to
    its board alone is not `of_joint`: `joint` names the shaping, and there is no mate.
    """

    board: str
    side: Side
    work: Work
    region: Region
    asked: Region
    depth: float | None
    bit: str
    by_hand: bool = False
    joint: str
    mate: str | None = None
    of_joint: bool = True
    place: Place | None = None
    floor: Region | None = None

    @property
    def slant(self) -> float:
        """How far the steepest wall leans off the square, degrees; 0 for square walls."""
        if self.floor is None or self.depth is None:
            return 0.0
        return math.degrees(math.atan2(widest_step(self.region, self.floor), self.depth))

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """The box round mouth and floor: least u, least v, greatest u, greatest v."""
        boxes = [bounds(r) for r in (self.region, self.floor) if r is not None]
        u0, v0, u1, v1 = zip(*boxes, strict=True)
        return min(u0), min(v0), max(u1), max(v1)

    def section(self, below: float) -> Region:
        """What the cut clears `below` mm under the blank's face, down to its floor."""
        if self.floor is None or not self.depth:
            return self.region
        return between(self.region, self.floor, min(max(below / self.depth, 0.0), 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Mating:
    """One play that a joint defines: how much room `part` has in `socket` along one axis, mm.

    `socket_size` and `part_size` are read off the cuts at nominal thickness; `asked` is the fit
    asked for. `follows` names the stock whose delivered thickness the part's size follows one for
    one, None when both sizes are cut and so fixed. `socket_follows` is the same for the socket.
    `axis` is the axis in the part's own coordinates, `socket_axis` in the socket's. `leans` where
    no faces square to that axis hold the part, as in a dovetail or round a knob.
    """

    joint: str
    part: str
    socket: str
    axis: Axis
    socket_axis: Axis
    socket_size: float
    part_size: float
    asked: float
    follows: str | None = None
    socket_follows: str | None = None
    leans: bool = False
    place: Place | None = None

    @property
    def fit(self) -> float:
        """Socket size less part size, mm."""
        return self.socket_size - self.part_size


class Ware(Enum):
    """What a joint needs besides its boards: bought, or made of offcuts."""

    DOWEL = "dowel"  # diameter, length
    CROSS_DOWEL = "cross dowel"  # diameter, length
    BOLT = "bolt"  # diameter, length under the head
    SPLINE = "spline"  # thickness, width, length
    TENON = "loose tenon"  # thickness, width, length
    PEG = "peg"  # diameter, length
    SQUARE_PEG = "square peg"  # thickness, width, length
    WEDGE = "wedge"  # thickness, width, length


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """`count` like pieces for one joint; `sizes` in mm, in the order told at `Ware`."""

    ware: Ware
    sizes: tuple[Fraction, ...]
    count: int
    joint: str
