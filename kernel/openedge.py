"""How does a pocket's drawing go on past the blank where the pocket is open at its edge?

A cutter that followed the pocket only up to the blank's edge would leave a fillet of its own radius
in each corner there. So each stretch of the pocket's boundary that lies on the blank's edge is
pushed straight out into the air. Pure rewriting of loops: no boolean, so no wall inside the blank
moves by a hair.
"""

from __future__ import annotations

from typing import TypeAlias

from .region import Arc, Edge, Line, Loop, Point2, Region
from .thresholds import SAME

Bounds: TypeAlias = tuple[float, float, float, float]


def past_open_edges(region: Region, blank: Bounds, reach: float) -> Region:
    """The region carried `reach` past the blank's edges wherever its boundary lies on them.

    Each stretch of boundary on the blank's edge is pushed straight out; round a corner of the
    blank that is open both ways the corner is filled.
    """
    return Region(tuple(_pushed_out(loop, blank, reach) for loop in region.loops))


def _pushed_out(loop: Loop, blank: Bounds, reach: float) -> Loop:
    outs = [_outward(edge, blank) for edge in loop]
    edges: list[Edge] = []
    for index, edge in enumerate(loop):
        out, before = outs[index], outs[index - 1]
        after = outs[(index + 1) % len(loop)]
        if out is None:
            edges.append(edge)
            continue
        start, end = _plus(edge.start, out, reach), _plus(edge.end, out, reach)
        if before is None:
            edges.append(Line(edge.start, start))
        elif before != out:
            start = _plus(start, before, reach)
        if after is not None and after != out:
            end = _plus(end, after, reach)
        edges.append(Line(start, end))
        if after is None:
            edges.append(Line(end, edge.end))
    return _straightened(edges)


def _outward(edge: Edge, blank: Bounds) -> Point2 | None:
    """Which way is out for a line on the blank's edge; None for any other edge."""
    if isinstance(edge, Arc):
        return None
    x0, y0, x1, y1 = blank
    sides = ((0, x0, (-1.0, 0.0)), (0, x1, (1.0, 0.0)), (1, y0, (0.0, -1.0)), (1, y1, (0.0, 1.0)))
    for axis, at, out in sides:
        if max(abs(edge.start[axis] - at), abs(edge.end[axis] - at)) <= SAME:
            return out
    return None


def _straightened(edges: list[Edge]) -> Loop:
    """The loop with runs of lines along an axis made one line each."""
    kept: list[Edge] = []
    for edge in edges:
        if kept and _continues(kept[-1], edge):
            kept[-1] = Line(kept[-1].start, edge.end)
        else:
            kept.append(edge)
    if len(kept) > 1 and _continues(kept[-1], kept[0]):
        kept[0] = Line(kept[-1].start, kept[0].end)
        del kept[-1]
    return tuple(kept)


def _continues(one: Edge, other: Edge) -> bool:
    if isinstance(one, Arc) or isinstance(other, Arc):
        return False
    xs, ys = zip(one.start, one.end, other.end, strict=True)
    return max(xs) - min(xs) <= SAME or max(ys) - min(ys) <= SAME


def _plus(point: Point2, out: Point2, reach: float) -> Point2:
    return (point[0] + out[0] * reach, point[1] + out[1] * reach)
