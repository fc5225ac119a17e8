"""Laps, bridle, sliding dovetail, mitres, spline, dowels, cross dowel, puzzle: closed forms, fits
measured on the bodies, and what is told when figures do not go together."""

import math
from collections.abc import Sequence
from fractions import Fraction

import pytest
from carpentry import (
    B6,
    B8,
    PLY12,
    PLY18,
    Range,
    Written,
    board,
    count,
    cuts,
    join,
    joint,
    mm,
    planned,
    the_finding,
)
from dryfit.kernel import crossing_findings as amiss
from dryfit.kernel import measure, solids
from dryfit.kernel.board import Axis, Board
from dryfit.kernel.cuts import Side, Ware, Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Word
from dryfit.kernel.finding import Finding
from dryfit.kernel.findings import NoBitOfKind, SocketNarrowerThanBit
from dryfit.kernel.joint_findings import LiesFlat, NothingLeftUnder, StopsShort, StopTakesAll
from dryfit.kernel.solids import Bodies
from pieces import turned

F = Fraction
T = 18.0
DISC = 3**2 * (math.pi / 2 - 1)
"""mm2 that a corner relief of radius 3 clears beside its corner."""
TAN = math.tan(math.radians(14))
LONG = Bit(name="long", kind=BitKind.STRAIGHT, radius=F(3), flute=F(80))
D14 = Bit(name="d14", kind=BitKind.DOVETAIL, radius=F(6), angle=F(14), flute=F(20))
V60 = Bit(name="v60", kind=BitKind.V, radius=F(20), angle=F(60), flute=F(30))
V90 = Bit(name="v90", kind=BitKind.V, radius=F(20), angle=F(90), flute=F(20))
DRILL8 = Bit(name="d8", kind=BitKind.DRILL, radius=F(4), flute=F(40))
BITS = (LONG, D14, V60, V90, DRILL8)


class Made:
    """Two boards `a` and `b` joined, found clean, as solids."""

    def __init__(self, family: str, a: Board, b: Board, /, **options: Written) -> None:
        self.plan, findings = planned([a, b], join(family, "a", "b", **options), bits=BITS)
        assert findings == ()
        (self.joint,) = self.plan.joints
        self.bodies = Bodies(self.plan)
        assert not self.bodies.meet(0, 1)

    def removed(self, index: int) -> float:
        """mm3 taken off a board, arcs very nearly true."""
        piece = self.plan.boards[index]
        box = piece.board.box
        blank = float(box.x.size * box.y.size * box.z.size)
        return blank - solids.volume(solids.true_body(piece, 2e-5).solid)

    def fits(self) -> list[tuple[float, float]]:
        """What each mating asks for and what is measured."""
        found = []
        for mating in self.joint.matings:
            measured = measure.mating_fit(self.bodies, mating)
            assert measured is not None
            found.append((mating.asked, measured))
        return found


def wrong(family: str, a: Board, b: Board, /, bits: Sequence[Bit] = BITS, **options: Written
          ) -> Finding:  # fmt: skip
    return the_finding([a, b], join(family, "a", "b", **options), bits=bits)


def flat(name: str, x: Range, y: Range, z: Range = (0, 18)) -> Board:
    return board(name, x, y, z, PLY12 if z[1] - z[0] == 12 else PLY18)


# --- laps ----------------------------------------------------------------------------------------

RAIL, POST = flat("a", (0, 300), (0, 60)), flat("b", (100, 150), (-80, 200))


@pytest.mark.parametrize("fit", [0.0, 0.1, 0.5])
def test_a_cross_lap_halves_both_and_plays_by_its_fit(fit: float) -> None:
    made = Made("lap", RAIL, POST, fit=mm(fit))
    assert made.removed(0) == pytest.approx((50 + fit) * 60 * 9)
    assert made.removed(1) == pytest.approx(50 * (60 + fit) * 9)
    assert made.fits() == [(fit, pytest.approx(fit, abs=1e-6))] * 2
    assert [cut.side.positive for cut in made.joint.cuts] == [False, True]


