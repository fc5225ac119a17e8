"""How is a joint shown: how much of its boards, and turned which way to the reader?

In: the plan of two boards under one joint. Out: the same plan on shorter blanks, with the way its
inside looks, and the moves that turn inside or outside to the reader. No cut is made anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import hypot

import numpy as np
from numpy.typing import NDArray

from .board import Axis, Board, Box, Move, Span, Turn
from .frames import pose_matrix
from .plan import BoardPlan, CutPlan
from .shadows import Vector

Floats = NDArray[np.float64]

REACH = Fraction(85)
"""How much of a board is shown beyond its mate, mm: enough to see which way it goes on."""

LOOKS = 0.4
"""The least cosine between a direction and the line of sight for it to look at the reader."""

EDGE_ON = 0.25
"""The least cosine between a board's faces and the line of sight for it to be more than an edge."""

FLAT = 0.2
"""Boards that lie round their joint more evenly than this have no inside but one of their faces."""

_NO_TURN: tuple[Move, ...] = ()
_ORIGIN = (Fraction(0), Fraction(0), Fraction(0))


def _turn(about: Axis, degrees: int) -> Turn:
    return Turn(Fraction(degrees), about, _ORIGIN)


TURNS: tuple[tuple[Move, ...], ...] = (
    _NO_TURN,
    *((_turn(Axis.Z, degrees),) for degrees in (180, 90, -90)),
    *((_turn(axis, 180),) for axis in (Axis.X, Axis.Y)),
    *((_turn(axis, degrees),) for axis in (Axis.Y, Axis.X) for degrees in (90, -90)),
    *(
        (_turn(axis, degrees), _turn(Axis.Z, 180))
        for axis in (Axis.X, Axis.Y)
        for degrees in (180, 90, -90)
    ),
)
"""Ways to lie on the table, the plainest first."""


def close_up(plan: CutPlan, reach: Fraction = REACH) -> CutPlan:
    """The plan with both blanks sawn off `reach` mm beyond the other board, along and across."""
    one, other = plan.boards[:2]
    return replace(
        plan,
        boards=(_sawn(one, other.board, reach), _sawn(other, one.board, reach), *plan.boards[2:]),
    )


def _sawn(plan: BoardPlan, mate: Board, reach: Fraction) -> BoardPlan:
    """A board's blank no longer than what its mate's blank spans of it, and `reach` either way."""
    board = plan.board
    seen = np.linalg.inv(pose_matrix(board.pose)) @ pose_matrix(mate.pose)
    corners = [(seen @ np.array([*corner, 1.0]))[:3] for corner in _corners(mate.box)]
    low, high = np.min(corners, axis=0), np.max(corners, axis=0)
    spans = []
    for axis in Axis:
        own = board.box[axis]
        if axis == plan.run.thick:
            spans.append(own)
            continue
        start = max(own.lo, Fraction(round(float(low[axis]) * 1000), 1000) - reach)
        end = min(own.hi, Fraction(round(float(high[axis]) * 1000), 1000) + reach)
        spans.append(Span(start, end) if start < end else own)
    return replace(plan, board=replace(board, box=Box(*spans)))


def _corners(box: Box) -> Iterator[tuple[float, float, float]]:
    for x in (box.x.lo, box.x.hi):
        for y in (box.y.lo, box.y.hi):
            for z in (box.z.lo, box.z.hi):
                yield float(x), float(y), float(z)


# ---- which way it looks -----------------------------------------------------------------------


def joint_middle(plan: CutPlan) -> Vector:
    """The middle of what the two blanks share, or of where they touch."""
    low, high = zip(*(_box(one.board) for one in plan.boards[:2]), strict=True)
    middle = (np.max(low, axis=0) + np.min(high, axis=0)) / 2
    x, y, z = (float(c) for c in middle)
    return x, y, z


def _box(board: Board) -> tuple[Floats, Floats]:
    matrix = pose_matrix(board.pose)
    corners = [(matrix @ np.array([*corner, 1.0]))[:3] for corner in _corners(board.box)]
    return np.min(corners, axis=0), np.max(corners, axis=0)


def inside(plan: CutPlan) -> Vector:
    """The direction that the inside of the joint looks in, of length 1: to where both boards go
    off. Boards that go off in opposite ways have their inside above."""
    middle = np.array(joint_middle(plan))
    total = np.zeros(3)
    for one in plan.boards[:2]:
        low, high = _box(one.board)
        off = (low + high) / 2 - middle
        size = float(np.linalg.norm(off))
        total += off / size if size > float(max(high - low)) / 8 else 0.0
    x, y, z = (float(c) for c in total)
    size = hypot(x, y, z)
    return (x / size, y / size, z / size) if size > FLAT else (0.0, 0.0, 1.0)


def turned_to(plan: CutPlan, direction: Vector, towards: Vector) -> tuple[Move, ...]:
    """The plainest moves after which `direction` looks at a reader who stands `towards` it, and no
    board of the plan is seen edge on."""
    looks = [_looks(moves, direction, towards) for moves in TURNS]
    turning = tuple(moves for moves, look in zip(TURNS, looks, strict=True) if look >= LOOKS)
    faces = [_face(one) for one in plan.boards]
    for moves in turning:
        if all(abs(_looks(moves, face, towards)) >= EDGE_ON for face in faces):
            return moves
    return turning[0] if turning else TURNS[looks.index(max(looks))]


def _face(plan: BoardPlan) -> Vector:
    """The direction square to a board's faces."""
    x, y, z = (float(c) for c in pose_matrix(plan.board.pose)[:3, plan.run.thick])
    return x, y, z


def _looks(moves: tuple[Move, ...], direction: Vector, towards: Vector) -> float:
    turned: Floats = pose_matrix(moves)[:3, :3] @ np.array(direction)
    return float(turned @ np.array(towards))


def turned(plan: CutPlan, moves: tuple[Move, ...]) -> CutPlan:
    """The whole plan moved."""
    boards = (
        replace(one, board=replace(one.board, pose=(*one.board.pose, *moves)))
        for one in plan.boards
    )
    return replace(plan, boards=tuple(boards))


def turned_point(point: Vector, moves: tuple[Move, ...]) -> Vector:
    """A point moved along."""
    x, y, z, _ = (float(c) for c in pose_matrix(moves) @ np.array([*point, 1.0]))
    return x, y, z
