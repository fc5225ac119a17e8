"""Where do cuts leave a floor so thin that it breaks?

Under every pocket: down to the far face, or to the floor of a pocket cut from there. Judged at the
thinnest delivered stock, but for the share of the thickness under a groove: there the drawing
counts. Least thicknesses and their reasons stand in `thresholds.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from .. import thresholds
from ..board import Axis
from ..cuts import Work
from ..region import Region, contains
from .findings import ThinPin, ThinSkin, ThinWood
from .thin import ALONG, Piece, Prism, spot, thin_facts

FLOORED = (Work.POCKET, Work.BORE)
"""Work that may leave a floor."""

MIDDLE_FIRST = tuple(sorted(ALONG, key=lambda share: abs(share - 0.5)))


def skins(piece: Piece) -> Iterator[ThinWood]:
    """The floors of a board that are too thin."""
    for prism in piece.prisms:
        if prism.cut.work in FLOORED:
            yield from _skin(piece, prism, None)
    for one, other in combinations(piece.prisms, 2):
        if one.cut.work in FLOORED and other.cut.side == one.cut.side.opposite:
            yield from _skin(piece, one, other)


def _skin(piece: Piece, prism: Prism, far: Prism | None) -> Iterator[ThinWood]:
    """The wood under one floor, down to the far face or to the floor of a cut made from there."""
    axis = prism.cut.side.axis
    if prism.cut.side.positive:
        floor, below = prism.low[axis], piece.low[axis] if far is None else far.high[axis]
    else:
        floor, below = prism.high[axis], piece.high[axis] if far is None else far.low[axis]
    drawn = abs(floor - below)
    missing = piece.missing if axis == piece.plan.run.thick else 0.0
    share = thresholds.GROOVE_FLOOR_SHARE * piece.thick if _is_groove(piece, prism) else 0.0
    own = far is not None and far.cut.joint == prism.cut.joint
    if far is not None:
        share = 0.0
    nominal = drawn < share - thresholds.SAME
    least = share if nominal else thresholds.LEAST_TONGUE
    left = drawn if nominal else drawn - missing
    if left >= least - thresholds.SAME or drawn <= thresholds.SAME:
        return
    flat = _wood_under(piece, prism, far, (floor + below) / 2)
    if flat is None:
        return
    sides = (spot({**flat, axis: floor}), spot({**flat, axis: below}))
    if own:
        yield ThinPin(**thin_facts(piece, (prism, None), left, least, missing, sides=sides))
        return
    yield ThinSkin(
        **thin_facts(piece, (prism, far), left, least, 0.0 if nominal else missing, sides=sides),
        depth=prism.high[axis] - prism.low[axis],
    )


def _is_groove(piece: Piece, prism: Prism) -> bool:
    """From a face, along more than half of the board, with wood on both sides."""
    if prism.cut.side.axis != piece.plan.run.thick:
        return False
    u, v = prism.cut.side.plane
    for along, across in ((u, v), (v, u)):
        share = (prism.high[along] - prism.low[along]) / (piece.high[along] - piece.low[along])
        if share > thresholds.GROOVE_RUN_SHARE and not prism.runs_out[across]:
            return True
    return False


def _wood_under(
    piece: Piece, prism: Prism, far: Prism | None, depth: float
) -> dict[Axis, float] | None:
    """Where on its face a floor has wood at a depth under it, as near its middle as may be."""
    u, v = prism.cut.side.plane
    spans = []
    for axis in (u, v):
        low, high = prism.low[axis], prism.high[axis]
        if far is not None:
            low, high = max(low, far.low[axis]), min(high, far.high[axis])
        if high - low <= thresholds.SAME:
            return None
        spans.append([low + share * (high - low) for share in MIDDLE_FIRST])
    for p in spans[0]:
        for q in spans[1]:
            flat = (p, q)
            cleared = contains(_floor(prism), flat) and (far is None or contains(_floor(far), flat))
            if cleared and piece.is_wood(spot({u: p, v: q, prism.cut.side.axis: depth})):
                return {u: p, v: q}
    return None


def _floor(prism: Prism) -> Region:
    return prism.cut.region if prism.cut.floor is None else prism.cut.floor
