"""From joins to joints: which boards meet, which join says what, in which order."""

from fractions import Fraction

import pytest
from carpentry import B6, board, count, found, join, joint, mm, planned, the_finding
from dryfit.kernel.board import Axis, Board, Shift, Turn
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import BoardRef, Design, Join, Option, Verb, Word
from dryfit.kernel.finding import Place
from dryfit.kernel.findings import (
    GrainThroughThickness,
    NameTakenTwice,
    SpanNotPositive,
    StockThicknessAmiss,
    ThicknessMatchesNoSpan,
    Thing,
    UnknownStock,
)
from dryfit.kernel.joint_findings import ButtOverlaps, DoesNotReach, UnknownOption, WrongVerb
from dryfit.kernel.joints import families, families_with, family_named
from dryfit.kernel.near import distance, nearest
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.stock import Stock

F = Fraction
LEFT = board("left", (0, 18), (0, 200), (0, 300))
RIGHT = board("right", (382, 400), (0, 200), (0, 300))
SHELF = board("shelf", (12, 388), (0, 200), (100, 118))


# --- blanks --------------------------------------------------------------------------------------


def test_a_board_thick_along_no_axis_is_left_out_and_its_joins_stay_silent() -> None:
    thin = board("shelf", (12, 388), (0, 200), (100, 117))
    plan, (wrong,) = planned([LEFT, thin], join("dado", "shelf", "left"))
    assert isinstance(wrong, ThicknessMatchesNoSpan)
    assert (wrong.sizes, wrong.thick) == ((376, 200, 17), 18)
    assert [b.board.name for b in plan.boards] == ["left"]
    assert plan.joints == ()


def test_a_span_that_runs_backwards() -> None:
    back = board("shelf", (12, 388), (200, 0), (100, 118))
    wrong = the_finding([LEFT, back])
    assert isinstance(wrong, SpanNotPositive)
    assert wrong.code == "B102"
    assert (wrong.axis, wrong.lo, wrong.hi) == (Axis.Y, 200, 0)


def test_a_stock_nobody_declared() -> None:
    odd = Board(name="odd", stock="ply_18", box=LEFT.box)
    wrong = the_finding([odd])
    assert isinstance(wrong, UnknownStock)
    assert wrong.code == "B104"
    assert wrong.nearest == "ply18"


def test_names_taken_twice() -> None:
    plan, findings = planned(
        [LEFT, LEFT, SHELF], join("dado", "shelf", "left"), join("dado", "shelf", "left"),
        bits=[B6, B6],
    )  # fmt: skip
    assert [f.thing for f in findings if isinstance(f, NameTakenTwice)] == [
        Thing.BIT,
        Thing.BOARD,
        Thing.JOIN,
    ]
    assert {f.code for f in findings} == {"B103"}
    assert len(plan.boards) == 2
    assert len(plan.joints) == 1


def test_grain_through_the_thickness() -> None:
    wrong = the_finding([Board(name="a", stock="ply18", box=LEFT.box, grain=Axis.X)])
    assert isinstance(wrong, GrainThroughThickness)
    assert wrong.axis is Axis.X


@pytest.mark.parametrize(("thick", "lo", "hi"), [(0, 1, 1), (-3, 1, 1), (18, 19, 17), (18, 0, 18)])
def test_stock_without_a_sensible_thickness(thick: int, lo: int, hi: int) -> None:
    stock = Stock(name="ply18", thick=F(thick), actual=(F(lo), F(hi)))
    outcome = cut_plan(Design(name="d", stocks=(stock,), boards=(LEFT,)))
    (wrong,) = outcome.findings
    assert isinstance(wrong, StockThicknessAmiss)
    assert wrong.code == "B106"
    assert outcome.value is not None
    assert outcome.value.boards == ()


# --- which boards meet ---------------------------------------------------------------------------


def test_pairs_that_do_not_meet_are_skipped() -> None:
    low = board("low", (12, 388), (0, 200), (50, 68))
    stub = board("stub", (12, 200), (0, 200), (150, 168))
    plan, findings = planned([LEFT, RIGHT, low, stub], join("dado", "low, stub", "left, right"))
    assert findings == ()
    pairs = [(made.first.name, made.second.name) for made in plan.joints]
    assert pairs == [("low", "left"), ("low", "right"), ("stub", "left")]


