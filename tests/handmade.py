"""Cut plans made by hand, without the language and without joints: what tests of exports share."""

from fractions import Fraction

from dryfit.kernel.board import Axis, Board, Box, Move, Shift, Span, Turn, board_run
from dryfit.kernel.cuts import Cut, Side, Work
from dryfit.kernel.design import Design
from dryfit.kernel.finding import Place
from dryfit.kernel.plan import BoardPlan, CutPlan
from dryfit.kernel.region import Region, disc, rectangle
from dryfit.kernel.stock import Stock

F = Fraction
Range = tuple[float, float]

PLY = Stock(
    name="ply12", thick=F(12), actual=(F(12), F(12)), sheet=(F(2440), F(1220)), species="birch"
)
OAK = Stock(name="oak20", thick=F(20), actual=(F(20), F(20)), widest=F(200), species="oak")


def span(values: Range) -> Span:
    return Span(F(values[0]), F(values[1]))


def board_plan(
    name: str,
    stock: Stock,
    spans: tuple[Range, Range, Range],
    cuts: tuple[Cut, ...] = (),
    pose: tuple[Move, ...] = (),
) -> BoardPlan:
    board = Board(
        name=name,
        stock=stock.name,
        box=Box(*map(span, spans)),
        pose=pose,
        place=Place("bench.dry", 10, 20),
    )
    run = board_run(board, stock)
    assert run is not None
    return BoardPlan(board=board, run=run, cuts=cuts)


def pocket(
    board: str, side: Side, region: Region, depth: float | None, joint: str = "shelf-into-side"
) -> Cut:
    return Cut(
        board=board,
        side=side,
        work=Work.THROUGH if depth is None else Work.POCKET,
        region=region,
        asked=region,
        depth=depth,
        bit="b6",
        joint=joint,
        mate="shelf",
        place=Place("bench.dry", 100, 140),
    )


def plan_of(name: str, *boards: BoardPlan) -> CutPlan:
    design = Design(name=name, stocks=(PLY, OAK), boards=tuple(b.board for b in boards))
    return CutPlan(design=design, boards=boards, joints=())


def bench_plan() -> CutPlan:
    """Two sides, a shelf in a dado of each, a round hole, and a rail turned by 30 degrees.

    `left` is 300 x 150 x 12 with a 150 x 12 dado 5 deep; `right` the same with a hole of 20 mm
    radius right through besides; `shelf` 410 x 150 x 12; `rail` 200 x 40 x 20 of oak.
    """
    out = 1.0
    left = pocket("left", Side(Axis.X, True), rectangle(-out, 144, 150 + out, 156), 5.0)
    right = pocket("right", Side(Axis.X, False), rectangle(-out, 144, 150 + out, 156), 5.0)
    hole = pocket("right", Side(Axis.X, True), disc((75.0, 230.0), 20.0), None, "hole")
    turn = Turn(F(30), Axis.Z, (F(0), F(0), F(0)))
    return plan_of(
        "Bench",
        board_plan("left", PLY, ((0, 12), (0, 150), (0, 300)), (left,)),
        board_plan("right", PLY, ((412, 424), (0, 150), (0, 300)), (right, hole)),
        board_plan("shelf", PLY, ((7, 417), (0, 150), (144, 156))),
        board_plan(
            "rail",
            OAK,
            ((0, 200), (0, 40), (0, 20)),
            pose=(turn, Shift((F(120), F(20), F(320)))),
        ),
    )
