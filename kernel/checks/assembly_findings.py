"""What can keep parts from going together, or from moving once they are? The facts of A findings.

Lengths in mm, angles in degrees; places and directions in the finished piece. No sentence stands
here: `lang/messages/assembly.py` words them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar, TypeAlias

from ..finding import Finding, Place, facts
from .findings import DeliveredStock

Vector: TypeAlias = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """A face of a board that touches another: made by a cut of the joint or shaping `cut_of`, or,
    with None, the blank's own."""

    board: str
    cut_of: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Where one board, moved, first meets one that stays, and after how much of its way.

    `path` is the way of the point that meets the other, from where it is at home to where they
    meet, straight from point to point.
    """

    moving: Surface
    still: Surface
    after: float
    path: tuple[Vector, ...]

    @property
    def at(self) -> Vector:
        """Where they meet."""
        return self.path[-1]


@dataclass(frozen=True, slots=True)
class Blocked:
    """A direction, of length 1, and what is met first along it."""

    direction: Vector
    hit: Hit


# A1xx: two parts, or a part that moves in use, and what is in the way


@facts
class NoWayHome(Finding):
    """No straight way brings the part of a joint home, though nothing but its mate is there.

    `blocked` are the directions tried to draw it out, along the axes of the two boards. `stocks`
    are those whose thickest delivery it is that does not go in, empty where it is as drawn.
    """

    code: ClassVar[str] = "A101"
    joints: tuple[str, ...]
    part: str
    mate: str
    part_place: Place | None
    mate_place: Place | None
    blocked: tuple[Blocked, ...]
    stocks: tuple[DeliveredStock, ...]


@facts
class MotionBlocked(Finding):
    """Boards that are to move run into one that stays: a travel of `asked` mm along `direction`,
    or, where that is None, a swing of `asked` degrees. `moves` is what moves, as written."""

    code: ClassVar[str] = "A102"
    moves: str
    direction: Vector | None
    asked: Fraction
    hit: Hit
    still_place: Place | None


# A2xx: all parts together


@dataclass(frozen=True, slots=True)
class Ring:
    """Along a direction, of length 1, each board meets the next and the last one the first."""

    direction: Vector
    hits: tuple[Hit, ...]


@dataclass(frozen=True, slots=True)
class Member:
    """A board that is locked, and where it was written."""

    board: str
    place: Place | None


@dataclass(frozen=True, slots=True)
class Line:
    """A `join` or `cut` line that has part in a lock, with the locked boards it is about."""

    place: Place | None
    boards: tuple[str, ...]


@facts
class NoOrder(Finding):
    """Boards that no straight move parts, not one and not several at a time: none of them can be
    left out for that. `tried` counts the directions; `rings` say of each, or of its opposite, why.
    """

    code: ClassVar[str] = "A201"
    members: tuple[Member, ...]
    lines: tuple[Line, ...]
    rings: tuple[Ring, ...]
    tried: int
