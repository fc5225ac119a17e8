"""Dado, groove and rabbet: areas, depths and ends in closed form."""

import math
from fractions import Fraction

import pytest
from carpentry import (
    B6,
    PLY6,
    PLY12,
    R3,
    Number,
    areas,
    board,
    cuts,
    found,
    join,
    joint,
    mm,
    planned,
    relief,
    the_finding,
)
from dryfit.kernel.board import Axis, Board
from dryfit.kernel.cuts import Side, Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Word
from dryfit.kernel.findings import NoRoomToSweep, SocketNarrowerThanBit
from dryfit.kernel.joint_findings import NoStepAtEdge, NothingLeftUnder, OpensAtEdge, RunsOut
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
SIDE = board("side", (0, 18), (0, 200), (0, 300))


def shelf(front: Number = 0, back: Number = 200, enters: Number = 6) -> Board:
    return board("shelf", (18 - enters, 400), (front, back), (100, 118))


def extension(fit: float, radius: float = R) -> float:
    """How far past the shelf the fillets reach it: they meet its edge fit / 2 beside the wall."""
    return radius - math.sqrt(radius**2 - (radius - fit / 2) ** 2)


# --- dado ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", [*PER_CORNER, "swept", "long"])
def test_a_dado_as_wide_as_the_board_runs_through(kind: str) -> None:
    made = joint([SIDE, shelf()], join("dado", "shelf", "side", relief=relief(kind)))
    (cut,) = made.cuts
    assert (cut.side, cut.work, cut.depth) == (Side(Axis.X, True), Work.POCKET, 6.0)
    assert areas(made, "side") == pytest.approx([202 * 18.1], abs=1e-9)


@pytest.mark.parametrize("kind", PER_CORNER)
@pytest.mark.parametrize(("front", "back", "ends"), [(10, 200, 1), (10, 185, 2), (0, 150, 1)])
def test_a_narrower_board_stops_the_dado(kind: str, front: int, back: int, ends: int) -> None:
    made = joint([SIDE, shelf(front, back)], join("dado", "shelf", "side", relief=relief(kind)))
    length = back - front + ends * 0.05 + (2 - ends)
    expected = length * 18.1 + 2 * ends * PER_CORNER[kind]
    assert areas(made, "side", Work.POCKET) == pytest.approx([expected], abs=1e-9)
    assert len(cuts(made, "shelf", Work.ROUND)) == (2 * ends if kind == "half_round" else 0)


@pytest.mark.parametrize("fit", [0, 0.1, 0.5, 6])
def test_a_long_dado_clears_the_shelf(fit: float) -> None:
    made = joint([SIDE, shelf(10)], join("dado", "shelf", "side", relief=Word("long"),
                                         fit=mm(fit)))  # fmt: skip
    length = 190 + max(extension(fit), fit / 2) + 1
    expected = length * (18 + fit) - 2 * LEFT_OVER
    assert areas(made, "side") == pytest.approx([expected], abs=1e-9)


def test_the_play_follows_the_stock_of_the_shelf() -> None:
    (play,) = joint([SIDE, shelf()], join("dado", "shelf", "side", fit=mm(0.25))).matings
    assert (play.part, play.socket) == ("shelf", "side")
    assert (play.axis, play.socket_axis) == (Axis.Z, Axis.Z)
    assert (play.part_size, play.asked, play.follows) == (18.0, 0.25, "ply18")
    assert play.fit == pytest.approx(0.25, abs=1e-12)
    plays = joint([SIDE, shelf(10, 190)], join("dado", "shelf", "side")).matings
    assert [play.axis for play in plays] == [Axis.Y, Axis.Z]
    assert [play.follows for play in plays] == [None, "ply18"]


def test_gap_deepens_the_dado() -> None:
    made = joint([SIDE, shelf()], join("dado", "shelf", "side", gap=mm(0.5)))
    assert made.cuts[0].depth == 6.5


