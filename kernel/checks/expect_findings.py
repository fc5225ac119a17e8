"""What can be wrong with the tests of a design? The facts of T findings.

Figures are in mm, mm2, mm3, kg, degrees or counts; places in the finished piece. No sentence stands
here: `lang/messages/expect.py` words them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..ends import Ends, Vector
from ..finding import Finding, Place, facts
from ..quantity import Dimension
from .findings import TravelShort


@dataclass(frozen=True, slots=True)
class Measured:
    """A measure as written, the figure it gave, and where in the piece, if at one place; from where
    to where, if it is a length, and between which boards."""

    name: str
    subjects: tuple[str, ...]
    value: float
    dimension: Dimension
    at: Vector | None = None
    ends: Ends | None = None
    boards: tuple[str, ...] = ()


@facts
class ExpectationFailed(Finding):
    """A comparison that does not hold.

    `wanted` is the relation as written, such as `>=`, with one bound, or `within` with two.
    `margin` is by how much it misses, in the unit of `dimension`.
    """

    code: ClassVar[str] = "T101"
    test: str
    value: float
    dimension: Dimension
    wanted: str
    bounds: tuple[float, ...]
    margin: float
    measured: tuple[Measured, ...]


@facts
class NothingToMeasure(Finding):
    """A measure of a board, an assembly or a machine that is not there."""

    code: ClassVar[str] = "T102"
    test: str
    measure: str
    board: str
    near: str | None


@facts
class NoFitToMeasure(Finding):
    """`fit` asked of two boards that no joint fits into one another."""

    code: ClassVar[str] = "T103"
    test: str
    part: str
    socket: str
    fitted_to: tuple[str, ...]


@facts
class UnknownMeasure(Finding):
    """A measure or a claim that does not exist, or one given the wrong number of boards."""

    code: ClassVar[str] = "T104"
    test: str
    name: str
    given: int
    takes: int | None
    known: tuple[str, ...]


@facts
class NotComparable(Finding):
    """Two figures of different dimensions added or compared."""

    code: ClassVar[str] = "T105"
    test: str
    left: Dimension
    right: Dimension


@facts
class DividedByZero(Finding):
    """A figure divided by one that came out as 0."""

    code: ClassVar[str] = "T106"
    test: str


@facts
class NoSuchJoint(Finding):
    """A measure of a joint that the design does not have, most likely no longer."""

    code: ClassVar[str] = "T107"
    test: str
    measure: str
    joint: str
    near: str | None
    known: tuple[str, ...]


@facts
class UnknownWood(Finding):
    """A mass asked for where the density of a stock is not known: it names no species, or one that
    the table does not have. `near` is a species the table has."""

    code: ClassVar[str] = "T108"
    test: str
    subject: str
    stock: str
    stock_place: Place | None
    species: str | None
    near: str | None


@facts
class NothingBetween(Finding):
    """`gap` asked of two things no faces of which look straight at each other."""

    code: ClassVar[str] = "T109"
    test: str
    first: str
    second: str


@facts
class TooLargeForMachine(Finding):
    """A board claimed to fit a machine does not, and where the machine falls short."""

    code: ClassVar[str] = "T110"
    test: str
    board: str
    board_place: Place | None
    machine: TravelShort


@facts
class NothingMoves(Finding):
    """`travels` claimed of what no line moves. `moves` is what the design's lines do move."""

    code: ClassVar[str] = "T111"
    test: str
    subject: str
    moves: tuple[str, ...]
