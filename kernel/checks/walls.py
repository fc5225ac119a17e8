"""Where do the cuts leave wood so thin that it breaks?

In: a plan. Out: warnings, at most one for each board, joint and neighbour, the thinnest. Worked out
from the cuts' flat regions and depths: straight sides that face each other across wood (walls and
pins), round holes and arches where they come nearest, pockets that near each other inside, and
floors (`skins.py`).

Least thicknesses and their reasons stand in `thresholds.py`. Judged at the thinnest delivered
stock.
"""

from __future__ import annotations

import operator
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import reduce
from itertools import combinations
from typing import Any

import numpy as np

from .. import thresholds
from ..board import Axis
from ..cuts import Work
from ..finding import Finding
from ..kept import Kept, Table
from ..plan import BoardPlan, CutPlan
from ..region import Arc, Line, Region, bounds
from ..stock import Stock
from .findings import ThinPin, ThinWall, ThinWood
from .skins import FLOORED, skins
from .thin import ALONG, Piece, Prism, Spot, piece_of, spot, thin_facts

INSIDE = (0.1, 0.5, 0.9)
"""Where between two sides wood is looked for; a cut is wider than the steps between."""

LIPPED = ("tongue", "tongued_corner")
"""Families that tell of thin lips beside their grooves themselves."""


@dataclass(frozen=True, slots=True)
class Flank:
    """A straight side of a cut, or of the blank (`prism` None), square to the axis `normal`.

    Wood lies on the side `wood` (1 or -1) of `at`; `low..high` along the other axis of the plane.
    """

    prism: Prism | None
    plane: Axis
    normal: Axis
    along: Axis
    at: float
    wood: int
    low: float
    high: float
    bottom: float
    top: float


def wall_findings(plan: CutPlan, kept: Kept | None = None) -> tuple[Finding, ...]:
    """The thin wood of every board, in the order of the boards and their cuts; a board alike one
    that is known to have none is passed over."""
    stocks = {stock.name: stock for stock in plan.design.stocks}
    lips = frozenset(joint.name for joint in plan.joints if joint.join.family in LIPPED)
    sound: Table[tuple[Any, ...], None] = (kept or Kept()).table("boards without thin wood", 0)
    found: list[Finding] = []
    for board in plan.boards:
        stock = stocks[board.board.stock]
        key = _judged_by(board, stock, lips)
        if key not in sound:
            thin = _thin_wood(piece_of(board, stock), lips)
            found += thin
            if not thin:
                sound[key] = None
    return tuple(found)


def _judged_by(board: BoardPlan, stock: Stock, lips: frozenset[str]) -> tuple[Any, ...]:
    """All that decides whether a board has thin wood: no names but which cuts are of one joint."""
    number = {name: str(i) for i, name in enumerate(dict.fromkeys(c.joint for c in board.cuts))}
    return (
        replace(board.board, name="", pose=(), place=None),
        board.run,
        replace(stock, place=None),
        tuple(
            replace(cut, board="", joint=number[cut.joint], mate=None, place=None)
            for cut in board.cuts
        ),
        tuple(name in lips for name in number),
    )


def _thin_wood(piece: Piece, lips: frozenset[str]) -> tuple[ThinWood, ...]:
    least: dict[tuple[str, str, str | None], ThinWood] = {}
    for thin in (*skins(piece), *_walls(piece), *_between_sides(piece)):
        if thin.joint in lips and _is_lip(thin):
            continue
        key = (thin.code, thin.joint, thin.beside)
        if key not in least or thin.left < least[key].left - thresholds.SAME:
            least[key] = thin
    return tuple(least.values())


def _is_lip(thin: ThinWood) -> bool:
    """Wood between a groove across the grain and the board's end; a tongue tells of its own by the
    rule for such lips."""
    return isinstance(thin, ThinWall) and thin.across_grain and thin.beside is None


def _walls(piece: Piece) -> Iterator[ThinWood]:
    limit = max(thresholds.LEAST_WALL, thresholds.EDGE_WALL_SHARE * piece.thick) + piece.missing
    flanks = [flank for prism in piece.prisms for flank in (*_flanks(prism), *_rounds(prism))]
    for plane in sorted({prism.cut.side.axis for prism in piece.prisms}):
        here = [f for f in flanks if f.plane == plane] + _blank_flanks(piece, plane)
        for one, other in _facing(here, limit):
            yield from _wall(piece, one, other)


