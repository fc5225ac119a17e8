"""Mortise and tenon: sections, shoulders and mortises in closed form."""

import math
from fractions import Fraction

import pytest
from carpentry import (
    B6,
    PLY12,
    R3,
    areas,
    board,
    cuts,
    found,
    join,
    joint,
    listed,
    mm,
    relief,
    the_finding,
)
from dryfit.kernel.board import Axis
from dryfit.kernel.cuts import Side, Work
from dryfit.kernel.design import Word
from dryfit.kernel.joint_findings import NoTenonLeft, NothingLeftUnder, OpensAtEdge, WrongSize
from dryfit.kernel.region import bounds

F = Fraction
R = 3.0
LEFT_OVER = (1 - math.pi / 4) * R**2
PER_CORNER = {
    "none": -LEFT_OVER,
    "half_round": -LEFT_OVER,
    "corner": (math.pi / 2 - 1) * R**2,
    "side": math.pi / 2 * R**2,
}
POST = board("post", (0, 18), (0, 60), (0, 300))
RAIL = board("rail", (6, 200), (21, 39), (100, 180))
"""18 by 80, entering the post's face at x = 18 by 12 mm."""


@pytest.mark.parametrize("kind", PER_CORNER)
def test_the_whole_section_enters(kind: str) -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", relief=relief(kind)))
    (mortise,) = cuts(made, "post")
    assert (mortise.side, mortise.work) == (Side(Axis.X, True), Work.POCKET)
    assert mortise.depth == 13.0  # 12 and the gap of 1
    assert areas(made, "post") == pytest.approx([18.1 * 80.1 + 4 * PER_CORNER[kind]], abs=1e-9)
    rounds = cuts(made, "rail")
    assert len(rounds) == (4 if kind == "half_round" else 0)
    assert all((cut.side, cut.depth) == (Side(Axis.X, False), 12.0) for cut in rounds)


@pytest.mark.parametrize("fit", [0, 0.1, 1])
def test_a_long_mortise_is_lengthened_along_the_rails_width(fit: float) -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", relief=Word("long"), fit=mm(fit)))
    longer = max(R - math.sqrt(R**2 - (R - fit / 2) ** 2), fit / 2)
    expected = (18 + fit) * (80 + 2 * longer) - 4 * LEFT_OVER
    assert areas(made, "post") == pytest.approx([expected], abs=1e-9)
    assert [play.axis for play in made.matings] == [Axis.Y]


def test_side_reliefs_leave_the_cheeks_clean() -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", relief=Word("side")))
    u0, v0, u1, v1 = bounds(cuts(made, "post")[0].region)
    assert (u0, u1) == pytest.approx((20.95, 39.05))  # cheeks, along y
    assert (v0, v1) == pytest.approx((99.95 - 3, 180.05 + 3))


@pytest.mark.parametrize("kind", PER_CORNER)
def test_shoulders_on_faces_and_edges(kind: str) -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", cheeks=listed(3, 2),
                                    edges=listed(10, 20), relief=relief(kind)))  # fmt: skip
    assert areas(made, "post") == pytest.approx([13.1 * 50.1 + 4 * PER_CORNER[kind]], abs=1e-9)
    pockets = cuts(made, "rail", Work.POCKET)
    assert [(cut.side, cut.depth) for cut in pockets] == [
        (Side(Axis.Y, False), 3.0),
        (Side(Axis.Y, True), 2.0),
    ]
    assert areas(made, "rail", Work.POCKET) == pytest.approx([13 * 82] * 2, abs=1e-9)
    foot = PER_CORNER["corner" if kind == "half_round" else kind]
    assert areas(made, "rail", Work.THROUGH) == pytest.approx(
        [13 * 11 + foot, 13 * 21 + foot], abs=1e-9
    )
    assert {round(play.part_size, 9): play.follows for play in made.matings} == {
        13.0: "ply18",
        50.0: None,
    }


def test_a_size_in_the_middle_is_the_same_as_equal_shoulders() -> None:
    by_size = joint([POST, RAIL], join("tenon", "rail", "post", thick=mm(8), width=mm(60)))
    by_shoulder = joint([POST, RAIL], join("tenon", "rail", "post", cheeks=mm(5), edges=mm(10)))
    assert by_size.cuts == by_shoulder.cuts


def test_a_tenon_that_reaches_the_far_face_goes_through() -> None:
    flush = board("rail", (0, 200), (21, 39), (100, 180))
    made = joint([POST, flush], join("tenon", "rail", "post", edges=mm(10)))
    (mortise,) = cuts(made, "post")
    assert (mortise.work, mortise.depth) == (Work.THROUGH, None)
    assert all(bounds(cut.asked)[1] == -1 for cut in cuts(made, "rail"))