def test_which_board_lies_over_and_how_deep() -> None:
    made = Made("lap", RAIL, POST, over=Word("second"), deep=mm(6))
    assert [(cut.side, cut.depth) for cut in made.joint.cuts] == [
        (Side(Axis.Z, True), 6.0),
        (Side(Axis.Z, False), 12.0),
    ]


def test_the_board_that_comes_farther_up_lies_over() -> None:
    made = Made("lap", flat("a", (0, 300), (0, 60), (0, 12)), POST)
    assert [(cut.side, cut.depth) for cut in made.joint.cuts] == [
        (Side(Axis.Z, True), 6.0),
        (Side(Axis.Z, False), 6.0),
    ]


@pytest.mark.parametrize(("end", "walls"), [(150, 2), (130, 3)])
def test_a_tee_lap_closes_at_its_shoulder(end: int, walls: int) -> None:
    """Where the end stops inside the post, the socket's far wall stands a whole fit off."""
    made = Made("lap", flat("a", (0, end), (0, 60)), POST, fit=mm(0.2))
    assert made.removed(0) == pytest.approx((end - 100) * 60 * 9)
    if walls == 2:
        assert made.removed(1) == pytest.approx(50 * 60.2 * 9)
    else:
        assert made.removed(1) == pytest.approx((30.2 * 60.2 + 2 * DISC) * 9)


def test_an_edge_lap_slots_both_from_their_edges() -> None:
    a = board("a", (0, 300), (0, 18), (0, 80))
    b = board("b", (100, 118), (-90, 90), (0, 100))
    made = Made("edge_lap", a, b, fit=mm(0.2), gap=mm(0.5))
    # they share 0..80 and meet at 40; b comes farther up and is slotted from below
    assert made.removed(0) == pytest.approx(T * (18.2 * 40.25 + 2 * DISC))
    assert made.removed(1) == pytest.approx(T * (18.2 * 40.25 + 2 * DISC))
    assert made.fits() == [(0.2, pytest.approx(0.2, abs=1e-6))] * 2
    assert [mating.follows for mating in made.joint.matings] == ["ply18", "ply18"]


def test_laps_of_boards_that_lie_otherwise_or_leave_nothing() -> None:
    edge = board("b", (100, 118), (-90, 90), (0, 80))
    found = wrong("lap", board("a", (0, 300), (0, 18), (0, 80)), edge)
    assert isinstance(found, amiss.LiesOtherwise)
    assert found.other == "edge_lap"
    found = wrong("edge_lap", RAIL, POST)
    assert isinstance(found, amiss.LiesOtherwise)
    assert found.other == "lap"
    found = wrong("lap", RAIL, POST, deep=mm(18))
    assert isinstance(found, amiss.LeavesNoWood)
    assert (found.board, found.depth, found.size, found.half) == ("b", 18, 18, 9)


# --- bridle --------------------------------------------------------------------------------------


@pytest.mark.parametrize("fit", [0.0, 0.1, 0.4])
def test_a_tee_bridle(fit: float) -> None:
    made = Made("bridle", RAIL, flat("b", (100, 150), (0, 200)), fit=mm(fit), gap=mm(0.5))
    assert made.removed(0) == pytest.approx(2 * (50 + fit) * 60 * 6)
    assert made.removed(1) == pytest.approx((6 + fit) * 50 * 60.5)
    assert made.fits() == [(fit, pytest.approx(fit, abs=1e-6))] * 2
    (fork,) = cuts(made.joint, "b")
    assert (fork.side, fork.depth) == (Side(Axis.Y, False), 60.5)


def test_a_corner_bridle_with_a_tongue_of_its_own_thickness() -> None:
    made = Made("bridle", RAIL, flat("b", (250, 300), (0, 200)), thick=mm(8), fit=mm(0))
    assert made.removed(0) == pytest.approx(2 * 50 * 60 * 5)
    assert made.removed(1) == pytest.approx(8 * 50 * 60)


def test_a_bridle_needs_an_end_to_fork() -> None:
    found = wrong("bridle", RAIL, POST)
    assert isinstance(found, amiss.NoEndToFork)
    assert (found.board, found.mate) == ("b", "a")