def _flanks(prism: Prism) -> Iterator[Flank]:
    """The straight sides of a cut that run square to the board's axes, with wood outside."""
    axis = prism.cut.side.axis
    u, v = prism.cut.side.plane
    for loop in prism.outline.loops:
        for edge in loop:
            if not isinstance(edge, Line):
                continue
            du, dv = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
            # The region lies left of the edge, so wood lies right: at (dv, -du).
            if abs(du) <= thresholds.SAME:
                at, wood, normal, along = edge.start[0], 1 if dv > 0 else -1, u, v
            elif abs(dv) <= thresholds.SAME:
                at, wood, normal, along = edge.start[1], -1 if du > 0 else 1, v, u
            else:
                continue
            index = 1 if along == v else 0
            low, high = sorted((edge.start[index], edge.end[index]))
            low, high = max(low, prism.low[along]), min(high, prism.high[along])
            yield Flank(
                prism, axis, normal, along, at, wood, low, high, prism.low[axis], prism.high[axis]
            )


def _rounds(prism: Prism) -> Iterator[Flank]:
    """Where a round side comes nearest, as wide as the hole or the arch: a flank in each direction.

    Joints have none: their arcs are fillets, which thicken a wall, and reliefs, which thin it over
    less than the length that matters.
    """
    if prism.cut.of_joint:
        return
    axis = prism.cut.side.axis
    u, v = prism.cut.side.plane
    arcs = [e for loop in prism.outline.loops for e in loop if isinstance(e, Arc) and e.ccw]
    found = dict.fromkeys(
        (normal, along, arc.centre[i] + wood * arc.radius, wood, arc.centre[1 - i], arc.radius)
        for arc in arcs
        for i, normal, along in ((0, u, v), (1, v, u))
        for wood in (-1, 1)
        if _reaches(arc, i, wood)
    )
    for normal, along, at, wood, middle, radius in found:
        low = max(middle - radius, prism.low[along])
        high = min(middle + radius, prism.high[along])
        yield Flank(
            prism, axis, normal, along, at, wood, low, high, prism.low[axis], prism.high[axis]
        )


def _reaches(arc: Arc, index: int, wood: int) -> bool:
    """Whether an arc comes to the point of its circle farthest along u (0) or v (1)."""
    bound = bounds(Region(((arc,),)))[index + (2 if wood > 0 else 0)]
    return abs(bound - (arc.centre[index] + wood * arc.radius)) <= thresholds.SAME


def _blank_flanks(piece: Piece, plane: Axis) -> list[Flank]:
    u, v = Axis((plane + 1) % 3), Axis((plane + 2) % 3)
    return [
        Flank(
            None,
            plane,
            normal,
            along,
            at,
            wood,
            piece.low[along],
            piece.high[along],
            piece.low[plane],
            piece.high[plane],
        )
        for normal, along in ((u, v), (v, u))
        for at, wood in ((piece.low[normal], 1), (piece.high[normal], -1))
    ]


def _facing(flanks: list[Flank], limit: float) -> Iterator[tuple[Flank, Flank]]:
    """Pairs with wood between them along a common normal, nearer than `limit`, all at once."""
    at = np.array([f.at for f in flanks])
    normal = np.array([f.normal for f in flanks])
    wood = np.array([f.wood for f in flanks])
    low, high = np.array([f.low for f in flanks]), np.array([f.high for f in flanks])
    bottom, top = np.array([f.bottom for f in flanks]), np.array([f.top for f in flanks])
    blank = np.array([f.prism is None for f in flanks])
    gap = at[None, :] - at[:, None]
    tests = (
        normal[:, None] == normal[None, :],
        (wood[:, None] == 1) & (wood[None, :] == -1),
        (gap > thresholds.SAME) & (gap < limit),
        np.minimum.outer(high, high) - np.maximum.outer(low, low) > thresholds.SAME,
        np.minimum.outer(top, top) - np.maximum.outer(bottom, bottom) > thresholds.SAME,
        ~(blank[:, None] & blank[None, :]),
    )
    for i, j in np.argwhere(reduce(operator.and_, tests)):
        yield flanks[i], flanks[j]


