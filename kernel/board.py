"""What space does a board fill, and how is it put down?

A board is the box its blank fills in its own coordinates (those of the assembly it was written
in) and a pose, the moves that take those coordinates to the finished piece. Axes: x left to right,
y front to back, z floor to top; right-handed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from typing import TypeAlias

from .finding import Place
from .stock import Stock


class Axis(IntEnum):
    X = 0
    Y = 1
    Z = 2

    @property
    def letter(self) -> str:
        return "xyz"[self]


Point: TypeAlias = tuple[Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Span:
    """From `lo` to `hi` along one axis, mm."""

    lo: Fraction
    hi: Fraction

    @property
    def size(self) -> Fraction:
        return self.hi - self.lo


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-aligned box in a board's own coordinates."""

    x: Span
    y: Span
    z: Span

    def __getitem__(self, axis: int) -> Span:
        return (self.x, self.y, self.z)[axis]


@dataclass(frozen=True, slots=True)
class Turn:
    """A right-handed turn by `degrees` about the line along `about` through `at`."""

    degrees: Fraction
    about: Axis
    at: Point


@dataclass(frozen=True, slots=True)
class Shift:
    """A move by `by`, mm."""

    by: Point


Move: TypeAlias = Turn | Shift


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One piece of wood. `name` is its full path, such as `drawer[1].front`.

    `pose` is applied first to last. `grain` is the axis written with `grain`, None for the longest
    span that is not the thickness.
    """

    name: str
    stock: str
    box: Box
    pose: tuple[Move, ...] = ()
    grain: Axis | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """Which axis of a board is its length (along the grain), width and thickness."""

    length: Axis
    width: Axis
    thick: Axis


def board_run(board: Board, stock: Stock) -> Run | None:
    """How the board lies; None when no span equals the stock's thickness.

    Of two or three spans equal to the thickness (a square leg), the grain keeps the longest and the
    thickness is the last axis left that matches.
    """
    sizes = [board.box[a].size for a in Axis]
    matching = [a for a in Axis if sizes[a] == stock.thick and a != board.grain]
    if not matching:
        return None
    if board.grain is not None:
        length = board.grain
    else:
        free = [a for a in Axis if matching != [a]]
        length = max(free, key=lambda a: (sizes[a], -a))
    thick = [a for a in matching if a != length][-1:] or matching[-1:]
    if thick[0] == length:
        return None
    width = next(a for a in Axis if a not in (length, thick[0]))
    return Run(length=length, width=width, thick=thick[0])
