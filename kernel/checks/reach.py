"""Can the bits make the cuts asked of them: long enough, and of the right kind?

In: the cuts of a plan. A cut's depth counts at the thickest delivered stock. Roundovers run along
an edge: their length says nothing about the bit, so only the kind is looked at.
"""

from __future__ import annotations

from collections.abc import Mapping

from .. import thresholds
from ..board import Axis
from ..cuts import Cut, Work
from ..cutter import Bit, BitKind
from ..finding import Finding
from ..plan import BoardPlan, CutPlan
from ..stock import Stock
from .findings import DeeperThanFlute, DeeperThanReach, WrongKindOfBit

NEEDED: Mapping[Work, tuple[BitKind, ...]] = {
    Work.POCKET: (BitKind.STRAIGHT,),
    Work.THROUGH: (BitKind.STRAIGHT,),
    Work.ROUND: (BitKind.ROUNDOVER,),
}


def reach_findings(plan: CutPlan) -> tuple[Finding, ...]:
    """For each joint, board and bit the deepest cut too deep for it; bits of a wrong kind."""
    bits = {bit.name: bit for bit in plan.design.bits}
    stocks = {stock.name: stock for stock in plan.design.stocks}
    deep: dict[tuple[str, str, str], tuple[Cut, float]] = {}
    wrong: dict[tuple[str, str], Cut] = {}
    for board in plan.boards:
        for cut in board.cuts:
            bit = bits.get(cut.bit)
            if bit is None:
                continue
            if bit.kind not in NEEDED[cut.work]:
                wrong.setdefault((cut.joint, cut.bit), cut)
            elif cut.work is not Work.ROUND:
                key = (cut.joint, cut.board, cut.bit)
                depth = cutting_depth(board, cut, stocks[board.board.stock])
                if key not in deep or depth > deep[key][1] + thresholds.SAME:
                    deep[key] = (cut, depth)
    too_deep = (_too_deep(bits[cut.bit], cut, depth) for cut, depth in deep.values())
    return (
        *(_wrong(bits[cut.bit], cut) for cut in wrong.values()),
        *(finding for finding in too_deep if finding is not None),
    )


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


def _wrong(bit: Bit, cut: Cut) -> Finding:
    return WrongKindOfBit(
        place=cut.place,
        joint=cut.joint,
        bit=bit.name,
        bit_place=bit.place,
        kind=bit.kind.value,
        needed=tuple(kind.value for kind in NEEDED[cut.work]),
    )