# --- sliding dovetail ----------------------------------------------------------------------------

SIDE = board("b", (0, 18), (0, 200), (0, 300))


def shelf(front: float = 0, back: float = 200, enters: float = 6) -> Board:
    return board("a", (18 - enters, 400), (front, back), (100, 118))


@pytest.mark.parametrize("taper", [0.0, 3.0])
@pytest.mark.parametrize("shoulder", [0.0, 1.0])
@pytest.mark.parametrize("fit", [0.05, 0.3])
def test_a_dovetail_right_across(taper: float, shoulder: float, fit: float) -> None:
    """Half way along the tail's root is t - 2 shoulder - 2 d tan a - taper / 2 wide; walls of a
    tapered slot lean a little more along the board's thickness than the bit does."""
    made = Made("dovetail", shelf(), SIDE, taper=mm(taper), shoulder=mm(shoulder),
                fit=mm(fit))  # fmt: skip
    lean = TAN * math.hypot(1, taper / 2 / 200)
    root = T - 2 * shoulder - 2 * 6 * lean - taper / 2
    deep = 6.2
    assert made.removed(1) == pytest.approx(200 * deep * (root + fit + deep * lean))
    assert made.removed(0) == pytest.approx(200 * 6 * (T - root - 6 * lean))
    assert made.fits() == [(fit, pytest.approx(fit, abs=1e-5))]
    assert [cut.slant for cut in made.joint.cuts] == pytest.approx([14] * 3)
    assert [cut.side for cut in cuts(made.joint, "a")] == [Side(Axis.X, False)] * 2


@pytest.mark.parametrize(("front", "stop"), [(0, 20), (30, None)])
def test_a_stopped_dovetail_ends_in_the_bits_round(front: int, stop: int | None) -> None:
    """The round begins a radius before A's edge or the stop, where the tail ends."""
    options: dict[str, Written] = {} if stop is None else {"stop": (Word("lo"), mm(stop))}
    made = Made("dovetail", shelf(front), SIDE, fit=mm(0), **options)
    start, deep, lean = front + (stop or 0) + 6.0, 6.2, TAN
    neck = 6 - deep * lean
    beyond = (T / 2 - 6 * lean) - neck  # from the middle to where the bit's middle runs
    spread, squared = (6 + neck) / 2, (36 + 6 * neck + neck**2) / 3
    slot = 2 * (beyond + spread) * (200 - start) + 2 * beyond * spread + math.pi / 2 * squared
    assert made.removed(1) == pytest.approx(deep * slot, rel=1e-6)
    whole = T * (start - front) * 6
    strips = (200 - start) * 6 * 6 * lean
    end = 6 * lean / 2 * 6 * (T - 2 * 6 * lean) + 2 * (6 * lean) ** 2 * 6 / 6
    assert made.removed(0) == pytest.approx(whole + strips + end, rel=1e-6)


def test_dovetails_that_cannot_be_cut() -> None:
    found = wrong("dovetail", shelf(30, 170), SIDE)
    assert isinstance(found, amiss.NoOpenEnd)
    found = wrong("dovetail", shelf(), SIDE, bits=[B6])
    assert isinstance(found, NoBitOfKind)
    slim = Bit(name="slim", kind=BitKind.DOVETAIL, radius=F(1), angle=F(14))
    found = wrong("dovetail", shelf(), SIDE, bits=[slim])
    assert isinstance(found, amiss.DovetailTooDeep)
    assert not found.of_tail
    assert found.most == pytest.approx(1 / TAN - 0.2)
    steep = Bit(name="steep", kind=BitKind.DOVETAIL, radius=F(30), angle=F(60))
    found = wrong("dovetail", shelf(), SIDE, bits=[steep])
    assert isinstance(found, amiss.DovetailTooDeep)
    assert found.of_tail
    wide = Bit(name="wide", kind=BitKind.DOVETAIL, radius=F(10), angle=F(14))
    assert isinstance(wrong("dovetail", shelf(), SIDE, bits=[wide]), SocketNarrowerThanBit)
    assert isinstance(wrong("dovetail", shelf(), SIDE, stop=mm(194)), StopTakesAll)


