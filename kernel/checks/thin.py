"""What are thin walls and skins judged on? A board with the room each of its cuts clears.

Boxes of cuts are clipped to the blank; points are tried against the flat regions themselves. No
solids are made.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias, TypedDict

import numpy as np

from .. import thresholds
from ..board import Axis, Move
from ..cuts import Cut
from ..ends import Ends
from ..finding import Place
from ..frames import pose_matrix
from ..plan import BoardPlan
from ..region import Region, area, contains
from ..shadows import vector
from ..solids import depth_range
from ..stock import Stock

Spot: TypeAlias = tuple[float, ...]
"""Three coordinates in the board's own frame, mm."""

ALONG = tuple((i + 0.5) / 9 for i in range(9))
"""Where along a wall or a floor wood is looked for, as shares of its length."""


@dataclass(frozen=True, slots=True)
class Prism:
    """The room a cut clears: its box clipped to the blank, `low` and `high` by axis."""

    cut: Cut
    low: Spot
    high: Spot
    runs_out: tuple[bool, ...]

    def holds(self, point: Spot) -> bool:
        """True when the cut clears this point."""
        if any(not lo <= x <= hi for lo, x, hi in zip(self.low, point, self.high, strict=True)):
            return False
        u, v = self.cut.side.plane
        return contains(self.cut.section(self.below(point)), (point[u], point[v]))

    def below(self, point: Spot) -> float:
        """How deep a point lies under the face the cut is made from; to do with slanting walls
        alone, so that the face may be taken where the clipped box ends."""
        axis = self.cut.side.axis
        if self.cut.side.positive:
            return self.high[axis] - point[axis]
        return point[axis] - self.low[axis]

    @property
    def outline(self) -> Region:
        """The cut where it is widest, at its mouth or at its floor."""
        floor = self.cut.floor
        if floor is None or area(floor) < area(self.cut.region):
            return self.cut.region
        return floor


@dataclass(frozen=True, slots=True)
class Piece:
    """A board with what its walls are judged by."""

    plan: BoardPlan
    stock: Stock
    prisms: tuple[Prism, ...]
    low: Spot
    high: Spot

    @property
    def thick(self) -> float:
        return float(self.stock.thick)

    @property
    def missing(self) -> float:
        """How much thinner than drawn the stock may come."""
        return float(self.stock.thick - self.stock.actual[0])

    def is_wood(self, point: Spot) -> bool:
        return not any(prism.holds(point) for prism in self.prisms)


class ThinFacts(TypedDict):
    """What every finding about thin wood states."""

    place: Place | None
    board: str
    board_place: Place | None
    joint: str
    beside: str | None
    left: float
    least: float
    thick: float | None
    ends: Ends


def thin_facts(
    piece: Piece,
    cuts: tuple[Prism, Prism | None],
    left: float,
    least: float,
    missing: float = 0.0,
    *,
    sides: tuple[Spot, Spot],
) -> ThinFacts:
    """`cuts` are the one to blame and the one beside it; `missing` is how much of the stock's
    thickness the figure `left` already lacks; `sides` are places straight across from each other
    on the faces that bound the wood."""
    prism, beside = cuts
    return ThinFacts(
        place=prism.cut.place,
        board=piece.plan.board.name,
        board_place=piece.plan.board.place,
        joint=prism.cut.joint,
        beside=None if beside is None else beside.cut.joint,
        left=left,
        least=least,
        thick=float(piece.stock.actual[0]) if missing else None,
        ends=_ends(piece.plan.board.pose, sides),
    )


def _ends(pose: tuple[Move, ...], sides: tuple[Spot, Spot]) -> Ends:
    """The same two places in the finished piece."""
    matrix = pose_matrix(pose)
    one, other = (matrix[:3, :3] @ np.array(side) + matrix[:3, 3] for side in sides)
    return Ends(vector(one), vector(other), vector((other - one) / np.linalg.norm(other - one)))


def spot(by_axis: dict[Axis, float]) -> Spot:
    return tuple(by_axis[axis] for axis in Axis)


def piece_of(board: BoardPlan, stock: Stock) -> Piece:
    box = board.board.box
    low = tuple(float(box[a].lo) for a in Axis)
    high = tuple(float(box[a].hi) for a in Axis)
    prisms = tuple(
        prism_of(board, cut, low, high)
        for cut in board.cuts
        if not cut.work.runs_along and not cut.region.is_empty
    )
    return Piece(board, stock, prisms, low, high)


def prism_of(board: BoardPlan, cut: Cut, low: Spot, high: Spot) -> Prism:
    u, v = cut.side.plane
    u0, v0, u1, v1 = cut.extent
    begin, end = depth_range(board.board, cut)
    first, last = [0.0] * 3, [0.0] * 3
    for axis, lo, hi in ((u, u0, u1), (v, v0, v1), (cut.side.axis, begin, end)):
        first[axis], last[axis] = lo, hi
    out = tuple(
        first[a] <= low[a] + thresholds.SAME or last[a] >= high[a] - thresholds.SAME for a in Axis
    )
    return Prism(
        cut,
        tuple(max(p, q) for p, q in zip(first, low, strict=True)),
        tuple(min(p, q) for p, q in zip(last, high, strict=True)),
        out,
    )
