"""Are the bits long enough for the cuts asked of them?

In: the cuts of a plan. A cut's depth counts at the thickest delivered stock. Roundovers and
chamfers run along an edge: their length asks nothing of the bit. Joints see to it that a bit is of
the right kind.
"""

from __future__ import annotations

from .. import thresholds
from ..board import Axis
from ..cuts import Cut
from ..cutter import Bit
from ..finding import Finding
from ..plan import BoardPlan, CutPlan
from ..stock import Stock
from .findings import DeeperThanFlute, DeeperThanReach


def reach_findings(plan: CutPlan) -> tuple[Finding, ...]:
    """For each joint, board and bit the deepest cut, where it is too deep for the bit."""
    bits = {bit.name: bit for bit in plan.design.bits}
    stocks = {stock.name: stock for stock in plan.design.stocks}
    deepest: dict[tuple[str, str, str], tuple[Cut, float]] = {}
    for board in plan.boards:
        for cut in board.cuts:
            if cut.work.runs_along or cut.bit not in bits:
                continue
            key = (cut.joint, cut.board, cut.bit)
            depth = cutting_depth(board, cut, stocks[board.board.stock])
            if key not in deepest or depth > deepest[key][1] + thresholds.SAME:
                deepest[key] = (cut, depth)
    told = (_too_deep(bits[cut.bit], cut, depth) for cut, depth in deepest.values())
    return tuple(finding for finding in told if finding is not None)


def cutting_depth(board: BoardPlan, cut: Cut, stock: Stock) -> float:
    """How deep below the blank's face the bit goes, mm, in the thickest delivered stock."""
    if cut.depth is not None:
        return cut.depth
    return float(blank_size(board, cut.side.axis, stock)[1])


def blank_size(board: BoardPlan, axis: Axis, stock: Stock) -> tuple[float, float]:
    """The (least, greatest) size of the blank along `axis`, mm, as delivered."""
    if axis == board.run.thick:
        return float(stock.actual[0]), float(stock.actual[1])
    size = float(board.board.box[axis].size)
    return size, size


def _too_deep(bit: Bit, cut: Cut, depth: float) -> Finding | None:
    """Beyond the reach the holder hits the wood: that comes before a flute too short."""
    flute = None if bit.flute is None else float(bit.flute)
    reach = flute if bit.reach is None else float(bit.reach)
    for kind, can in ((DeeperThanReach, reach), (DeeperThanFlute, flute)):
        stated = kind is DeeperThanFlute or bit.reach is not None
        if can is not None and stated and depth > can + thresholds.SAME:
            return kind(
                place=cut.place,
                joint=cut.joint,
                board=cut.board,
                bit=bit.name,
                bit_place=bit.place,
                depth=depth,
                can=can,
            )
    return None