# --- mitres --------------------------------------------------------------------------------------

TOP = board("b", (0, 400), (0, 200), (282, 300))
WALL = board("a", (0, 18), (0, 200), (0, 300))


def test_a_mitre_takes_half_the_block_off_each() -> None:
    made = Made("mitre", WALL, TOP)
    assert made.removed(0) == pytest.approx(200 * T * T / 2)
    assert made.removed(1) == pytest.approx(200 * T * T / 2)
    assert {(cut.work, cut.bit) for cut in made.joint.cuts} == {(Work.BEVEL, "v90")}
    assert not any(cut.by_hand for cut in made.joint.cuts)


def test_a_mitre_of_two_thicknesses_is_sawn() -> None:
    made = Made("mitre", board("a", (0, 12), (0, 200), (0, 300), PLY12), TOP, fit=mm(0.2))
    block, back = 12 * T / 2, 0.1
    for index in (0, 1):  # the cut moves a tenth back, square to the slant
        assert made.removed(index) == pytest.approx(200 * (block + back * math.hypot(12, T)))
    assert {(cut.bit, cut.by_hand) for cut in made.joint.cuts} == {("saw", True)}


@pytest.mark.parametrize("degrees", [60, 45, 30, 120])
def test_a_mitre_at_any_angle_halves_it(degrees: int) -> None:
    """B is A turned about the corner's outside edge by 180 - degrees less; each loses a triangle
    as high as it is thick and as wide as t / tan(half the angle between them)."""
    a = board("a", (0, 300), (0, 18), (0, 100))
    pose = (turned(degrees - 180, Axis.Z, (0, 0, 0)),)
    b = board("b", (-300, 0), (0, 18), (0, 100), pose=pose)
    half = math.radians(degrees / 2)
    if degrees < 90:  # a blank at a sharp corner must reach round to the outside edge: it does
        assert math.tan(half) < 1
    made = Made("mitre", a, b)
    for index in (0, 1):
        assert made.removed(index) == pytest.approx(100 * T * T / math.tan(half) / 2, rel=1e-6)
    expected = {"v60"} if degrees == 120 else {"saw"}
    assert {cut.bit for cut in made.joint.cuts} == expected


def test_a_splined_mitre_slots_both_slants() -> None:
    made = Made("splined_mitre", WALL, TOP, width=mm(16), fit=mm(0.2))
    for index in (0, 1):
        assert made.removed(index) == pytest.approx(200 * (T * T / 2 + 4.2 * 8.5))
    (spline,) = made.joint.hardware
    assert (spline.ware, spline.sizes, spline.count) == (Ware.SPLINE, (4, 16, 200), 1)


def test_mitres_that_cannot_be_cut() -> None:
    found = wrong("mitre", WALL, board("b", (-5, 400), (0, 200), (282, 300)))
    assert isinstance(found, amiss.StandsProud)
    assert (found.board, found.axis, found.face, found.proud) == ("b", Axis.X, 0, 5)
    found = wrong("mitre", WALL, TOP, bit=Word("v60"))
    assert isinstance(found, amiss.BitMissesMitre)
    assert found.wanted == pytest.approx(90)
    small = Bit(name="small", kind=BitKind.V, radius=F(6), angle=F(90))
    found = wrong("mitre", WALL, TOP, bits=[small], bit=Word("small"))
    assert isinstance(found, amiss.BitMissesMitre)
    assert found.covers == pytest.approx(6)
    found = wrong("splined_mitre", WALL, TOP, width=mm(30))
    assert isinstance(found, amiss.SlotBreaksOut)
    assert found.most is not None
    assert isinstance(wrong("splined_mitre", WALL, TOP, width=mm(found.most + 0.01)),
                      amiss.SlotBreaksOut)  # fmt: skip
    Made("splined_mitre", WALL, TOP, width=mm(found.most - 0.01))
    short = board("b", (-300, -10), (0, 18), (0, 100), pose=(turned(-60, Axis.Z, (0, 0, 0)),))
    found = wrong("mitre", board("a", (-4, 300), (0, 18), (0, 100)), short)
    assert isinstance(found, StopsShort)
    assert found.short == pytest.approx(10, abs=0.001)