@pytest.mark.parametrize(
    ("ends", "front", "back"),
    [((), 15, None), ((Word("hi"),), None, 15), ((Word("both"),), 15, 15)],
)
def test_a_stop_hides_the_end(ends: tuple[Word, ...], front: int | None, back: int | None) -> None:
    made = joint([SIDE, shelf()], join("dado", "shelf", "side", stop=(*ends, mm(15))))
    (channel,) = cuts(made, "side")
    u0, _, u1, _ = bounds(channel.asked)
    assert (u0, u1) == (front or -1, 200 - back if back else 201)
    notches = cuts(made, "shelf")
    assert len(notches) == (front is not None) + (back is not None)
    for notch in notches:
        assert notch.work is Work.THROUGH
        # the notch is 6 deep from the end and meets the channel's end with half the fit to spare
        assert areas(made, "shelf")[0] == pytest.approx(
            (6 + 1) * (15.05 + 1) + PER_CORNER["corner"], abs=1e-9
        )


def test_a_lengthened_stop_sets_the_tongue_back_past_both_fillets() -> None:
    made = joint([SIDE, shelf()], join("dado", "shelf", "side", stop=mm(15), relief=Word("long")))
    (channel,), (notch,) = cuts(made, "side"), cuts(made, "shelf")
    assert bounds(channel.asked)[0] == 15.0
    assert bounds(notch.asked)[3] == 15.0 + 2 * R
    assert areas(made, "shelf") == pytest.approx([7 * 22 - LEFT_OVER], abs=1e-9)


def test_stops_that_take_all() -> None:
    assert found([SIDE, shelf()], join("dado", "shelf", "side", stop=(Word("both"), mm(100)))) == [
        "J225"
    ]
    assert found([SIDE, shelf()], join("dado", "shelf", "side", stop=(Word("both"), mm(97)),
                                       relief=Word("long"))) == ["J225"]  # fmt: skip


def test_a_dado_needs_wood_under_and_beside_it() -> None:
    under = the_finding([SIDE, shelf(enters=18)], join("dado", "shelf", "side"))
    assert isinstance(under, NothingLeftUnder)
    assert (under.axis, under.depth) == (Axis.X, 18)
    top = board("top", (12, 400), (0, 200), (282, 300))
    beside = the_finding([SIDE, top], join("dado", "top", "side"))
    assert isinstance(beside, OpensAtEdge)
    assert (beside.axis, beside.at) == (Axis.Z, 300)


def test_a_bit_as_wide_as_the_channel_cuts_it_and_a_wider_one_does_not() -> None:
    b18 = Bit(name="b18", kind=BitKind.STRAIGHT, radius=F(9), flute=F(30))
    made = joint([SIDE, shelf()], join("dado", "shelf", "side", fit=mm(0)), bits=[b18])
    assert areas(made, "side") == pytest.approx([202 * 18], abs=1e-4)
    b19 = Bit(name="b19", kind=BitKind.STRAIGHT, radius=F(19, 2), flute=F(30))
    wrong = the_finding([SIDE, shelf()], join("dado", "shelf", "side"), bits=[b19])
    assert isinstance(wrong, SocketNarrowerThanBit)
    assert (wrong.width, wrong.diameter, wrong.named) == (F(181, 10), 19, False)


def test_the_shelf_may_enter_from_either_side() -> None:
    right = board("right", (382, 400), (0, 200), (0, 300))
    across = board("shelf", (12, 388), (0, 200), (100, 118))
    plan, findings = planned([SIDE, right, across], join("dado", "shelf", "side, right"))
    assert findings == ()
    assert [joint.name for joint in plan.joints] == [
        "dado joint [shelf, side]",
        "dado joint [shelf, right]",
    ]
    assert plan.joints[1].cuts[0].side == Side(Axis.X, False)
    assert [len(b.cuts) for b in plan.boards] == [1, 1, 0]


# --- groove --------------------------------------------------------------------------------------

BACK = board("back", (10, 390), (180, 186), (8, 292), PLY6)
TOP = board("top", (0, 400), (0, 200), (282, 300))


