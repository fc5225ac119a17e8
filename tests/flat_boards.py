"""Boards with cuts made by hand, for tests of what lies flat: profiles, drawings, cut lists.

One board, `side`, runs z 0..520 (its length), y 0..240 and x 100..112 (its thickness), so that its
+x face looks down on (z, -y): nothing about it can be right by accident.
"""

from __future__ import annotations

from fractions import Fraction

from dryfit.kernel.board import Axis, Board, Box, Span, board_run
from dryfit.kernel.cuts import Cut, Side, Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Design
from dryfit.kernel.plan import BoardPlan, CutPlan
from dryfit.kernel.planar import as_cut
from dryfit.kernel.region import Region, disc, rectangle
from dryfit.kernel.stock import Stock

PLY = Stock(
    name="ply12",
    thick=Fraction(12),
    actual=(Fraction("11.6"), Fraction("12.2")),
    sheet=(Fraction(2440), Fraction(1220)),
    species="birch_ply",
)
B6 = Bit(name="b6", kind=BitKind.STRAIGHT, radius=Fraction(3), flute=Fraction(22))
R3 = Bit(name="r3", kind=BitKind.ROUNDOVER, radius=Fraction(3), by_hand=True)
BITS = {"b6": B6, "r3": R3}

PLUS_X, MINUS_X = Side(Axis.X, True), Side(Axis.X, False)


def box(*spans: tuple[int, int]) -> Box:
    x, y, z = (Span(Fraction(lo), Fraction(hi)) for lo, hi in spans)
    return Box(x, y, z)


SIDE_BOX = box((100, 112), (0, 240), (0, 520))


def cut(
    side: Side,
    region: Region,
    depth: float | None,
    *,
    joint: str = "j",
    board: str = "side",
    work: Work | None = None,
    bit: str = "b6",
    by_hand: bool = False,
) -> Cut:
    return Cut(
        board=board,
        side=side,
        work=work or (Work.THROUGH if depth is None else Work.POCKET),
        region=region,
        asked=region,
        depth=depth,
        bit=bit,
        by_hand=by_hand,
        joint=joint,
    )


def routed(asked: Region, blank: tuple[float, float, float, float]) -> Region:
    """What a 6 mm bit clears of it."""
    return as_cut(asked, blank, 3.0)


def plan_of(*cuts: Cut, space: Box = SIDE_BOX, name: str = "side") -> BoardPlan:
    board = Board(name=name, stock=PLY.name, box=space)
    run = board_run(board, PLY)
    assert run is not None
    return BoardPlan(board=board, run=run, cuts=cuts)


def whole(*boards: BoardPlan) -> CutPlan:
    design = Design(
        name="seed tray", stocks=(PLY,), bits=(B6, R3), boards=tuple(b.board for b in boards)
    )
    return CutPlan(design=design, boards=boards, joints=())


def busy_side(name: str = "side") -> BoardPlan:
    """Box joint pins at both ends, a groove and a stopped dado on +x, a round opening, pockets on
    -x, a mortise in an edge and roundovers by hand."""
    blank = (0.0, 0.0, 240.0, 520.0)
    pin = 240 / 7
    cuts = [
        cut(MINUS_X, routed(rectangle(low, 508, high, 521), blank), None, joint="side-top")
        for low, high in ((-1, pin), (2 * pin, 3 * pin), (4 * pin, 5 * pin), (6 * pin, 241))
    ]
    cuts += [
        cut(MINUS_X, routed(rectangle(i * pin, -1, (i + 1) * pin, 12), blank), None, joint="foot")
        for i in (1, 3, 5)
    ]
    groove = routed(rectangle(224, -1, 230.2, 521), blank)
    dado = routed(rectangle(-1, 200, 180, 212.2), blank)
    pull = routed(rectangle(60, 300, 100, 350), blank)
    cuts += [
        cut(PLUS_X, groove, 5.0, joint="side-back"),
        cut(PLUS_X, dado, 4.0, joint="side-shelf"),
        cut(MINUS_X, pull, 6.35, joint="pull"),
        cut(MINUS_X, disc((40, 100), 10), 3.0, joint="plug"),
        cut(MINUS_X, disc((200, 450), 20), None, joint="vent"),
        cut(Side(Axis.Y, False), rectangle(250, 103, 300, 109), 15.0, joint="rail"),
    ]
    cuts += [
        cut(
            Side(Axis.Z, True),
            rectangle(100, i * pin, 103, i * pin + 3),
            12.0,
            joint="side-top",
            work=Work.ROUND,
            bit="r3",
            by_hand=True,
        )
        for i in (1, 2, 3, 4)
    ]
    return plan_of(*(c for c in cuts), name=name)