# --- spline and dowels ---------------------------------------------------------------------------

EDGE = flat("a", (0, 100), (0, 300))


def test_a_spline_between_two_edges() -> None:
    made = Made("spline", EDGE, flat("b", (100, 200), (0, 300)), fit=mm(0.1), deep=mm(8))
    for index in (0, 1):
        assert made.removed(index) == pytest.approx(300 * 6.1 * 8.5)
    (strip,) = made.joint.hardware
    assert strip.sizes == (6, 16, 300)


def test_a_stopped_spline() -> None:
    made = Made("spline", EDGE, flat("b", (100, 200), (0, 300)), stop=(Word("both"), mm(40)))
    for index in (0, 1):  # 6 deep and half a millimetre of gap; the ends are left round
        fillets = 4 * (1 - math.pi / 4) * 3**2
        assert made.removed(index) == pytest.approx((220 * 6.1 - fillets) * 6.5)


def test_splines_that_do_not_go_in() -> None:
    on_face = flat("b", (0, 100), (0, 300), (18, 36))
    assert isinstance(wrong("spline", EDGE, on_face), LiesFlat)
    wall = board("b", (100, 118), (0, 300), (-50, 80))
    assert isinstance(wrong("spline", EDGE, wall, deep=mm(18)), NothingLeftUnder)


def test_dowels_stand_in_a_row_of_holes() -> None:
    made = Made("dowels", EDGE, flat("b", (100, 200), (0, 300)), count=count(4), inset=mm(30))
    assert made.joint.bit == "d8"
    for index, deep in enumerate((14.5, 16.5)):  # two diameters each would be no length sold
        assert made.removed(index) == pytest.approx(4 * math.pi * 4**2 * deep, rel=1e-5)
    middles = [sorted(b.region.loops[0][0].centre for b in cuts(made.joint, n)) for n in "ab"]  # type: ignore[union-attr]
    assert middles[0] == middles[1] == [(30 + 80 * i, 9.0) for i in range(4)]
    (dowels,) = made.joint.hardware
    assert (dowels.ware, dowels.sizes, dowels.count) == (Ware.DOWEL, (8, 30), 4)


def test_a_straight_bit_goes_round_where_no_drill_fits() -> None:
    made = joint([EDGE, flat("b", (100, 200), (0, 300))], join("dowels", "a", "b"), bits=[B6, B8])
    assert (made.bit, made.bit_chosen) == ("b6", True)  # b8's flute is too short


def test_holes_that_break_out_or_crowd() -> None:
    wall = board("b", (100, 118), (0, 300), (-50, 80))
    found = wrong("dowels", EDGE, wall, deep=mm(16))
    assert isinstance(found, amiss.BoreBreaksOut)
    assert (found.board, found.most, found.across) == ("b", F(31, 2), False)
    found = wrong("dowels", EDGE, wall, diameter=mm(15))
    assert isinstance(found, amiss.BoreBreaksOut)
    assert (found.most, found.across) == (14, True)
    found = wrong("dowels", EDGE, wall, count=count(18), inset=mm(22))
    assert isinstance(found, amiss.PiecesCrowd)
    assert (found.most, found.apart) == (17, 16)
    Made("dowels", EDGE, wall, count=count(17), inset=mm(22))


def test_a_cross_dowel_bolts_a_shelf_to_a_side() -> None:
    wall = board("b", (100, 118), (0, 300), (-50, 80))
    made = Made("cross_dowel", EDGE, wall, count=count(2))
    assert made.removed(1) == pytest.approx(2 * math.pi * 3.5**2 * T, rel=1e-5)
    pocket = [cut for cut in cuts(made.joint, "a") if cut.side.axis == Axis.Z]
    assert [cut.depth for cut in pocket] == [15.0, 15.0]
    assert [(piece.ware, piece.sizes, piece.count) for piece in made.joint.hardware] == [
        (Ware.BOLT, (6, 53), 2),
        (Ware.CROSS_DOWEL, (10, 12), 2),
    ]