def test_a_captured_back_gets_a_groove_as_long_as_its_edge_and_the_fillets_need() -> None:
    plan, findings = planned([SIDE, TOP, BACK], join("groove", "back", "side, top", fit=mm(0.2)))
    assert findings == ()
    longer = extension(0.2)
    side, top = (joint.cuts[0] for joint in plan.joints)
    assert bounds(side.asked) == pytest.approx((179.9, 8 - longer, 186.1, 292 + longer), abs=1e-9)
    assert (side.depth, top.depth) == (8.0, 10.0)
    u0, v0, u1, v1 = bounds(top.asked)
    assert (u0, u1) == pytest.approx((10 - longer, 390 + longer), abs=1e-9)
    assert (v0, v1) == pytest.approx((179.9, 186.1), abs=1e-9)
    assert [m.axis for joint in plan.joints for m in joint.matings] == [Axis.Y, Axis.Y]


def test_a_groove_runs_out_where_the_panel_comes_to_the_end() -> None:
    tall = board("back", (10, 390), (180, 186), (0, 300), PLY6)
    made = joint([SIDE, tall], join("groove", "back", "side"))
    assert areas(made, "side") == pytest.approx([302 * 6.1], abs=1e-9)


def test_a_groove_that_would_run_out_by_its_lengthening() -> None:
    near = board("back", (10, 390), (180, 186), (2, 292), PLY6)
    wrong = the_finding([SIDE, near], join("groove", "back", "side", fit=mm(0.2)))
    assert isinstance(wrong, RunsOut)
    assert wrong.extension == pytest.approx(extension(0.2), abs=1e-12)
    assert wrong.past == pytest.approx(extension(0.2) - 2, abs=1e-12)
    assert found([SIDE, near], join("groove", "back", "side", relief=Word("corner"))) == []


def test_a_groove_in_an_edge() -> None:
    """A 6 mm panel enters the edge of an 18 mm stile by 8 mm: cut from that edge."""
    stile = board("stile", (0, 60), (0, 18), (0, 400))
    panel = board("panel", (52, 300), (6, 12), (0, 400), PLY6)
    made = joint([stile, panel], join("groove", "panel", "stile"))
    (cut,) = made.cuts
    assert (cut.side, cut.depth) == (Side(Axis.X, True), 8.0)
    assert bounds(cut.asked) == pytest.approx((5.95, -1, 12.05, 401))


def test_a_face_does_not_enter_a_groove() -> None:
    thick = board("post", (0, 18), (0, 60), (0, 400))
    plate = board("plate", (12, 24), (10, 50), (100, 160), PLY12)
    assert found([thick, plate], join("groove", "plate", "post")) == ["J217"]


def test_buried_wood_has_no_way_in() -> None:
    post = board("post", (0, 60), (0, 18), (0, 400))
    slip = board("slip", (20, 40), (6, 12), (100, 200), PLY6)
    assert found([post, slip], join("groove", "slip", "post")) == ["J214"]


def test_a_swept_end_without_room_is_told_and_cut_at_the_corner() -> None:
    """Two corners share an end wall of 6.1 mm, less than the 2 r sqrt 2 that two arcs need."""
    plan, (told,) = planned([SIDE, BACK], join("groove", "back", "side", relief=Word("swept")))
    assert isinstance(told, NoRoomToSweep)
    assert (told.code, told.board, told.corners) == ("C106", "side", 4)
    (made,) = plan.joints
    assert not made.failed
    assert made.cuts == joint([SIDE, BACK], join("groove", "back", "side",
                                                 relief=Word("corner"))).cuts  # fmt: skip