def test_a_board_that_reaches_nothing_is_told_with_the_nearest_faces() -> None:
    short = board("shelf", (18, 376), (0, 200), (100, 118))
    findings = planned([LEFT, RIGHT, short], join("dado", "shelf", "left, right"))[1]
    to_left, from_right = findings
    assert isinstance(to_left, DoesNotReach)
    assert isinstance(from_right, DoesNotReach)
    assert (to_left.board, to_left.mate) == ("shelf", "left")
    assert (to_left.axis, to_left.board_at, to_left.mate_at) == (Axis.X, 18, 18)
    assert (from_right.board, from_right.mate) == ("right", "shelf")
    assert (from_right.board_at, from_right.mate_at) == (382, 376)


def test_two_boards_that_miss_each_other_are_told_once() -> None:
    short = board("shelf", (30, 388), (0, 200), (100, 118))
    wrong = the_finding([LEFT, short], join("dado", "shelf", "left"))
    assert isinstance(wrong, DoesNotReach)
    assert (wrong.board_at, wrong.mate_at) == (30, 18)
    other_side = board("shelf", (-300, -5), (0, 200), (100, 118))
    wrong = the_finding([LEFT, other_side], join("dado", "shelf", "left"))
    assert isinstance(wrong, DoesNotReach)
    assert (wrong.board_at, wrong.mate_at) == (-5, 0)


def test_a_butt_joint_cuts_nothing_and_wants_faces_that_touch() -> None:
    flush = board("shelf", (18, 382), (0, 200), (100, 118))
    assert joint([LEFT, flush], join("butt", "shelf", "left")).cuts == ()
    wrong = the_finding([LEFT, SHELF], join("butt", "shelf", "left"))
    assert isinstance(wrong, ButtOverlaps)
    assert (wrong.axis, wrong.depth) == (Axis.X, 6)
    apart = board("shelf", (20, 382), (0, 200), (100, 118))
    away = the_finding([LEFT, apart], join("butt", "shelf", "left"))
    assert isinstance(away, DoesNotReach)
    assert away.wants_touch
    edge_on = board("shelf", (18, 382), (200, 400), (100, 118))
    assert found([LEFT, edge_on], join("butt", "shelf", "left")) == ["J203"]


def test_boards_at_an_angle() -> None:
    pose = (Turn(F(5), Axis.Y, (F(12), F(0), F(100))),)
    tilted = board("shelf", (12, 388), (0, 200), (100, 118), pose=pose)
    assert found([LEFT, tilted], join("dado", "shelf", "left")) == ["J210"]
    far = board("shelf", (100, 388), (0, 200), (100, 118), pose=pose)
    assert found([LEFT, far], join("dado", "shelf", "left")) == ["J203"]


def test_a_joint_is_cut_alike_wherever_its_boards_lie() -> None:
    """The same two boards, the shelf drawn lying along y and put down by a turn and a shift."""
    straight = joint([LEFT, SHELF], join("dado", "shelf", "left"))
    origin = (F(0), F(0), F(0))
    lying = board(
        "shelf",
        (0, 200),
        (12, 388),
        (0, 18),
        pose=(Turn(F(90), Axis.Z, origin), Shift((F(400), F(0), F(100)))),
    )
    turned = joint([LEFT, lying], join("dado", "shelf", "left"))
    # turned by 90 degrees about z, y runs along -x: 12..388 becomes 400 - 388..400 - 12
    assert turned.cuts == straight.cuts
    assert turned.matings == straight.matings
    both = (Turn(F(33), Axis.X, origin), Shift((F(1, 3), F(5), F(7))))
    moved = [
        Board(name=b.name, stock=b.stock, box=b.box, pose=(*b.pose, *both)) for b in (LEFT, lying)
    ]
    assert joint(moved, join("dado", "shelf", "left")).cuts == straight.cuts


# --- the words of a join -------------------------------------------------------------------------


def test_wrong_words_fail_every_joint_of_the_join_and_are_told_once() -> None:
    plan, findings = planned(
        [LEFT, RIGHT, SHELF], join("dado", "shelf", "left, right", fitt=mm(1), relief=mm(3))
    )
    assert [f.code for f in findings] == ["J204", "J206"]
    option = findings[0]
    assert isinstance(option, UnknownOption)
    assert option.nearest == "fit"
    assert [made.failed for made in plan.joints] == [True, True]
    assert all(board.cuts == () for board in plan.boards)


def test_an_option_of_another_joint_is_named_as_such() -> None:
    wrong = the_finding([LEFT, SHELF], join("dado", "shelf", "left", cheeks=mm(3)))
    assert isinstance(wrong, UnknownOption)
    assert wrong.families == families_with("cheeks")
    assert "tenon" in wrong.families
    assert "dado" not in wrong.families