def test_cross_dowels_that_break_out() -> None:
    wall = board("b", (100, 118), (0, 300), (-50, 80))
    found = wrong("cross_dowel", EDGE, wall, set=mm(95))
    assert isinstance(found, amiss.BoreBreaksOut)
    assert (found.option, found.most) == ("set", 88)
    found = wrong("cross_dowel", EDGE, wall, long=mm(16))
    assert isinstance(found, amiss.BoreBreaksOut)
    assert (found.option, found.most) == ("long", 14)
    assert isinstance(wrong("cross_dowel", EDGE, flat("b", (100, 200), (0, 300))), LiesFlat)


# --- puzzle --------------------------------------------------------------------------------------


def knob(q: float, by: float) -> float:
    """The area of a knob and its neck beyond the line at `by`: a trapezoid between the middles of
    neck's and knob's discs, less a third of the one, plus a third of the other, on either side."""
    return math.sqrt(3) * q * (3 * q - 2 * by) + 8 * math.pi * q * by / 3


@pytest.mark.parametrize("fit", [0.0, 0.15, 0.4])
def test_a_puzzle_joint(fit: float) -> None:
    made = Made("puzzle", flat("a", (0, 430), (0, 200)), flat("b", (400, 800), (0, 200)),
                fit=mm(fit), knobs=count(4))  # fmt: skip
    q, by = 10.0, fit / 4
    assert made.removed(0) == pytest.approx(T * (200 * (3 * q + by) - 4 * knob(q, -by)), rel=1e-6)
    assert made.removed(1) == pytest.approx(T * (200 * by + 4 * knob(q, by)), rel=1e-6)
    if fit:
        assert made.fits() == [(fit, pytest.approx(fit, abs=0.003))]


def test_puzzles_that_cannot_be_cut() -> None:
    near = flat("a", (0, 430), (0, 200))
    assert isinstance(wrong("puzzle", near, flat("b", (400, 800), (0, 180))), amiss.NotEndToEnd)
    found = wrong("puzzle", near, flat("b", (400, 800), (0, 200)), knobs=count(9))
    assert isinstance(found, amiss.PiecesCrowd)
    assert found.most == 5
    fine = flat("b", (424, 800), (0, 200))
    assert isinstance(wrong("puzzle", near, fine), SocketNarrowerThanBit)


def test_the_largest_dovetail_bit_that_goes_in_is_picked() -> None:
    wide = Bit(name="wide", kind=BitKind.DOVETAIL, radius=F(10), angle=F(14))
    slim = Bit(name="slim", kind=BitKind.DOVETAIL, radius=F(3), angle=F(14))
    made = joint([SIDE, shelf()], join("dovetail", "a", "b"), bits=[slim, wide, D14])
    assert (made.bit, made.bit_chosen) == ("d14", True)


@pytest.mark.parametrize("family", ["dovetail", "mitre", "lap", "puzzle"])
@pytest.mark.parametrize(("deep", "found"), [(0.004, False), (0.006, True)])
def test_wood_in_wood_is_told_past_the_threshold_in_any_pose(
    family: str, deep: float, found: bool
) -> None:
    """Closed without any fit, then pushed into each other square to a leaning or a flat wall."""
    a, b, square = {
        "dovetail": (shelf(), SIDE, (0.0, 0.0, 1 / math.cos(math.radians(14)))),
        "mitre": (WALL, TOP, (0.0, 0.0, math.sqrt(2))),
        "lap": (RAIL, POST, (1.0, 0.0, 0.0)),
        "puzzle": (flat("a", (0, 430), (0, 200)), flat("b", (400, 800), (0, 200)), (1.0, 0, 0)),
    }[family]
    made = Made(family, a, b, fit=mm(0))
    one, other = (made.bodies.twin_body(i).solid for i in (0, 1))
    push = [deep * c for c in square]
    pose = (turned(33.7, Axis.Y, (5, 1, 2)), turned(-71, Axis.Z))
    pushed = solids.placed(one.translate(push), pose)
    assert solids.meet(pushed, solids.placed(other, pose)) == found