def _wall(piece: Piece, one: Flank, other: Flank) -> Iterator[ThinWood]:
    low, high = max(one.low, other.low), min(one.high, other.high)
    bottom, top = max(one.bottom, other.bottom), min(one.top, other.top)
    depth = (bottom + top) / 2
    wood = _where_wood(piece, one, other, (low, high), depth)
    length = (high - low) * len(wood) / len(ALONG)
    if length <= thresholds.SAME:
        return
    prism, beside = (one.prism, other.prism) if one.prism else (other.prism, None)
    if prism is None:
        return
    thick = piece.plan.run.thick
    missing = piece.missing if one.normal == thick and beside is None else 0.0
    left = other.at - one.at - missing
    if _is_pin(prism, beside):
        if left < thresholds.LEAST_TONGUE - thresholds.SAME:
            sides, tongue = _sides(one, other, wood, depth), thresholds.LEAST_TONGUE
            yield ThinPin(**thin_facts(piece, (prism, None), left, tongue, missing, sides=sides))
        return
    share = thresholds.EDGE_WALL_SHARE * (piece.thick - missing)
    full = share if one.normal == thick else thresholds.LEAST_WALL
    least = min(full, length / 2, top - bottom)
    if left < least - thresholds.SAME:
        sides = _sides(one, other, wood, depth)
        yield ThinWall(
            **thin_facts(piece, (prism, beside), left, least, missing, sides=sides),
            along=one.along,
            across_grain=one.normal == piece.plan.run.length,
            length=length,
            height=top - bottom,
        )


def _is_pin(prism: Prism, beside: Prism | None) -> bool:
    """Wood that a joint means to leave: between two of its own cuts, or between an edge and a
    notch right through that runs out of the board (the first and last pin)."""
    if not prism.cut.of_joint:
        return False
    if beside is not None:
        return prism.cut.joint == beside.cut.joint
    u, v = prism.cut.side.plane
    return prism.cut.work is Work.THROUGH and (prism.runs_out[u] or prism.runs_out[v])


def _where_wood(
    piece: Piece, one: Flank, other: Flank, run: tuple[float, float], depth: float
) -> list[float]:
    """Where along the wall no other cut has taken its wood."""
    places = (run[0] + share * (run[1] - run[0]) for share in ALONG)
    return [
        where
        for where in places
        if all(piece.is_wood(_across(one, other, step, where, depth)) for step in INSIDE)
    ]


def _sides(one: Flank, other: Flank, wood: list[float], depth: float) -> tuple[Spot, Spot]:
    """Across a wall, in the middle of where it has wood."""
    where = wood[len(wood) // 2]
    return _across(one, other, 0.0, where, depth), _across(one, other, 1.0, where, depth)


def _across(one: Flank, other: Flank, step: float, where: float, depth: float) -> Spot:
    """A place in a wall: so far along it and below its face, a share of its way through."""
    through = one.at + step * (other.at - one.at)
    return spot({one.normal: through, one.along: where, one.plane: depth})


def _between_sides(piece: Piece) -> Iterator[ThinWood]:
    """Pockets that near each other inside the board, such as two mortises in a leg."""
    pockets = [p for p in piece.prisms if p.cut.work in FLOORED and len(p.cut.region.loops) == 1]
    for one, other in combinations(pockets, 2):
        if one.cut.side.axis == other.cut.side.axis:
            continue
        gaps = [max(one.low[a], other.low[a]) - min(one.high[a], other.high[a]) for a in Axis]
        apart = [a for a in Axis if gaps[a] > thresholds.SAME]
        if (
            len(apart) != 1
            or max(g for a, g in enumerate(gaps) if a != apart[0]) > -thresholds.SAME
        ):
            continue
        left, axis = gaps[apart[0]], apart[0]
        if left >= thresholds.LEAST_TONGUE - thresholds.SAME:
            continue
        middle = [
            (max(one.low[a], other.low[a]) + min(one.high[a], other.high[a])) / 2 for a in Axis
        ]
        if piece.is_wood(tuple(middle)):
            rest = [-gaps[a] for a in Axis if a != axis]
            half = left / 2
            sides = (
                spot({a: middle[a] - (half if a == axis else 0.0) for a in Axis}),
                spot({a: middle[a] + (half if a == axis else 0.0) for a in Axis}),
            )
            yield ThinWall(
                **thin_facts(piece, (one, other), left, thresholds.LEAST_TONGUE, sides=sides),
                along=piece.plan.run.length,
                across_grain=axis == piece.plan.run.length,
                length=max(rest),
                height=min(rest),
            )
