"""Where does something in a board's own coordinates lie when the board is flat on the machine?

A view looks down on one of the board's two faces: x along the length, y along the width, the origin
at the blank's lower left, both in mm. See `profile.py` for what is drawn in it.
"""

from __future__ import annotations

from enum import Enum
from typing import TypeAlias

from .board import Axis, Span
from .cuts import Cut, Side
from .plan import BoardPlan
from .region import Point2, Region, moved

Extent: TypeAlias = tuple[float, float]


class Where(Enum):
    """A side of the blank as it lies on the machine, seen on face A."""

    FACE_A = "face A"
    FACE_B = "face B"
    LEFT_END = "the left end"
    RIGHT_END = "the right end"
    LOWER_EDGE = "the lower edge"
    UPPER_EDGE = "the upper edge"


def roles(plan: BoardPlan) -> tuple[Axis, Axis, Axis]:
    """The board's axes of length, width and thickness."""
    return plan.run.length, plan.run.width, plan.run.thick


def seen(region: Region, plan: BoardPlan, up: Side) -> Region:
    """A region drawn in the plane of a face, in the view with side `up` on top.

    x is the length axis. y is up's outward normal crossed with it: the width axis itself when
    (length, width, outward) is right-handed, else from the far edge back. The plane of `up` is
    mirrored as seen from outside when `up` is negative.
    """
    across = up.plane.index(plan.run.length)
    length, width = plan.board.box[plan.run.length], plan.board.box[plan.run.width]
    forward = runs_forward(plan, up)

    def point(p: Point2) -> Point2:
        y = p[1 - across] - float(width.lo) if forward else float(width.hi) - p[1 - across]
        return (p[across] - float(length.lo), y)

    return moved(region, point, mirrored=not up.positive)


def runs_forward(plan: BoardPlan, up: Side) -> bool:
    """Whether the view's y is the board's own width axis."""
    return (up.plane[0] == plan.run.length) == up.positive


def where_lies(side: Side, plan: BoardPlan, side_a: Side) -> Where:
    if side.axis == plan.run.thick:
        return Where.FACE_A if side == side_a else Where.FACE_B
    if side.axis == plan.run.length:
        return Where.RIGHT_END if side.positive else Where.LEFT_END
    upper = side.positive == runs_forward(plan, side_a)
    return Where.UPPER_EDGE if upper else Where.LOWER_EDGE


def extents(cut: Cut, plan: BoardPlan, side_a: Side) -> tuple[Extent, Extent, Extent]:
    """The box of a cut within the blank: along x, along y, and down from face A."""
    u0, v0, u1, v1 = cut.extent
    spans: dict[Axis, Extent] = dict(zip(cut.side.plane, ((u0, u1), (v0, v1)), strict=True))
    own = plan.board.box[cut.side.axis]
    depth = float(own.size) if cut.depth is None else cut.depth
    hi, lo = float(own.hi), float(own.lo)
    spans[cut.side.axis] = (hi - depth, hi) if cut.side.positive else (lo, lo + depth)
    backward = (False, not runs_forward(plan, side_a), side_a.positive)
    x, y, below = (
        _within(plan.board.box[axis], spans[axis], turned)
        for axis, turned in zip(roles(plan), backward, strict=True)
    )
    return x, y, below


def _within(blank: Span, cut: Extent, backward: bool) -> Extent:
    """The part of a cut's span inside the blank's, measured from the blank's low end, or from its
    high end back."""
    low, high = float(blank.lo), float(blank.hi)
    start, end = max(cut[0], low), min(cut[1], high)
    return (high - end, high - start) if backward else (start - low, end - low)
