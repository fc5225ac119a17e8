"""How does a joint look once it is drawn apart along its way in?

In: the plan of two boards under one joint. Out: the same plan with the first board moved out of the
second, for a picture, and the way home. It moves along a free way (`insertion.py`), the one that
leads most nearly from the mate's middle to its own; nothing is cut anew.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from .board import Axis, Shift
from .broad import world_boxes
from .closeup import joint_middle
from .insertion import Insertions
from .measure import own_axis
from .plan import CutPlan
from .shadows import Vector
from .solids import Bodies
from .thresholds import SAME

Floats = NDArray[np.float64]

CLEAR = 40.0
"""mm between the two once they are apart: wide enough to see what was cut."""


@dataclass(frozen=True, slots=True)
class Apart:
    """A plan with its first board out of its second, `by` mm. `home` is the middle of the joint,
    where the middle of the part that was moved goes back to from `home + by`."""

    plan: CutPlan
    by: Vector
    home: Vector

    @property
    def away(self) -> Vector:
        """Where the middle of the joint went."""
        x, y, z = (h + b for h, b in zip(self.home, self.by, strict=True))
        return x, y, z


def drawn_apart(plan: CutPlan) -> Apart | None:
    """The first board drawn out of the second; None when nothing leads out."""
    bodies = Bodies(plan)
    ways = Insertions(bodies).of(0, 1).out
    if not ways:
        return None
    boxes = world_boxes([one.board for one in plan.boards])
    lows, highs = boxes[:, 0], boxes[:, 1]
    middle = (lows[0] + highs[0]) / 2 - (lows[1] + highs[1]) / 2
    way = max(ways, key=lambda way: _leads(way, middle, _axes(bodies)))
    shared = [min(highs[0][a], highs[1][a]) - max(lows[0][a], lows[1][a]) for a in Axis]
    run = sum(abs(w) * max(0.0, float(s)) for w, s in zip(way, shared, strict=True)) + CLEAR
    x, y, z = (Fraction(round(w * run * 1000), 1000) for w in way)
    first = plan.boards[0]
    moved = replace(first.board, pose=(*first.board.pose, Shift((x, y, z))))
    boards = (replace(first, board=moved), *plan.boards[1:])
    by = (float(x), float(y), float(z))
    return Apart(replace(plan, boards=boards), by, joint_middle(plan))


def _axes(bodies: Bodies) -> tuple[Vector, ...]:
    return tuple(own_axis(bodies, index, axis) for index in (0, 1) for axis in Axis)


def _leads(way: Vector, middle: Floats, axes: tuple[Vector, ...]) -> tuple[bool, float]:
    """How well a way leads out: along an axis of a board and away from the mate, then how nearly
    towards the part's own middle."""
    away = round(float(np.dot(way, middle)), 3)
    along = any(abs(float(np.dot(way, axis))) > 1 - SAME for axis in axes)
    return along and away > 0, away