def test_an_option_twice() -> None:
    made = join("dado", "shelf", "left", fit=mm(0.2))
    twice = Join(
        name=made.name,
        family="dado",
        verb=Verb.INTO,
        first=made.first,
        second=made.second,
        options=made.options * 2,
    )
    assert found([LEFT, SHELF], twice) == ["J205"]


def test_unknown_family_wrong_verb_unknown_board_and_self() -> None:
    assert found([LEFT, SHELF], join("dadoe", "shelf", "left")) == ["J201"]
    verb = Join(
        name="j",
        family="dado",
        verb=Verb.ACROSS,
        first=(BoardRef("shelf"),),
        second=(BoardRef("left"),),
    )
    wrong = the_finding([LEFT, SHELF], verb)
    assert isinstance(wrong, WrongVerb)
    assert (wrong.written, wrong.allowed) == ("across", ("into",))
    assert found([LEFT, SHELF], join("dado", "shelf", "lefft")) == ["J212"]
    assert found([LEFT, SHELF], join("dado", "shelf", "left, shelf")) == ["J224"]


def test_findings_point_at_the_words() -> None:
    def at(start: int, end: int) -> Place:
        return Place("bench.dry", start, end)

    made = Join(
        name="j",
        family="dado",
        verb=Verb.INTO,
        first=(BoardRef("shelf", at(5, 10)),),
        second=(BoardRef("left", at(16, 20)),),
        options=(
            Option(name="relief", values=(Word("korner", at(40, 46)),), place=at(33, 39)),
            Option(name="fit", values=(count(1),), place=at(48, 51), value_places=(at(52, 53),)),
        ),
        place=at(0, 60),
        family_place=at(26, 30),
    )
    places = [f.place for f in planned([LEFT, SHELF], made)[1]]
    assert sorted(p for p in places if p) == [at(40, 46), at(52, 53)]
    no_bits = Join(
        name="j", family="dado", verb=Verb.INTO, first=made.first, second=made.second,
        place=made.place, family_place=made.family_place,
    )  # fmt: skip
    (no_bit,) = planned([LEFT, SHELF], no_bits, bits=[])[1]
    assert no_bit.place == at(26, 30)
    assert joint([LEFT, SHELF], no_bits).cuts[0].place == at(0, 60)


# --- bits ----------------------------------------------------------------------------------------


def test_a_flute_that_is_short_everywhere_is_left_to_the_check_of_the_plan() -> None:
    stubby = Bit(name="s6", kind=BitKind.STRAIGHT, radius=F(3), flute=F(3))
    longer = Bit(name="l6", kind=BitKind.STRAIGHT, radius=F(3), flute=F(5))
    made = joint([LEFT, SHELF], join("dado", "shelf", "left"), bits=[stubby, longer])
    assert made.bit == "l6"


def test_bits_by_hand_cut_no_sockets() -> None:
    hand = Bit(name="h6", kind=BitKind.STRAIGHT, radius=F(3), by_hand=True)
    assert found([LEFT, SHELF], join("dado", "shelf", "left"), bits=[hand]) == ["C101"]
    assert found([LEFT, SHELF], join("dado", "shelf", "left", bit=Word("h6")), bits=[hand]) == [
        "C104"
    ]


# --- families ------------------------------------------------------------------------------------


def test_every_family_has_its_name_once_and_its_options_in_words() -> None:
    names = [family.name for family in families()]
    assert len(set(names)) == len(names)
    for family in families():
        assert family_named(family.name) is family
        options = [spec.name for spec in family.options]
        assert len(set(options)) == len(options)
        for spec in family.options:
            assert spec.shown
            assert spec.words
            assert not spec.words.endswith(".")


def test_near_names() -> None:
    assert nearest("LEFT", ["let", "left"]) == "left"
    assert nearest("a", ["b"]) is None
    assert nearest("x" * 1000, ["x" * 999]) is None
    assert distance("kitten", "sitting") == 3  # Wagner & Fischer 1974, the usual example


def test_the_plan_is_the_same_every_time() -> None:
    boards = [LEFT, RIGHT, SHELF, board("top", (0, 400), (0, 200), (282, 300))]
    joins = (
        join("dado", "shelf", "left, right"),
        Join(
            name="corners",
            family="box",
            verb=Verb.TO,
            first=(BoardRef("left"), BoardRef("right")),
            second=(BoardRef("top"),),
        ),
    )
    assert planned(boards, *joins) == planned(boards, *joins)
