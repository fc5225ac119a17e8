"""Boards, cuts and plans made by hand, for tests that need no joint family."""

from __future__ import annotations

from fractions import Fraction

from dryfit.kernel.board import Axis, Board, Box, Move, Shift, Span, Turn, board_run
from dryfit.kernel.cuts import Cut, Mating, Side, Work
from dryfit.kernel.cutter import Bit, BitKind, Machine
from dryfit.kernel.design import BoardRef, Design, Join, Option, Verb
from dryfit.kernel.expect import Test
from dryfit.kernel.plan import BoardPlan, CutPlan, Joint
from dryfit.kernel.region import Region
from dryfit.kernel.stock import Stock

B6 = Bit(name="b6", kind=BitKind.STRAIGHT, radius=Fraction(3), flute=Fraction(22))


def exact(value: float | str | Fraction) -> Fraction:
    """The number as written: 0.1 is a tenth."""
    return value if isinstance(value, Fraction) else Fraction(str(value))


def ply(thick: float, low: float | None = None, high: float | None = None, **more: object) -> Stock:
    """Stock called `ply18` for 18 mm, delivered `low..high`."""
    nominal = exact(thick)
    actual = (nominal if low is None else exact(low), nominal if high is None else exact(high))
    return Stock(name=f"ply{thick:g}", thick=nominal, actual=actual, **more)  # type: ignore[arg-type]


def board(
    name: str,
    *spans: tuple[float, float],
    stock: str = "ply18",
    pose: tuple[Move, ...] = (),
    grain: Axis | None = None,
) -> Board:
    """A board from its spans along x, y and z."""
    x, y, z = (Span(exact(lo), exact(hi)) for lo, hi in spans)
    return Board(name=name, stock=stock, box=Box(x, y, z), pose=pose, grain=grain)


def cut(
    owner: str,
    side: str,
    region: Region,
    depth: float | None,
    *,
    joint: str = "joint",
    mate: str | None = None,
    asked: Region | None = None,
    bit: str = "b6",
    work: Work | None = None,
) -> Cut:
    """A cut from a side such as `+x`."""
    axis = Axis("xyz".index(side[1]))
    through = Work.THROUGH if depth is None else Work.POCKET
    return Cut(
        board=owner,
        side=Side(axis, side[0] == "+"),
        work=work or through,
        region=region,
        asked=asked or region,
        depth=depth,
        bit=bit,
        joint=joint,
        mate=mate,
    )


def joint(
    first: str,
    second: str,
    *,
    name: str = "joint",
    matings: tuple[Mating, ...] = (),
    options: tuple[Option, ...] = (),
    failed: bool = False,
) -> Joint:
    one, other = BoardRef(first), BoardRef(second)
    join = Join(
        name=name, family="dado", verb=Verb.INTO, first=(one,), second=(other,), options=options
    )
    return Joint(name=name, join=join, first=one, second=other, matings=matings, failed=failed)


def plan(
    *boards: Board,
    cuts: tuple[Cut, ...] = (),
    joints: tuple[Joint, ...] = (),
    stocks: tuple[Stock, ...] = (),
    bits: tuple[Bit, ...] = (B6,),
    machines: tuple[Machine, ...] = (),
    tests: tuple[Test, ...] = (),
) -> CutPlan:
    """A plan of these boards, each with its own of the cuts. Stocks not given are 18 mm."""
    known = {stock.name: stock for stock in stocks}
    for each in boards:
        if each.stock not in known:
            known[each.stock] = ply(float(each.stock.removeprefix("ply")))
    design = Design(
        name="by hand",
        stocks=tuple(known.values()),
        bits=bits,
        machines=machines,
        boards=boards,
        tests=tests,
    )
    plans = []
    for each in boards:
        run = board_run(each, known[each.stock])
        assert run is not None, f"{each.name} has no span as thick as its stock"
        own = tuple(c for c in cuts if c.board == each.name)
        plans.append(BoardPlan(board=each, run=run, cuts=own))
    return CutPlan(design=design, boards=tuple(plans), joints=joints)


def turned(degrees: float, about: Axis, at: tuple[float, float, float] = (0, 0, 0)) -> Turn:
    x, y, z = (exact(c) for c in at)
    return Turn(exact(degrees), about, (x, y, z))


def shifted(x: float, y: float, z: float) -> Shift:
    return Shift((exact(x), exact(y), exact(z)))
