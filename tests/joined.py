"""Two boards under each joint of the project, with each relief: designs for whole-line tests."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dryfit.kernel.board import Board, Move
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import BoardRef, Design, Join, Option, OptionValue, Several, Verb, Word
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.quantity import COUNT, LENGTH, Quantity
from dryfit.kernel.stock import Stock
from pieces import B6, board, exact, ply

R3 = Bit(name="r3", kind=BitKind.ROUNDOVER, radius=Fraction(3), by_hand=True)
RELIEFS = ("corner", "side", "swept", "half_round", "long", "none")
STOCKS = tuple(ply(thick) for thick in (6, 12, 18, 20, 40))


@dataclass(frozen=True, slots=True)
class Case:
    """A joint between two boards: `a` to or into `b`."""

    name: str
    family: str
    verb: Verb
    a: tuple[tuple[float, float], ...]
    b: tuple[tuple[float, float], ...]
    options: tuple[Option, ...] = ()
    stock_a: str = "ply18"
    stock_b: str = "ply18"
    reliefs: tuple[str, ...] = RELIEFS


def mm(value: float) -> Quantity:
    return Quantity(exact(value), LENGTH)


def count(value: int) -> Quantity:
    return Quantity(Fraction(value), COUNT)


def option(name: str, *values: OptionValue) -> Option:
    return Option(name=name, values=values)


SIDE = ((0, 18), (0, 200), (0, 300))
NARROW = tuple(relief for relief in RELIEFS if relief != "swept")  # no room to sweep in
SHOWN = ("corner", "half_round", "long")  # a kind of tenon whose cuts others show relief by relief
NOT_LONG = tuple(relief for relief in RELIEFS if relief != "long")

CASES = (
    Case("butt", "butt", Verb.TO, ((18, 400), (0, 200), (100, 118)), SIDE, reliefs=("none",)),
    Case("rabbet", "rabbet", Verb.INTO, ((10, 400), (0, 200), (282, 300)), SIDE),
    Case(
        "stopped rabbet",
        "rabbet",
        Verb.INTO,
        ((10, 400), (30, 170), (282, 300)),
        SIDE,
    ),
    Case("dado", "dado", Verb.INTO, ((12, 400), (0, 200), (100, 118)), SIDE),
    Case(
        "stopped dado",
        "dado",
        Verb.INTO,
        ((12, 400), (0, 150), (100, 118)),
        SIDE,
        options=(option("fit", mm(0.2)),),
    ),
    Case(
        "notched dado",
        "dado",
        Verb.INTO,
        ((12, 400), (0, 200), (100, 118)),
        SIDE,
        options=(option("stop", Word("lo"), mm(20)),),
    ),
    Case(
        "groove",
        "groove",
        Verb.INTO,
        ((13, 400), (180, 186), (13, 287)),
        SIDE,
        options=(option("fit", mm(0.2)),),
        stock_a="ply6",
        reliefs=NARROW,
    ),
    Case(
        "edge groove",
        "groove",
        Verb.INTO,
        ((6, 12), (190, 400), (0, 300)),
        SIDE,
        stock_a="ply6",
    ),
    Case(
        "tenon",
        "tenon",
        Verb.INTO,
        ((25, 300), (11, 29), (100, 160)),
        ((0, 40), (0, 40), (0, 400)),
        options=(option("cheeks", mm(5)), option("edges", mm(10)), option("fit", mm(0.1))),
        stock_b="ply40",
        reliefs=NARROW,
    ),
    Case(
        "whole tenon",
        "tenon",
        Verb.INTO,
        ((8, 300), (30, 170), (100, 118)),
        SIDE,
    ),
    Case(
        "through tenon",
        "tenon",
        Verb.INTO,
        ((-4, 300), (30, 170), (100, 118)),
        SIDE,
        options=(option("edges", mm(12)),),
    ),
    Case(
        "tongue",
        "tongue",
        Verb.INTO,
        ((12, 400), (0, 200), (100, 118)),
        SIDE,
        options=(option("fit", mm(0.2)),),
        reliefs=SHOWN,
    ),
    Case(
        "haunched tenon",
        "tenon",
        Verb.INTO,
        ((6, 300), (40, 200), (100, 118)),
        SIDE,
        options=(option("edges", Several((mm(40), mm(50)))), option("haunch", mm(6))),
        reliefs=SHOWN,
    ),
    Case(
        "row of tenons",
        "tenon",
        Verb.INTO,
        ((6, 300), (30, 170), (100, 118)),
        SIDE,
        options=(
            option("edges", mm(12)),
            option("row", count(3)),
            option("root", Word("fillet")),
        ),
        reliefs=SHOWN,
    ),
    Case(
        "twin tenon",
        "tenon",
        Verb.INTO,
        ((25, 300), (10, 50), (100, 160)),
        ((0, 40), (0, 60), (0, 400)),
        options=(option("cheeks", mm(5)), option("twin", count(2))),
        stock_a="ply40",
        stock_b="ply40",
        reliefs=SHOWN,
    ),
    Case(
        "box joint",
        "box",
        Verb.TO,
        SIDE,
        ((0, 400), (0, 200), (282, 300)),
        options=(option("pins", count(7)), option("fit", mm(0.1))),
        reliefs=NOT_LONG,
    ),
    Case(
        "even box joint",
        "box",
        Verb.TO,
        SIDE,
        ((-2, 400), (0, 200), (282, 300)),
        options=(option("pins", count(4)), option("first", Word("second"))),
        reliefs=NOT_LONG,
    ),
)


def every() -> tuple[tuple[Case, str], ...]:
    """Each case with each relief it takes."""
    return tuple((case, relief) for case in CASES for relief in case.reliefs)


def named(case_and_relief: tuple[Case, str]) -> str:
    case, relief = case_and_relief
    return f"{case.name}, {relief}"


def design(case: Case, relief: str, pose: tuple[Move, ...] = ()) -> Design:
    boards: tuple[Board, ...] = (
        board("a", *case.a, stock=case.stock_a, pose=pose),
        board("b", *case.b, stock=case.stock_b, pose=pose),
    )
    chosen = () if case.family == "butt" else (option("relief", Word(relief)),)
    join = Join(
        name="joint",
        family=case.family,
        verb=case.verb,
        first=(BoardRef("a"),),
        second=(BoardRef("b"),),
        options=(*case.options, *chosen),
    )
    stocks: tuple[Stock, ...] = STOCKS
    return Design(name=case.name, stocks=stocks, bits=(B6, R3), boards=boards, joins=(join,))


def planned(case: Case, relief: str, pose: tuple[Move, ...] = ()) -> CutPlan:
    """The plan of a case; fails the test when planning finds anything."""
    outcome = cut_plan(design(case, relief, pose))
    assert outcome.findings == (), outcome.findings
    assert outcome.value is not None
    return outcome.value