# --- rabbet --------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", PER_CORNER)
@pytest.mark.parametrize(("lo", "hi", "ends"), [(0, 300, 0), (0, 280, 1), (20, 280, 2)])
def test_a_rabbet_is_a_step_along_the_edge(kind: str, lo: int, hi: int, ends: int) -> None:
    back = board("back", (9, 390), (194, 200), (lo, hi), PLY6)
    made = joint([SIDE, back], join("rabbet", "back", "side", relief=relief(kind)))
    (cut,) = cuts(made, "side")
    assert (cut.side, cut.depth) == (Side(Axis.X, True), 9.0)
    length = hi - lo + (2 - ends)
    assert areas(made, "side") == pytest.approx([7 * length + ends * PER_CORNER[kind]], abs=1e-9)
    assert len(cuts(made, "back", Work.ROUND)) == (ends if kind == "half_round" else 0)
    assert made.matings == ()


def test_the_fit_of_a_rabbet_moves_its_wall() -> None:
    back = board("back", (9, 390), (194, 200), (0, 300), PLY6)
    made = joint([SIDE, back], join("rabbet", "back", "side", fit=mm(0.3)))
    assert areas(made, "side") == pytest.approx([7.3 * 302], abs=1e-9)


def test_a_rabbet_for_the_end_of_a_board_and_for_a_panel_lying_in() -> None:
    front = board("front", (0, 400), (0, 18), (0, 100))
    side = board("side", (0, 18), (12, 200), (0, 100))
    made = joint([front, side], join("rabbet", "side", "front"))
    (cut,) = made.cuts
    assert (cut.side, cut.depth) == (Side(Axis.Y, True), 6.0)
    assert bounds(cut.asked) == (-1, -1, 101, 18)
    rail = board("rail", (0, 400), (0, 18), (0, 60))
    panel = board("panel", (0, 400), (12, 18), (52, 200), PLY6)
    lying = joint([rail, panel], join("rabbet", "panel", "rail"))
    (cut,) = lying.cuts
    assert (cut.side, cut.depth) == (Side(Axis.Y, True), 6.0)
    assert bounds(cut.asked) == (52, -1, 61, 401)


def test_a_rabbet_needs_an_edge_and_wood_under_it() -> None:
    middle = the_finding([SIDE, shelf()], join("rabbet", "shelf", "side"))
    assert isinstance(middle, NoStepAtEdge)
    assert middle.walls == 2
    over_all = board("cap", (12, 24), (0, 200), (0, 300), PLY12)
    all_over = the_finding([SIDE, over_all], join("rabbet", "cap", "side"))
    assert isinstance(all_over, NoStepAtEdge)
    assert all_over.walls == 0
    corner = board("top", (0, 400), (0, 200), (282, 300))
    assert found([SIDE, corner], join("rabbet", "top", "side")) == ["J213"]


@pytest.mark.parametrize("family", ["dado", "groove", "rabbet"])
@pytest.mark.parametrize(
    ("options", "code"),
    [
        ({"fit": mm(-0.1)}, "J207"),
        ({"fit": Word("tight")}, "J206"),
        ({"fit": (mm(1), mm(2))}, "J206"),
        ({"relief": Word("korner")}, "J209"),
        ({"relief": (Word("corner"), Word("r3"))}, "J206"),
        ({"relief": relief("half_round", "b6")}, "C104"),
        ({"bit": mm(6)}, "J206"),
        ({"pins": mm(6)}, "J204"),
        ({"bit": Word("r3")}, "C104"),
    ],
)
def test_bad_options(family: str, options: dict[str, object], code: str) -> None:
    low = board("low", (12, 400), (50, 200), (0, 18)) if family == "rabbet" else shelf(50)
    assert found([SIDE, low], join(family, low.name, "side", **options)) == [code]  # type: ignore


@pytest.mark.parametrize("family", ["dado", "groove"])
def test_half_round_looks_for_its_companion(family: str) -> None:
    rounded = join(family, "shelf", "side", relief=Word("half_round"))
    assert found([SIDE, shelf(50)], rounded, bits=[B6]) == ["C105"]
    assert found([SIDE, shelf(50)], rounded, bits=[]) == ["C101"]
    assert found([SIDE, shelf(50)], rounded, bits=[B6, R3]) == []
