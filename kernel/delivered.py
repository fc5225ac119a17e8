"""What becomes of a plan when the stock comes thicker or thinner than drawn?

The cuts stay as they are programmed; the blanks change. A depth is measured from the face on its
cut's side, so a floor moves with that face, and what is cut from a board's edges or ends stays
where it is drawn.

Which face of a board stays is a matter of how it is put together: the face that pockets are cut
from is the one its mates lie in, so that one stays and the other moves. A board with pockets in
both faces or in neither keeps its middle, as a part does that is centred in its socket.

A thicker board holds all of a thinner one, face by face and floor by floor. So parts that go
together at the thickest delivery of every stock do so at every other, and nothing in between needs
to be tried.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from .board import Board, Box, Span
from .cuts import Side, Work
from .plan import BoardPlan, CutPlan


def thickest(plan: CutPlan) -> dict[str, Fraction]:
    """The greatest delivered thickness of each stock, mm."""
    return {stock.name: stock.actual[1] for stock in plan.design.stocks}


def delivered(plan: CutPlan, thickness: Mapping[str, Fraction]) -> CutPlan:
    """The plan on blanks of these thicknesses by stock, mm; stocks not named stay as drawn.

    The thicknesses are above 0, as those of every sound stock. Cuts, joints and the design itself
    are those of the plan.
    """
    boards = tuple(
        _resized(one, thickness[one.board.stock]) if one.board.stock in thickness else one
        for one in plan.boards
    )
    return replace(plan, boards=boards)


def _resized(plan: BoardPlan, thick: Fraction) -> BoardPlan:
    axis = plan.run.thick
    span = plan.board.box[axis]
    more = thick - span.size
    if more == 0:
        return plan
    pocketed = {cut.side for cut in plan.cuts if cut.work in (Work.POCKET, Work.BORE)}
    low, high = (Side(axis, positive) in pocketed for positive in (False, True))
    at_low = Fraction(0) if low and not high else more if high and not low else more / 2
    return replace(
        plan, board=_with_span(plan.board, axis, Span(span.lo - at_low, span.hi + more - at_low))
    )


def _with_span(board: Board, axis: int, span: Span) -> Board:
    spans = [board.box.x, board.box.y, board.box.z]
    spans[axis] = span
    return replace(board, box=Box(spans[0], spans[1], spans[2]))
