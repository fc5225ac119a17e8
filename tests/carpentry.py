"""Small designs made by hand, joined and cut: what tests of joints share."""

from collections.abc import Sequence
from fractions import Fraction

from dryfit.kernel.board import Board, Box, Move, Span
from dryfit.kernel.cuts import Cut, Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import BoardRef, Design, Join, Option, OptionValue, Several, Verb, Word
from dryfit.kernel.finding import Finding
from dryfit.kernel.plan import CutPlan, Joint, cut_plan
from dryfit.kernel.quantity import LENGTH, Quantity
from dryfit.kernel.region import area
from dryfit.kernel.stock import Stock

F = Fraction
Number = int | float | Fraction
Range = tuple[Number, Number]
Written = OptionValue | Sequence[OptionValue]

PLY18 = Stock(name="ply18", thick=F(18), actual=(F(175, 10), F(182, 10)))
PLY12 = Stock(name="ply12", thick=F(12), actual=(F(12), F(12)))
PLY6 = Stock(name="ply6", thick=F(6), actual=(F(6), F(6)))

B3 = Bit(name="b3", kind=BitKind.STRAIGHT, radius=F(3, 2), flute=F(12))
B6 = Bit(name="b6", kind=BitKind.STRAIGHT, radius=F(3), flute=F(22))
B8 = Bit(name="b8", kind=BitKind.STRAIGHT, radius=F(4), flute=F(12))
R2 = Bit(name="r2", kind=BitKind.ROUNDOVER, radius=F(2), by_hand=True)
R3 = Bit(name="r3", kind=BitKind.ROUNDOVER, radius=F(3), by_hand=True)

VERBS = {
    "lap": Verb.ACROSS,
    "edge_lap": Verb.ACROSS,
    **dict.fromkeys(
        (
            "butt",
            "box",
            "blind_box",
            "step",
            "drawer_lock",
            "loose_tenon",
            "mitre",
            "splined_mitre",
            "spline",
            "dowels",
            "cross_dowel",
            "puzzle",
        ),
        Verb.TO,
    ),
}


def exact(value: Number) -> Fraction:
    """0.1 as one tenth."""
    return F(str(value)) if isinstance(value, float) else F(value)


def board(
    name: str,
    x: Range,
    y: Range,
    z: Range,
    stock: Stock = PLY18,
    *,
    pose: tuple[Move, ...] = (),
) -> Board:
    spans = (Span(exact(lo), exact(hi)) for lo, hi in (x, y, z))
    return Board(name=name, stock=stock.name, box=Box(*spans), pose=pose)


def mm(value: Number) -> Quantity:
    return Quantity(exact(value), LENGTH)


def count(value: Number) -> Quantity:
    return Quantity(exact(value))


def listed(*values: Number) -> Several:
    return Several(tuple(map(mm, values)))


def join(family: str, first: str, second: str, /, **options: Written) -> Join:
    """`first` and `second` are names between commas; an option's value one value or several."""
    return Join(
        name=f"{family} joint",
        family=family,
        verb=VERBS.get(family, Verb.INTO),
        first=tuple(map(BoardRef, first.split(", "))),
        second=tuple(map(BoardRef, second.split(", "))),
        options=tuple(
            Option(
                name=name,
                values=(value,) if isinstance(value, OptionValue) else tuple(value),
            )
            for name, value in options.items()
        ),
    )


def relief(name: str, companion: str | None = None) -> tuple[Word, ...]:
    return (Word(name),) if companion is None else (Word(name), Word(companion))


def planned(
    boards: Sequence[Board], *joins: Join, bits: Sequence[Bit] = (B6, R3)
) -> tuple[CutPlan, tuple[Finding, ...]]:
    design = Design(
        name="bench",
        stocks=(PLY18, PLY12, PLY6),
        bits=tuple(bits),
        boards=tuple(boards),
        joins=joins,
    )
    outcome = cut_plan(design)
    assert outcome.value is not None
    return outcome.value, outcome.findings


def joint(boards: Sequence[Board], made: Join, bits: Sequence[Bit] = (B6, R3)) -> Joint:
    """The one joint of a design without findings."""
    plan, findings = planned(boards, made, bits=bits)
    assert findings == ()
    (only,) = plan.joints
    return only


def found(boards: Sequence[Board], *joins: Join, bits: Sequence[Bit] = (B6, R3)) -> list[str]:
    """The codes of the findings."""
    return [finding.code for finding in planned(boards, *joins, bits=bits)[1]]


def the_finding(boards: Sequence[Board], *joins: Join, bits: Sequence[Bit] = (B6, R3)) -> Finding:
    """The one finding of a design; every joint of it that it stops is marked failed."""
    plan, findings = planned(boards, *joins, bits=bits)
    (only,) = findings
    assert not any(joint.cuts for joint in plan.joints if joint.failed)
    return only


def cuts(joint: Joint, name: str, work: Work | None = None) -> tuple[Cut, ...]:
    """The joint's cuts in one board, of one kind of work where asked."""
    return tuple(
        cut for cut in joint.cuts if cut.board == name and (work is None or cut.work is work)
    )


def areas(joint: Joint, name: str, work: Work | None = None) -> list[float]:
    return [area(cut.region) for cut in cuts(joint, name, work)]
