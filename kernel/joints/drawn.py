"""Cuts whose region a family draws itself, in the meeting's coordinates.

`carve.py` makes what follows from boxes; here a region with slants or arcs is carried over to the
board's own side and made into a cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..board import Axis
from ..cuts import Cut, Side, Work
from ..region import Line, Point2, Region, moved
from .meeting import Meeting, Part


@dataclass(frozen=True, slots=True)
class Tool:
    """What a cut is made with: a bit's name or a tool of the hand."""

    name: str
    by_hand: bool = False


SAW = Tool("saw", True)
"""What makes a cut by hand that no bit of the machine makes."""


def on_own_side(part: Part, side: Side, region: Region) -> Region:
    """A region drawn in the plane of the meeting's `side`, in that of the board's own side."""
    own = part.own_side(side).plane

    def value(p: Point2, axis: Axis) -> float:
        at = side.plane.index(part.own.axes[axis])
        return part.own.signs[axis] * p[at] + float(part.own.shift[axis])

    swapped = part.own.axes[own[0]] != side.plane[0]
    turned = part.own.signs[own[0]] * part.own.signs[own[1]] < 0
    return moved(region, lambda p: (value(p, own[0]), value(p, own[1])), mirrored=swapped != turned)


def drawn_cut(
    meeting: Meeting,
    host: Part,
    side: Side,
    region: Region,
    *,
    depth: Fraction | None,
    tool: Tool,
    work: Work | None = None,
    asked: Region | None = None,
    floor: Region | None = None,
) -> Cut:
    """The cut of a region drawn in the meeting's coordinates; right through without a `depth`."""
    return Cut(
        board=host.name,
        side=host.own_side(side),
        work=work or (Work.THROUGH if depth is None else Work.POCKET),
        region=on_own_side(host, side, region),
        asked=on_own_side(host, side, region if asked is None else asked),
        depth=None if depth is None else float(depth),
        bit=tool.name,
        by_hand=tool.by_hand,
        joint=meeting.name,
        mate=(meeting.b if host is meeting.a else meeting.a).name,
        place=meeting.join.place,
        floor=None if floor is None else on_own_side(host, side, floor),
    )


def polygon(points: tuple[Point2, ...]) -> Region:
    """The region round points, whichever way they run."""
    pairs = tuple(zip(points, (*points[1:], points[0]), strict=True))
    turn = sum(p[0] * q[1] - q[0] * p[1] for p, q in pairs)
    if turn < 0:
        return polygon(points[::-1])
    return Region((tuple(Line(p, q) for p, q in pairs),))


def in_plane(side: Side, first: Axis, along_first: float, along_other: float) -> Point2:
    """A point of the plane of `side` from its figure along one of the two axes and the other."""
    return (along_first, along_other) if side.plane[0] == first else (along_other, along_first)
