"""How much room is left over in a row of things between two stops?

In: the bodies of a plan and names in a row along an axis, such as a rail, three drawers and a rail:
boards, or assemblies put down. Out: the room between the first and the last, the size of each thing
between them, what is left over, and how far that may stray as stock, bits and setups do. All are
measured on the cut boards.

Each thing reaches to its outermost face each way along the axis. A face square to the axis strays
as `straying.py` tells, any other not at all; what a joint's play lets a board shift is left out.
The stops stay where they are drawn but for what their own faces stray.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from .board import Axis
from .faults import InternalError
from .measure import boards_of
from .shadows import Faces
from .solids import Bodies
from .straying import (
    Gap,
    Ranges,
    Sum,
    Tolerances,
    Worst,
    gap_of,
    ranges_of,
    wall_moves,
    worst,
)
from .thresholds import FACING_COSINE, SAME


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing of a row: its size along the axis, mm, as drawn and at worst."""

    name: str
    size: float
    least: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A row: the room between the stops, the things between them, and what is left, at worst too.

    `gaps` are those between each thing and the next as drawn; below 0 one reaches past the other.
    """

    axis: Axis
    stops: tuple[str, str]
    room: Piece
    pieces: tuple[Piece, ...]
    left: float
    worst: Worst
    gaps: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Unknown:
    """A name in the row that no board and no assembly has."""

    name: str


def stack(
    bodies: Bodies, row: Sequence[str], axis: Axis, tolerances: Tolerances
) -> Stack | Unknown:
    """The row, of at least three names, measured along an axis of the finished piece."""
    for name in row:
        if not boards_of(bodies, name):
            return Unknown(name)
    ranges = ranges_of(bodies.plan, tolerances)
    names = list(row)
    ends = [(_end(bodies, name, axis, False), _end(bodies, name, axis, True)) for name in row]
    if ends[0][0].drawn > ends[-1][0].drawn:
        names.reverse()
        ends.reverse()
    room = ends[-1][0].minus(ends[0][1])
    sizes = [high.minus(low) for low, high in ends[1:-1]]
    left = room
    for size in sizes:
        left = left.minus(size)
    pieces = zip(names[1:-1], sizes, strict=True)
    return Stack(
        axis=axis,
        stops=(names[0], names[-1]),
        room=_piece("", room, ranges),
        pieces=tuple(_piece(name, size, ranges) for name, size in pieces),
        left=left.drawn,
        worst=worst(Sum((left,), (gap_of(0.0, ()),)), ranges),
        gaps=tuple(after[0].drawn - before[1].drawn for before, after in pairwise(ends)),
    )


def _piece(name: str, size: Gap, ranges: Ranges) -> Piece:
    found = worst(Sum((size,), (gap_of(0.0, ()),)), ranges)
    return Piece(name, size.drawn, found.least, found.most)


def _end(bodies: Bodies, name: str, axis: Axis, high: bool) -> Gap:
    """Where a thing ends along the axis, and how that strays."""
    sign = 1.0 if high else -1.0
    best: tuple[float, int] | None = None
    for index in boards_of(bodies, name):
        reach = float((sign * bodies.faces(index, inset=0.0).corners[:, :, axis]).max())
        if best is None or reach > best[0] + SAME:
            best = (reach, index)
    if best is None:
        raise InternalError(f"{name} has no boards")
    reach, index = best
    x, y, z = (sign if each is axis else 0.0 for each in Axis)
    made_by = _outermost(bodies.faces(index, inset=0.0), axis, sign, reach)
    if made_by is None:
        return Gap(sign * reach)
    moves = wall_moves(bodies.plan.boards[index], made_by, (x, y, z))
    return gap_of(sign * reach, ((source, sign * slope) for source, slope in moves))


def _outermost(body: Faces, axis: Axis, sign: float, reach: float) -> int | None:
    """Which cut made the outermost face, -1 for the blank; None where it is not square to the
    axis, but an edge or a corner."""
    corners = body.corners
    at_end = (np.abs(sign * corners[:, :, axis] - reach) < SAME).all(axis=1)
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normal, axis=1)
    square = at_end & (sign * normal[:, axis] >= FACING_COSINE * size) & (size > 0)
    found = np.flatnonzero(square)
    return None if not len(found) else int(body.cut[found[np.argmax(size[found])]])
