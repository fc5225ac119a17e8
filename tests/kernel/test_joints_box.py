"""Box joints: sockets and pins in closed form, and the fit between them.

A socket p wide in a board whose mate is t thick is p by t, and 1 mm longer where it runs out; the
cutter leaves (1 - pi/4) r^2 in each of its inside corners, a corner relief takes r^2 (pi/2 - 1)
off each, a side relief pi r^2 / 2 (reference geometry: uncleared corner, relief discs).
"""

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from carpentry import (
    B3,
    B6,
    B8,
    PLY12,
    R2,
    R3,
    areas,
    board,
    count,
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
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Word
from dryfit.kernel.findings import SocketNarrowerThanBit
from dryfit.kernel.joint_findings import (
    NoCorner,
    PinsMissTheWidth,
    RoundoverMismatch,
    StopsShort,
)
from dryfit.kernel.joints.carve import BESIDE
from dryfit.kernel.joints.pins import most_pins, odd_count
from dryfit.kernel.plan import Joint
from dryfit.kernel.quantity import Quantity
from dryfit.kernel.region import Arc, bounds

F = Fraction
R, T, W = 3.0, 18.0, 200.0
LEFT_OVER = (1 - math.pi / 4) * R**2
PER_CORNER = {
    "none": -LEFT_OVER,
    "half_round": -LEFT_OVER,
    "corner": (math.pi / 2 - 1) * R**2,
    "side": math.pi / 2 * R**2,
}
LEFT = board("left", (0, 18), (0, 200), (0, 300))
TOP = board("top", (0, 400), (0, 200), (282, 300))


@pytest.mark.parametrize("kind", PER_CORNER)
@pytest.mark.parametrize("pins", [2, 3, 5, 8, 11])
def test_areas_of_sockets(pins: int, kind: str) -> None:
    made = joint(
        [LEFT, TOP], join("box", "left", "top", pins=count(pins), fit=mm(0), relief=relief(kind))
    )
    pitch = W / pins
    inner = pitch * (T + 1) + 2 * PER_CORNER[kind]
    outer = (pitch + 1) * (T + 1) + PER_CORNER[kind]
    of_left = [inner] * (pins // 2) if pins % 2 else [inner] * (pins // 2 - 1) + [outer]
    of_top = [outer] + [inner] * (pins - len(of_left) - 1)
    if pins % 2:
        of_top[-1] = outer
    assert areas(made, "left", Work.THROUGH) == pytest.approx(of_left, abs=1e-9)
    assert areas(made, "top", Work.THROUGH) == pytest.approx(of_top, abs=1e-9)


@pytest.mark.parametrize(("pins", "contact"), [(5, 3683.488), (11, 3808.720)])
def test_mating_walls_and_floors_of_the_known_joint(pins: int, contact: float) -> None:
    """W 200, T 18, r 3.175, corner reliefs on both, no fit. Each relief disc takes 2k = r sqrt 2
    off the flank and off the root, so that (n - 1) (T - 2k)^2 of flanks touch and W T less 2k T
    for each of 2 (n - 1) corners of roots (a reckoning of ours made before the kernel)."""
    quarter_inch = Bit(name="q", kind=BitKind.STRAIGHT, radius=F("3.175"), flute=F(22))
    square = join("box", "left", "top", pins=count(pins), fit=mm(0))
    made = joint([LEFT, TOP], square, bits=[quarter_inch])
    flanks, roots = [], 0.0
    for cut in made.cuts:
        u_is_y = cut.side.plane[0] is Axis.Y
        for edge in cut.region.loops[0]:
            if isinstance(edge, Arc):
                continue
            across, along = (
                abs(clip(edge.end[i]) - clip(edge.start[i])) for i in ((0, 1) if u_is_y else (1, 0))
            )
            at = edge.start[1 if u_is_y else 0]
            if across > 1e-9 and at in (18.0, 282.0):
                roots += across * T
            elif along > 1e-9 and 0 < edge.start[0 if u_is_y else 1] < W:
                flanks.append(abs(edge.end[1] - edge.start[1] + edge.end[0] - edge.start[0]) - 1)
    assert len(flanks) == 2 * (pins - 1)
    walls = sum(length * length for length in flanks) / 2
    assert walls + roots == pytest.approx(contact, abs=5e-4)


def clip(value: float) -> float:
    return min(max(value, 0.0), 300.0 if value > 250 else W)


def spans_along_y(made: Joint, name: str) -> list[tuple[float, float]]:
    """The sockets' extents along y, whatever plane they are drawn in, kept inside the blank."""
    spans = []
    for cut in cuts(made, name, Work.THROUGH):
        u0, v0, u1, v1 = bounds(cut.asked)
        lo, hi = (u0, u1) if cut.side.plane[0] is Axis.Y else (v0, v1)
        spans.append((max(lo, 0.0), min(hi, W)))
    return spans


@pytest.mark.parametrize("fit", [0, 0.1, 0.4])
@pytest.mark.parametrize("first", ["first", "second"])
def test_every_socket_is_wider_than_its_pin_by_the_fit(fit: float, first: str) -> None:
    made = joint(
        [LEFT, TOP], join("box", "left", "top", pins=count(7), fit=mm(fit), first=Word(first))
    )
    left, top = spans_along_y(made, "left"), spans_along_y(made, "top")
    assert (left[0][0] == 0.0) == (first == "second")
    for sockets, others in ((left, top), (top, left)):
        for lo, hi in sockets:
            if lo == 0.0 or hi == W:
                continue
            pin_lo = max(h for _, h in others if h < hi)
            pin_hi = min(low for low, _ in others if low > lo)
            assert hi - lo - (pin_hi - pin_lo) == pytest.approx(fit, abs=1e-12)
            if fit == 0:
                assert hi - lo == pin_hi - pin_lo
    assert {round(m.fit, 9) for m in made.matings} == {fit}
    assert all(m.follows is None for m in made.matings)


def test_pins_of_a_list_begin_at_the_low_end() -> None:
    made = joint(
        [LEFT, TOP], join("box", "left", "top", pins=listed(30, 40, 60, 40, 30), fit=mm(0))
    )
    assert spans_along_y(made, "left") == [(30, 70), (130, 170)]
    assert spans_along_y(made, "top") == [(0, 30), (70, 130), (170, 200)]


def test_the_default_size_is_the_thicker_board() -> None:
    made = joint([LEFT, TOP], join("box", "left", "top"))
    assert len(cuts(made, "left")) + len(cuts(made, "top")) == odd_count(F(200), F(18)) == 11


def test_odd_counts_come_nearest() -> None:
    for width in range(20, 400, 7):
        for size in range(5, 40, 3):
            count_ = odd_count(F(width), F(size))
            assert count_ >= 3
            assert count_ % 2 == 1
            off = abs(F(width, count_) - size)
            assert all(off <= abs(F(width, n) - size) for n in range(3, 99, 2))


def test_sockets_are_cut_from_the_inside_of_the_corner() -> None:
    made = joint([LEFT, TOP], join("box", "left", "top", pins=count(5)))
    assert {cut.side for cut in cuts(made, "left")} == {Side(Axis.X, True)}
    assert {cut.side for cut in cuts(made, "top")} == {Side(Axis.Z, False)}
    assert all(cut.depth is None for cut in made.cuts)


def test_proud_pins_are_as_long_as_the_boards() -> None:
    """The left side runs 5 mm beyond the top: its sockets run out to its own end."""
    tall = board("left", (0, 18), (0, 200), (0, 305))
    made = joint([tall, TOP], join("box", "left", "top", pins=count(5), fit=mm(0)))
    for cut in cuts(made, "left"):
        _, v0, _, v1 = bounds(cut.asked)
        assert (v0, v1) == (282.0, 306.0)
    for cut in cuts(made, "top"):
        u0, _, u1, _ = bounds(cut.asked)
        assert (u0, u1) == (-1.0, 18.0)


def test_a_wider_board_keeps_its_wood_beside_the_joint() -> None:
    """The top is 20 mm wider at the back: the last socket in it has both flanks, 0.1 apart."""
    wide = board("top", (0, 400), (0, 220), (282, 300))
    made = joint([LEFT, wide], join("box", "left", "top", pins=count(5), fit=mm(0.1)))
    last = cuts(made, "top")[-1]
    _, v0, _, v1 = bounds(last.asked)
    assert (v0, v1) == pytest.approx((160 - 0.025, 200.05), abs=1e-12)


def test_half_round_rounds_the_pins_where_they_meet_fillets() -> None:
    made = joint(
        [LEFT, TOP], join("box", "left", "top", pins=count(5), relief=relief("half_round", "r3"))
    )
    rounds = [cut for cut in made.cuts if cut.work is Work.ROUND]
    assert len(rounds) == 2 * 4  # one for each of the four flanks inside, on either board
    assert {cut.side for cut in cuts(made, "left", Work.ROUND)} == {Side(Axis.Z, True)}
    assert {cut.side for cut in cuts(made, "top", Work.ROUND)} == {Side(Axis.X, False)}
    for cut in rounds:
        assert cut.depth == 18.0
        assert cut.by_hand
        assert cut.bit == "r3"
        # the spandrel, and a hair beyond either face of the edge, the flank's half of the fit more
        arc = next(e for e in cut.region.loops[0] if hasattr(e, "centre"))
        assert math.dist(arc.start, arc.centre) == pytest.approx(3.0, abs=1e-12)
    past = BESIDE + 0.05
    spandrel = LEFT_OVER + 2 * R * past + past**2
    assert areas(made, "top", Work.ROUND) == pytest.approx([spandrel] * 4, abs=1e-9)


def test_the_largest_bit_that_goes_in_and_reaches_is_picked() -> None:
    boards = [
        board("left", (0, 12), (0, 200), (0, 300), PLY12),
        board("top", (0, 400), (0, 200), (288, 300), PLY12),
    ]
    picked = joint(boards, join("box", "left", "top", pins=count(11)), bits=[B3, B6, B8])
    assert (picked.bit, picked.bit_chosen) == ("b8", True)
    thick = joint([LEFT, TOP], join("box", "left", "top", pins=count(11)), bits=[B3, B6, B8])
    assert (thick.bit, thick.bit_chosen) == ("b6", True)  # the flutes of the others are 12 long
    named = joint(
        boards, join("box", "left", "top", pins=count(11), bit=Word("b3")), bits=[B3, B6, B8]
    )
    assert (named.bit, named.bit_chosen) == ("b3", False)


def test_a_bit_of_the_companions_radius_is_preferred() -> None:
    boards = [
        board("left", (0, 12), (0, 200), (0, 300), PLY12),
        board("top", (0, 400), (0, 200), (288, 300), PLY12),
    ]
    rounded = join("box", "left", "top", pins=count(11), relief=relief("half_round", "r3"))
    made = joint(boards, rounded, bits=[B3, B6, B8, R3])
    assert made.bit == "b6"


def test_a_socket_narrower_than_the_bit() -> None:
    found_ = the_finding([LEFT, TOP], join("box", "left", "top", pins=count(41), fit=mm(0)))
    assert isinstance(found_, SocketNarrowerThanBit)
    assert (found_.width, found_.bit, found_.diameter) == (F(200, 41), "b6", 6)
    assert found_.most_pins == 33
    assert most_pins(F(200), F(6), F(0)) == 33
    assert found([LEFT, TOP], join("box", "left", "top", pins=count(33), fit=mm(0))) == []
    assert most_pins(F(10), F(6), F(0)) is None


@pytest.mark.parametrize("options", [{"pins": count(10**12)}, {"pin_size": mm(F(1, 10**9))}])
def test_a_million_pins_are_refused_before_they_are_drawn(options: dict[str, Quantity]) -> None:
    assert found([LEFT, TOP], join("box", "left", "top", **options)) == ["C102"]
    loose = join("box", "left", "top", fit=mm(100), **options)
    assert found([LEFT, TOP], loose) == ["J226"]


def test_pins_exactly_as_wide_as_the_bit_are_cut() -> None:
    boards = [
        board("left", (0, 18), (0, 66), (0, 300)),
        board("top", (0, 400), (0, 66), (282, 300)),
    ]
    made = joint(
        boards, join("box", "left", "top", pins=count(11), fit=mm(0), relief=relief("none"))
    )
    assert areas(made, "left") == pytest.approx([6 * 19 - 2 * LEFT_OVER] * 5, abs=1e-4)


def test_pins_that_miss_the_width() -> None:
    found_ = the_finding([LEFT, TOP], join("box", "left", "top", pins=listed(50, 50, 50)))
    assert isinstance(found_, PinsMissTheWidth)
    assert (found_.total, found_.width, found_.last) == (150, 200, 100)


@pytest.mark.parametrize(
    ("companion", "over"),
    [("r2", -1), ("r4", 1)],
)
def test_a_companion_of_another_radius(companion: str, over: int) -> None:
    """A round-over q in a fillet R leaves (sqrt 2 - 1) (q - R) on the bisector."""
    r4 = Bit(name="r4", kind=R3.kind, radius=F(4), by_hand=True)
    wrong = join("box", "left", "top", fit=mm(0), relief=relief("half_round", companion))
    found_ = the_finding([LEFT, TOP], wrong, bits=[B6, R2, R3, r4])
    assert isinstance(found_, RoundoverMismatch)
    assert found_.gap == pytest.approx((math.sqrt(2) - 1) * over, abs=1e-12)
    assert found_.matching == "r3"


def test_boards_that_form_no_corner() -> None:
    through = board("top", (-100, 400), (0, 200), (282, 300))
    found_ = the_finding([LEFT, through], join("box", "left", "top"))
    assert isinstance(found_, NoCorner)
    assert found_.board == "top"
    flat = board("top", (0, 18), (0, 200), (250, 550))
    parallel = the_finding([LEFT, flat], join("box", "left", "top"))
    assert isinstance(parallel, NoCorner)
    assert parallel.parallel


def test_a_board_that_ends_inside_its_mate() -> None:
    short = board("top", (6, 400), (0, 200), (282, 300))
    found_ = the_finding([LEFT, short], join("box", "left", "top"))
    assert isinstance(found_, StopsShort)
    assert (found_.board, found_.end, found_.face, found_.short) == ("top", 6, 0, 6)


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ({"pins": count(1)}, "J207"),
        ({"pins": count(2.5)}, "J206"),
        ({"pins": mm(20)}, "J206"),
        ({"pins": listed(200)}, "J207"),
        ({"pins": listed(-10, 210)}, "J207"),
        ({"pin_size": mm(0)}, "J207"),
        ({"pins": count(5), "pin_size": mm(20)}, "J208"),
        ({"first": Word("left")}, "J209"),
        ({"relief": Word("long")}, "J209"),
        ({"fit": mm(-0.1)}, "J207"),
        ({"fit": mm(300)}, "J226"),
        ({"gap": mm(1)}, "J204"),
        ({"bit": Word("b9")}, "C103"),
        ({"bit": Word("r3")}, "C104"),
        ({"relief": relief("half_round", "b6")}, "C104"),
        ({"relief": relief("half_round", "r9")}, "C103"),
    ],
)
def test_bad_options(options: dict[str, object], code: str) -> None:
    assert found([LEFT, TOP], join("box", "left", "top", **options)) == [code]  # type: ignore[arg-type]


def test_outer_flanks_are_the_boards_own_edges() -> None:
    made = joint([LEFT, TOP], join("box", "left", "top", pins=count(5), fit=mm(0.4)))
    top = spans_along_y(made, "top")
    assert top[0] == pytest.approx((0, 40.1))
    assert top[-1] == pytest.approx((159.9, 200))
    for (_, hi), (lo, _) in pairwise(top):
        assert lo - hi == pytest.approx(40 - 0.2)
