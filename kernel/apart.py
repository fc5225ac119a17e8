"""How does a joint look once it is drawn apart along its way in?

In: the plan of two boards under one joint. Out: the same plan with the first board moved out of the
second, for a picture. It moves along a free way (`insertion.py`), the one that leads most nearly
from the mate's middle to its own; nothing is cut anew.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from .board import Axis, Shift
from .broad import world_boxes
from .insertion import Insertions
from .plan import CutPlan
from .solids import Bodies

CLEAR = 45.0
"""mm between the two once they are apart: wide enough to see what was cut."""


def drawn_apart(plan: CutPlan) -> CutPlan:
    """The plan with its first board out of its second; the plan itself when nothing leads out."""
    ways = Insertions(Bodies(plan)).of(0, 1).out
    if not ways:
        return plan
    boxes = world_boxes([one.board for one in plan.boards])
    lows, highs = boxes[:, 0], boxes[:, 1]
    middle = (lows[0] + highs[0]) / 2 - (lows[1] + highs[1]) / 2
    way = max(ways, key=lambda way: round(sum(w * m for w, m in zip(way, middle, strict=True)), 3))
    shared = [min(highs[0][a], highs[1][a]) - max(lows[0][a], lows[1][a]) for a in Axis]
    run = sum(abs(w) * max(0.0, float(s)) for w, s in zip(way, shared, strict=True)) + CLEAR
    x, y, z = (Fraction(round(w * run * 1000), 1000) for w in way)
    first = plan.boards[0]
    moved = replace(first.board, pose=(*first.board.pose, Shift((x, y, z))))
    return replace(plan, boards=(replace(first, board=moved), *plan.boards[1:]))
