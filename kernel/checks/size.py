"""Is every blank small enough for its sheet or lumber, and for a machine that is there?

In: a plan. Blanks are taken as drawn along length and width and at the thickest delivered stock.
"""

from __future__ import annotations

from .. import thresholds
from ..cutter import Machine
from ..finding import Finding
from ..plan import BoardPlan, CutPlan
from ..stock import Stock
from .findings import BeyondTravel, LargerThanLumber, LargerThanSheet, TravelShort
from .reach import blank_size


def size_findings(plan: CutPlan) -> tuple[Finding, ...]:
    """Blanks larger than what they are cut from, and blanks no declared machine can hold."""
    stocks = {stock.name: stock for stock in plan.design.stocks}
    findings: list[Finding | None] = []
    for board in plan.boards:
        stock = stocks[board.board.stock]
        findings.append(_sheet(board, stock) or _lumber(board, stock))
        findings.append(_travel(board, stock, plan.design.machines))
    return tuple(finding for finding in findings if finding is not None)


def _flat_size(board: BoardPlan) -> tuple[float, float]:
    box = board.board.box
    return float(box[board.run.length].size), float(box[board.run.width].size)


def _fits(length: float, width: float, room: tuple[float, float]) -> bool:
    return length <= room[0] + thresholds.SAME and width <= room[1] + thresholds.SAME


def _sheet(board: BoardPlan, stock: Stock) -> Finding | None:
    """The board's grain lies along the sheet's. Where no grain was written and the board does not
    fit so, it may lie across."""
    if stock.sheet is None:
        return None
    length, width = _flat_size(board)
    sheet = (float(stock.sheet[0]), float(stock.sheet[1]))
    across = _fits(width, length, sheet)
    if _fits(length, width, sheet) or (across and board.board.grain is None):
        return None
    return LargerThanSheet(
        place=board.board.place,
        board=board.board.name,
        stock=stock.name,
        stock_place=stock.place,
        length=length,
        width=width,
        sheet_length=sheet[0],
        sheet_width=sheet[1],
        fits_across=across,
    )


def _lumber(board: BoardPlan, stock: Stock) -> Finding | None:
    length, width = _flat_size(board)
    longest = None if stock.longest is None else float(stock.longest)
    widest = None if stock.widest is None else float(stock.widest)
    too_long = longest is not None and length > longest + thresholds.SAME
    too_wide = widest is not None and width > widest + thresholds.SAME
    if not (too_long or too_wide):
        return None
    return LargerThanLumber(
        place=board.board.place,
        board=board.board.name,
        stock=stock.name,
        stock_place=stock.place,
        length=length,
        width=width,
        longest=longest if too_long else None,
        widest=widest if too_wide else None,
    )


def _travel(board: BoardPlan, stock: Stock, machines: tuple[Machine, ...]) -> Finding | None:
    """A blank lies flat on the bed, either way round. Along z the bit goes down through the whole
    thickness, since the outline is cut through, and must lift clear of the face."""
    short = tuple(travel_short(board, stock, machine) for machine in machines)
    if not machines or not all(machine.short for machine in short):
        return None
    length, width = _flat_size(board)
    return BeyondTravel(
        place=board.board.place,
        board=board.board.name,
        length=length,
        width=width,
        thick=blank_size(board, board.run.thick, stock)[1],
        lift=thresholds.SAFE_LIFT,
        machines=short,
    )


def travel_short(board: BoardPlan, stock: Stock, machine: Machine) -> TravelShort:
    """The axes along which a machine falls short of a board's thickest blank, lying the way it
    misses least; none where the machine can make it."""
    length, width = _flat_size(board)
    thick = blank_size(board, board.run.thick, stock)[1]
    x, y, z = (float(travel) for travel in machine.travel)
    flat = min(
        (_missing(x, y, length, width), _missing(x, y, width, length)),
        key=lambda missing: sum(needed - has for _, needed, has in missing),
    )
    needed = thick + thresholds.SAFE_LIFT
    deep = (("z", needed, z),) if needed > z + thresholds.SAME else ()
    return TravelShort(machine.name, machine.place, (*flat, *deep))


def _missing(
    x: float, y: float, along_x: float, along_y: float
) -> tuple[tuple[str, float, float], ...]:
    asked = (("x", along_x, x), ("y", along_y, y))
    return tuple(a for a in asked if a[1] > a[2] + thresholds.SAME)
