"""When could one board take another's place?

A part's shape is what is cut from it, told so that it does not matter how the board lies in the
design: two boards of one size and stock are the same part when their shapes are equal.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TypeAlias

from .board import Axis
from .cuts import Cut
from .figures import figure
from .plan import BoardPlan
from .region import Arc, Edge
from .views import roles

Point3: TypeAlias = tuple[float, float, float]
Shape: TypeAlias = tuple[tuple[object, ...], ...]
Turn: TypeAlias = Callable[[Point3], Point3]

GRID = 0.001
"""Cuts are the same when their points fall into the same cells of this size, mm."""

GRID_SHIFT = 0.317
"""Of a cell: keeps whole, decimal and 1/64 in figures off the borders between cells, where the
last digit of a float would decide."""


def part_shape(plan: BoardPlan) -> Shape:
    """What is cut from a board, the same however the board lies in the design.

    Points are measured from the blank's middle along length, width and the direction that makes
    them right-handed; of all the turns that bring the blank back on itself the one that gives the
    least figures is taken. Mirroring is no turn.
    """
    frame = _frame(plan)
    cuts = [_cut_points(cut, plan, frame) for cut in plan.cuts if not cut.region.is_empty]
    box, run = plan.board.box, plan.run
    turns = _turns(square=box[run.width].size == box[run.thick].size)
    return min((_turned_shape(cuts, turn) for turn in turns), key=repr)


CutPoints: TypeAlias = tuple[tuple[object, ...], Point3, tuple[tuple[Point3, ...], ...]]


def _turned_shape(cuts: Iterable[CutPoints], turn: Turn) -> Shape:
    found = []
    for facts, outward, edges in cuts:
        cells = sorted(
            (*sorted((_cell(turn(edge[0])), _cell(turn(edge[1])))), _cell(turn(edge[2])))
            for edge in edges
        )
        found.append((_cell(turn(outward)), facts, tuple(cells)))
    return tuple(sorted(found, key=repr))


def _cut_points(cut: Cut, plan: BoardPlan, frame: Turn) -> CutPoints:
    """Facts that no turn changes, the way the side faces, and each edge's ends and middle."""
    outward = [0.0, 0.0, 0.0]
    outward[cut.side.axis] = 1.0 if cut.side.positive else -1.0
    middle = _middle(plan)
    half = float(plan.board.box[cut.side.axis].size) / 2

    def placed(point: tuple[float, float], below: float) -> Point3:
        own = [0.0, 0.0, 0.0]
        own[cut.side.axis] = (half - below) * outward[cut.side.axis]
        for axis, value in zip(cut.side.plane, point, strict=True):
            own[axis] = value - middle[axis]
        return frame((own[0], own[1], own[2]))

    depth = "through" if cut.depth is None else figure(cut.depth)
    levels = [(cut.region, 0.0), *(() if cut.floor is None else ((cut.floor, cut.depth or 0.0),))]
    edges = tuple(
        (placed(edge.start, below), placed(edge.end, below), placed(_midpoint(edge), below))
        for region, below in levels
        for loop in region.loops
        for edge in loop
    )
    return (
        (cut.work.value, depth, cut.bit, cut.by_hand),
        frame((outward[0], outward[1], outward[2])),
        edges,
    )


def _middle(plan: BoardPlan) -> Point3:
    x, y, z = (float(plan.board.box[a].lo + plan.board.box[a].hi) / 2 for a in Axis)
    return (x, y, z)


def _frame(plan: BoardPlan) -> Turn:
    """From the board's own axes to (length, width, across), made right-handed."""
    length, width, thick = roles(plan)
    sign = 1.0 if (width - length) % 3 == 1 else -1.0
    return lambda p: (p[length], p[width], sign * p[thick])


def _turns(*, square: bool) -> tuple[Turn, ...]:
    """The turns of a box on itself that keep its grain along the length."""
    halves: tuple[Turn, ...] = (
        lambda p: p,
        lambda p: (p[0], -p[1], -p[2]),
        lambda p: (-p[0], p[1], -p[2]),
        lambda p: (-p[0], -p[1], p[2]),
    )
    if not square:
        return halves
    quarters: tuple[Turn, ...] = (
        lambda p: (p[0], -p[2], p[1]),
        lambda p: (p[0], p[2], -p[1]),
        lambda p: (-p[0], p[2], p[1]),
        lambda p: (-p[0], -p[2], -p[1]),
    )
    return halves + quarters


def _midpoint(edge: Edge) -> tuple[float, float]:
    """The middle of a line, of an arc the point half way round it."""
    if not isinstance(edge, Arc):
        return ((edge.start[0] + edge.end[0]) / 2, (edge.start[1] + edge.end[1]) / 2)
    (cx, cy), (x, y) = edge.centre, edge.start
    angle = math.atan2(y - cy, x - cx) + edge.sweep / 2
    return (cx + edge.radius * math.cos(angle), cy + edge.radius * math.sin(angle))


def _cell(point: Point3) -> tuple[int, int, int]:
    x, y, z = (math.floor(value / GRID + GRID_SHIFT) for value in point)
    return (x, y, z)