def test_a_proud_tenon_is_shouldered_to_its_end() -> None:
    proud = board("rail", (-7, 200), (21, 39), (100, 180))
    made = joint([POST, proud], join("tenon", "rail", "post", edges=mm(10), cheeks=mm(3),
                                     relief=relief("half_round", "r3")))  # fmt: skip
    assert cuts(made, "post")[0].depth is None
    for cut in cuts(made, "rail", Work.ROUND):
        assert cut.depth == 25.0
    for cut in cuts(made, "rail", Work.POCKET):
        u0, v0, u1, v1 = bounds(cut.asked)
        assert (v0, v1) == (-8, 18)
        assert (u0, u1) == (99, 181)


def test_an_upright_tenon_from_below() -> None:
    """A leg's top end enters a seat: its length runs along z."""
    seat = board("seat", (0, 300), (0, 200), (282, 300))
    leg = board("leg", (40, 100), (50, 68), (0, 300))
    made = joint([seat, leg], join("tenon", "leg", "seat", edges=mm(8)))
    (mortise,) = cuts(made, "seat")
    assert (mortise.side, mortise.depth) == (Side(Axis.Z, False), None)
    assert bounds(mortise.asked) == pytest.approx((47.95, 49.95, 92.05, 68.05))


@pytest.mark.parametrize(
    ("z", "edge"), [((220, 300), 300), ((0, 80), 0)]
)  # flush with an end of the post
def test_an_open_mortise_asks_for_a_shoulder(z: tuple[int, int], edge: int) -> None:
    rail = board("rail", (6, 200), (21, 39), z)
    wrong = the_finding([POST, rail], join("tenon", "rail", "post"))
    assert isinstance(wrong, OpensAtEdge)
    assert (wrong.axis, wrong.at) == (Axis.Z, edge)
    shoulders = listed(0, 12) if edge else listed(12, 0)
    assert found([POST, rail], join("tenon", "rail", "post", edges=shoulders)) == []


def test_a_rail_as_thick_as_the_stile_needs_cheeks() -> None:
    stile = board("stile", (0, 60), (0, 18), (0, 300))
    rail = board("rail", (30, 300), (0, 18), (100, 180))
    assert found([stile, rail], join("tenon", "rail", "stile")) == ["J215"]
    made = joint([stile, rail], join("tenon", "rail", "stile", cheeks=mm(6)))
    (mortise,) = cuts(made, "stile")
    assert (mortise.side, mortise.depth) == (Side(Axis.X, True), 31.0)


def test_shoulders_that_leave_nothing() -> None:
    wrong = the_finding([POST, RAIL], join("tenon", "rail", "post", cheeks=mm(9)))
    assert isinstance(wrong, NoTenonLeft)
    assert (wrong.option, wrong.size, wrong.shoulders) == ("cheeks", 18, 18)
    wide = the_finding([POST, RAIL], join("tenon", "rail", "post", width=mm(81)))
    assert isinstance(wide, WrongSize)
    assert (wide.option, wide.value, wide.size) == ("width", 81, 80)


def test_a_gap_that_leaves_no_floor() -> None:
    wrong = the_finding([POST, RAIL], join("tenon", "rail", "post", gap=mm(6)))
    assert isinstance(wrong, NothingLeftUnder)
    assert (wrong.depth, wrong.gap) == (18, 6)


def test_boards_that_cannot_enter() -> None:
    plate = board("plate", (12, 30), (10, 50), (100, 200))
    assert found([POST, plate], join("tenon", "plate", "post")) == ["J217"]
    inside = board("slip", (0, 12), (10, 50), (100, 200), PLY12)
    assert found([POST, inside], join("tenon", "slip", "post")) == ["J214"]


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ({"cheeks": mm(3), "thick": mm(6)}, "J208"),
        ({"edges": mm(3), "width": mm(6)}, "J208"),
        ({"edges": listed(1, 2, 3)}, "J206"),
        ({"cheeks": mm(-1)}, "J207"),
        ({"thick": mm(0)}, "J207"),
        ({"gap": mm(-1)}, "J207"),
        ({"stop": mm(5)}, "J204"),
    ],
)
def test_bad_options(options: dict[str, object], code: str) -> None:
    assert found([POST, RAIL], join("tenon", "rail", "post", **options)) == [code]  # type: ignore


def test_the_companion_is_used_by_hand_after_the_machine() -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", relief=relief("half_round")),
                 bits=[B6, R3])  # fmt: skip
    assert {cut.by_hand for cut in cuts(made, "rail")} == {True}
    assert {cut.by_hand for cut in cuts(made, "post")} == {False}
