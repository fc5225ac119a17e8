"""How does the play of a joint change when stock, bits and setups are not as drawn?

In: the walls that stop a part in its mate (`walls.py`), told by the cuts that made them. Out: each
gap as a straight line in what may stray, so that the worst over any ranges is exact.

What may stray:
- the delivered thickness of a stock, alike for all boards of it. The cuts stay as programmed, the
  blank changes as in `delivered.py`;
- the diameter of a bit, alike for all that it cuts: on a wider bit every wall beside it moves into
  the wood by half the difference, floors stay;
- where a blank lies on the machine, for each side it is cut from and along each axis: all cuts of
  that setup move together, floors with the height the bit was set to. Hand work follows the edge.

Blanks are taken as cut to their length and width.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import product

import numpy as np

from .board import Axis
from .cuts import Cut, Side, Work
from .frames import pose_matrix
from .plan import BoardPlan, CutPlan
from .shadows import Vector
from .walls import WallPair


class Kind(Enum):
    THICKNESS = "thickness"
    BIT = "bit"
    PLACE = "place"


@dataclass(frozen=True, slots=True)
class Source:
    """One thing that may stray: a stock's thickness or a bit's diameter by its name, or the place
    of the board `name` along `axis` while it is cut from `side`."""

    kind: Kind
    name: str
    side: Side | None = None
    axis: Axis | None = None

    @property
    def order(self) -> tuple[str, str, str, int]:
        """Sources sort by it."""
        return self.kind.value, self.name, str(self.side), -1 if self.axis is None else self.axis


@dataclass(frozen=True, slots=True)
class Tolerances:
    """How far bits and setups may be off, either way, mm: a bit's diameter, a blank's place."""

    bit: float = 0.0
    placement: float = 0.0


@dataclass(frozen=True, slots=True)
class Gap:
    """A figure, mm, as drawn and how much it grows with each source, mm per mm."""

    drawn: float
    slopes: tuple[tuple[Source, float], ...] = ()

    def at(self, strays: Mapping[Source, float]) -> float:
        """The figure when each source strays by so many mm; those not named do not."""
        return self.drawn + sum(slope * strays.get(source, 0.0) for source, slope in self.slopes)

    def plus(self, other: Gap) -> Gap:
        return gap_of(self.drawn + other.drawn, (*self.slopes, *other.slopes))

    def minus(self, other: Gap) -> Gap:
        less = ((source, -slope) for source, slope in other.slopes)
        return gap_of(self.drawn - other.drawn, (*self.slopes, *less))


def gap_of(drawn: float, slopes: Iterable[tuple[Source, float]]) -> Gap:
    """A figure with the slopes of like sources added up."""
    total: dict[Source, float] = {}
    for source, slope in slopes:
        total[source] = total.get(source, 0.0) + slope
    kept = [(source, slope) for source, slope in total.items() if abs(slope) > 1e-12]
    return Gap(drawn, tuple(sorted(kept, key=lambda each: each[0].order)))


# ---- from walls to slopes ------------------------------------------------------------------------


def wall_gap(plan: CutPlan, part: int, mate: int, pair: WallPair, direction: Vector) -> Gap:
    """The gap between two walls square to `direction`, a part's and the mate's ahead of it."""
    back = (-direction[0], -direction[1], -direction[2])
    one = wall_moves(plan.boards[part], pair.part_cut, direction)
    other = wall_moves(plan.boards[mate], pair.mate_cut, back)
    return gap_of(pair.gap, ((source, -slope) for source, slope in (*one, *other)))


def wall_moves(board: BoardPlan, cut: int, outward: Vector) -> tuple[tuple[Source, float], ...]:
    """How far a wall moves outward, out of the wood, for each mm that a source strays.

    `outward` is the wall's normal in the finished piece, `cut` what made it, -1 for the blank.
    """
    own = pose_matrix(board.board.pose)[:3, :3].T @ np.array(outward)
    axis = Axis(int(np.argmax(np.abs(own))))
    positive = bool(own[axis] > 0)
    sign = 1.0 if positive else -1.0
    if cut < 0:
        return _face_moves(board, Side(axis, positive))
    made = board.cuts[cut]
    place = Source(Kind.PLACE, board.board.name, made.side, axis)
    setup = () if made.by_hand else ((place, sign),)
    if axis is made.side.axis:
        faces = _face_moves(board, made.side)
        same = 1.0 if made.side.positive == positive else -1.0
        return (*((source, same * slope) for source, slope in faces), *setup)
    return ((Source(Kind.BIT, made.bit), -0.5), *setup)


def _face_moves(board: BoardPlan, side: Side) -> tuple[tuple[Source, float], ...]:
    """How far a side of the blank moves outward as the stock comes thicker; see `delivered.py`."""
    if side.axis is not board.run.thick:
        return ()
    pocketed = {cut.side for cut in board.cuts if cut.work in (Work.POCKET, Work.BORE)}
    here, there = side in pocketed, side.opposite in pocketed
    share = 0.5 if here == there else 0.0 if here else 1.0
    return ((Source(Kind.THICKNESS, board.board.stock), share),)


def leaning_gap(
    drawn: float, cuts: Sequence[Cut], follows: str | None, socket_follows: str | None
) -> Gap:
    """The play between walls that lean, from what the joint says of itself: each side made by a bit
    grows with it, a part as thick as its stock fills the play, a socket as thick widens it."""
    bits = {(cut.board, cut.bit): None for cut in cuts}
    slopes = [(Source(Kind.BIT, bit), 1.0) for _, bit in bits]
    if follows is not None:
        slopes.append((Source(Kind.THICKNESS, follows), -1.0))
    if socket_follows is not None:
        slopes.append((Source(Kind.THICKNESS, socket_follows), 1.0))
    return gap_of(drawn, slopes)


# ---- the worst -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Sum:
    """A play: the least of the gaps ahead and the least of those behind, together."""

    ahead: tuple[Gap, ...]
    behind: tuple[Gap, ...]

    @property
    def drawn(self) -> float:
        return self.at({})

    @property
    def pairs(self) -> tuple[Gap, ...]:
        """The sum of each gap ahead and each behind: the play is the least of these."""
        return tuple(a.plus(b) for a, b in product(self.ahead, self.behind))

    def at(self, strays: Mapping[Source, float]) -> float:
        return min(gap.at(strays) for gap in self.ahead) + min(
            gap.at(strays) for gap in self.behind
        )

    @property
    def sources(self) -> tuple[Source, ...]:
        """All that the play depends on."""
        found = {source: None for gap in (*self.ahead, *self.behind) for source, _ in gap.slopes}
        return tuple(sorted(found, key=lambda source: source.order))


@dataclass(frozen=True, slots=True)
class Ranges:
    """How far each source may stray, mm."""

    stocks: Mapping[str, tuple[float, float]]
    tolerances: Tolerances

    def of(self, source: Source) -> tuple[float, float]:
        if source.kind is Kind.THICKNESS:
            return self.stocks.get(source.name, (0.0, 0.0))
        off = self.tolerances.bit if source.kind is Kind.BIT else self.tolerances.placement
        return -off, off


def ranges_of(plan: CutPlan, tolerances: Tolerances) -> Ranges:
    """The delivered thicknesses of a plan's stocks, and what bits and setups may be off."""
    stocks = {
        stock.name: (float(stock.actual[0] - stock.thick), float(stock.actual[1] - stock.thick))
        for stock in plan.design.stocks
    }
    return Ranges(stocks, tolerances)


@dataclass(frozen=True, slots=True)
class Worst:
    """The least and the most that a play comes to, and what strays how far at the least."""

    least: float
    most: float
    corner: tuple[tuple[Source, float], ...]


def worst(play: Sum, ranges: Ranges) -> Worst:
    """The least and the most of a play over all that may stray.

    A play is the least of straight lines, so its least lies at a corner of the ranges and is exact.
    `most` is the least of what each pair of walls allows alone: exact where one pair of walls
    decides, and never too small.
    """
    least, corner = min(
        (_extreme(pair, ranges, -1.0) for pair in play.pairs), key=lambda found: found[0]
    )
    most = min(_extreme(pair, ranges, 1.0)[0] for pair in play.pairs)
    return Worst(least, most, corner)


def _extreme(
    gap: Gap, ranges: Ranges, sense: float
) -> tuple[float, tuple[tuple[Source, float], ...]]:
    """The greatest (sense 1) or least (-1) of a straight line, and the corner it lies at."""
    strays = []
    for source, slope in gap.slopes:
        low, high = ranges.of(source)
        far = high if slope * sense > 0 else low
        if far:
            strays.append((source, far))
    return gap.at(dict(strays)), tuple(strays)
