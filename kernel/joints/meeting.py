"""Which wood do two boards share, and from where can it be reached?

A `Meeting` holds two boards that are square to each other in one set of coordinates, those of its
first board. Families think in these; `Part` carries each result back to the board's own. A side of
a box here is a `Side` too, in the meeting's coordinates.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from ..board import Axis, Board, Box, Run, Span
from ..cuts import Side
from ..cutter import Bit
from ..design import BoardRef, Join
from ..finding import Place
from ..frames import Bridge
from ..stock import Stock
from ..thresholds import SAME


class Occasion(Protocol):
    """What of any meeting a bit is picked for."""

    @property
    def name(self) -> str: ...

    @property
    def join(self) -> Join: ...

    @property
    def bits(self) -> tuple[Bit, ...]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One board of a meeting: `box` in the meeting's coordinates, `own` the way from there to the
    board's own, `run` in the board's own."""

    ref: BoardRef
    board: Board
    stock: Stock
    run: Run
    box: Box
    own: Bridge

    @property
    def name(self) -> str:
        return self.board.name

    @property
    def thick(self) -> Axis:
        """The meeting's axis that the board's thickness runs along."""
        return self._here(self.run.thick)

    @property
    def length(self) -> Axis:
        return self._here(self.run.length)

    @property
    def width(self) -> Axis:
        return self._here(self.run.width)

    def _here(self, own_axis: Axis) -> Axis:
        return self.own.axes[own_axis]

    def own_side(self, side: Side) -> Side:
        """The side in the board's own coordinates."""
        axis, sign = self.own.axis(side.axis)
        return Side(axis, side.positive == (sign > 0))

    def face(self, side: Side) -> Fraction:
        """Where the blank ends on `side`, in the meeting's coordinates."""
        return at(self.box, side)

    def reaches(self, side: Side, box: Box) -> bool:
        """True when `box` comes to the blank's face on `side`, or past it."""
        past = at(box, side) - self.face(side)
        return (past if side.positive else -past) >= -SAME

    def beyond(self, side: Side, other: Part) -> Fraction:
        """How far this board goes on past the other's face on `side`; negative when it ends
        before."""
        past = self.face(side) - other.face(side)
        return past if side.positive else -past


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """Two boards under one join, and the box they share.

    `name` is the joint's. `overlap` may be flat along one axis for boards that only touch.
    """

    name: str
    join: Join
    a: Part
    b: Part
    overlap: Box
    bits: tuple[Bit, ...]

    @property
    def place(self) -> Place | None:
        """Where the join names its first board of this pair."""
        return self.a.ref.place or self.join.place

    def option_place(self, name: str) -> Place | None:
        """Where an option of the join is written; the pair's place where it is not."""
        written = (option.place for option in self.join.options if option.name == name)
        return next(written, self.place)


def at(box: Box, side: Side) -> Fraction:
    """Where the box ends on `side`."""
    return box[side.axis].hi if side.positive else box[side.axis].lo


def moved(box: Box, side: Side, by: Fraction) -> Box:
    """The box with its face on `side` moved outwards by `by`."""
    return with_face(box, side, at(box, side) + (by if side.positive else -by))


def with_face(box: Box, side: Side, where: Fraction) -> Box:
    """The box with its face on `side` put at `where`."""
    spans = [box.x, box.y, box.z]
    old = spans[side.axis]
    spans[side.axis] = Span(old.lo, where) if side.positive else Span(where, old.hi)
    return Box(spans[0], spans[1], spans[2])


def both_sides(axis: Axis) -> tuple[Side, Side]:
    """The low and the high side along an axis."""
    return Side(axis, False), Side(axis, True)


def other_axis(one: Axis, two: Axis) -> Axis:
    """The third axis."""
    return Axis(3 - one - two)


def open_side(host: Part, box: Box, axis: Axis) -> Side | None:
    """The side along `axis` on which `box` comes to the host's surface; None when it does so on
    neither side or on both."""
    reached = [side for side in both_sides(axis) if host.reaches(side, box)]
    return reached[0] if len(reached) == 1 else None


def way_in(host: Part, box: Box) -> Side | None:
    """The side of `host` from which a hollow for `box` can be cut, leaving a floor under it.

    Of several the host's face comes first (it lies on the machine's bed), then the side that the
    box lies least deep under, then the lower axis. None when the box is buried, or goes through.
    """
    sides = [side for axis in Axis if (side := open_side(host, box, axis)) is not None]
    if not sides:
        return None
    return min(sides, key=lambda s: (s.axis != host.thick, box[s.axis].size, s.axis))


def passes_through(host: Part, box: Box) -> Axis | None:
    """The axis along which `box` spans all of the host, its thickness first; None when none."""
    axes = sorted(Axis, key=lambda axis: (axis != host.thick, axis))
    for axis in axes:
        if all(host.reaches(side, box) for side in both_sides(axis)):
            return axis
    return None
