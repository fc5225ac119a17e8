"""Haunched, row, twin, wedged, pegged and loose tenons, fillets at the foot: closed forms."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from carpentry import (
    B6,
    PLY6,
    R3,
    areas,
    board,
    cuts,
    found,
    join,
    joint,
    listed,
    mm,
    planned,
    relief,
)
from dryfit.kernel.board import Axis, Board
from dryfit.kernel.cuts import Hardware, Side, Ware, Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Join, Word
from dryfit.kernel.measure import mating_fit
from dryfit.kernel.quantity import Quantity
from dryfit.kernel.region import area, bounds
from dryfit.kernel.sliding import blocked, free_travel
from dryfit.kernel.solids import Bodies, volume
from dryfit.kernel.thresholds import CHECK_CHORD

F = Fraction
R = 3.0
LEFT_OVER = (1 - math.pi / 4) * R**2
"""What a plain cutter leaves of a square corner, mm2."""
CORNER = (math.pi / 2 - 1) * R**2
"""What a corner relief takes beside it."""
POST = board("post", (0, 18), (0, 60), (0, 300))
RAIL = board("rail", (6, 200), (21, 39), (100, 180))
"""18 by 80, entering the post's face at x = 18 by 12 mm."""
D8 = Bit(name="d8", kind=BitKind.DRILL, radius=F(4), flute=F(70))


def number(count: int) -> Quantity:
    return Quantity(F(count))


def test_a_row_of_three_and_its_spaces() -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", edges=mm(10), row=number(3),
                                    relief=relief("none")))  # fmt: skip
    assert areas(made, "post") == pytest.approx([18.1 * 12.1 - 4 * LEFT_OVER] * 3, abs=1e-9)
    low, high, *spaces = areas(made, "rail", Work.THROUGH)
    assert (low, high) == pytest.approx([13 * 11 - LEFT_OVER] * 2, abs=1e-9)
    assert spaces == pytest.approx([13 * 12 - 2 * LEFT_OVER] * 2, abs=1e-9)
    assert {play.part_size for play in made.matings} == {18.0, 12.0}


def test_twins_are_parted_from_the_end() -> None:
    made = joint([POST, RAIL], join("tenon", "rail", "post", twin=number(2), relief=relief("none")))
    assert areas(made, "post") == pytest.approx([6.1 * 80.1 - 4 * LEFT_OVER] * 2, abs=1e-9)
    (slot,) = cuts(made, "rail")
    assert (slot.side, slot.depth) == (Side(Axis.X, False), 12.0)
    assert area(slot.region) == pytest.approx(6 * 82)


def test_a_bit_must_go_between_the_tenons() -> None:
    assert found([POST, RAIL], join("tenon", "rail", "post", row=number(7))) == []
    assert found([POST, RAIL], join("tenon", "rail", "post", row=number(8))) == ["C102"]


def test_a_haunch_enters_in_a_groove_out_of_the_end() -> None:
    rail = board("rail", (6, 200), (21, 39), (220, 300))
    made = joint([POST, rail], join("tenon", "rail", "post", edges=listed(0, 20), haunch=mm(5),
                                    relief=relief("none")))  # fmt: skip
    mortise, groove = cuts(made, "post")
    assert (mortise.depth, groove.depth) == (13.0, 5.0)
    assert area(mortise.region) == pytest.approx(18.1 * 60.1 - 4 * LEFT_OVER)
    assert area(groove.region) == pytest.approx(18.1 * (80.05 + 1) - 2 * LEFT_OVER)
    (notch,) = cuts(made, "rail")
    assert bounds(notch.asked) == (280.0, 5.0, 301.0, 13.0)


@pytest.mark.parametrize("kind", ["corner", "side", "swept", "long", "half_round"])
def test_a_fillet_at_the_foot_lies_in_a_wider_mouth(kind: str) -> None:
    made = join("tenon", "rail", "post", edges=mm(12), root=Word("fillet"), relief=relief(kind))
    plan, findings = planned([POST, RAIL], made)
    assert findings == ()
    (only,) = plan.joints
    assert areas(only, "rail", Work.THROUGH) == pytest.approx([13 * 13 - LEFT_OVER] * 2, abs=1e-9)
    mouth = cuts(only, "post")[-1]
    assert mouth.depth == R
    wide = bounds(mouth.asked)[3] - bounds(mouth.asked)[1]
    assert wide == pytest.approx(80 - 2 * 12 + 2 * R + 0.1, abs=3 * R if kind == "long" else 1e-9)
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    assert blocked(bodies.faces(1), bodies.faces(0), (1.0, 0.0, 0.0)) is None


def test_without_the_mouth_the_fillet_would_stand_in_the_way() -> None:
    made = join("tenon", "rail", "post", edges=mm(12), root=Word("fillet"), fit=mm(0))
    plan, _ = planned([POST, RAIL], made)
    post, rail = plan.boards
    narrow = tuple(cut for cut in post.cuts if cut.depth != R)
    without = replace(plan, boards=(replace(post, cuts=narrow), rail))
    bodies = Bodies(without)
    assert bodies.meet(0, 1)
    left = bodies.true(0) ^ bodies.true(1)
    relieved = 4 * CORNER * R  # the mortise's own reliefs take some of the fillets' ends
    assert 2 * LEFT_OVER * 18 - relieved < volume(left) < 2 * LEFT_OVER * 18


# ---- wedged --------------------------------------------------------------------------------------

SEAT = board("seat", (0, 300), (0, 200), (282, 300))
LEG = board("leg", (100, 160), (91, 109), (0, 305))


def wedged(leg: Board = LEG, **options: object) -> Join:
    return join("wedged_tenon", leg.name, "seat", edges=mm(6), fit=mm(0.2), **options)  # type: ignore


def test_wedges_and_their_saw_cuts() -> None:
    made = joint([SEAT, LEG], wedged())
    assert made.hardware == (
        Hardware(ware=Ware.WEDGE, sizes=(F(5, 2), F(18), F(37, 2)), count=2,
                 joint="wedged_tenon joint"),
    )  # fmt: skip
    slots = [cut for cut in cuts(made, "leg") if cut.by_hand]
    assert [cut.bit for cut in slots] == ["saw", "saw"]
    deep = 5 + 0.75 * 18
    assert [bounds(cut.region) for cut in slots] == [
        pytest.approx((305 - deep, 100 + 6 + 48 * i / 3 - 0.5, 306, 100 + 6 + 48 * i / 3 + 0.5))
        for i in (1, 2)
    ]


def test_the_flare_is_a_prismatoid() -> None:
    """Mouth (48.2 + 3) by 18.2, floor 48.2 by 18.2: half the slope's prism beyond the mortise."""
    plan, _ = planned([SEAT, LEG], wedged(relief=relief("none")))
    straight, _ = planned([SEAT, LEG], wedged(relief=relief("none"), flare=mm(0)))
    less = volume(Bodies(straight).body(0).solid) - volume(Bodies(plan).body(0).solid)
    slopes = 2 * 1.5 * 18.2 * 13.5 / 2
    corners = 4 * LEFT_OVER * 13.5  # the chisel squares what the bit left, that deep
    chords = CHECK_CHORD * 4 * math.pi / 2 * R * 13.5
    assert less == pytest.approx(slopes + corners, abs=chords)


def test_a_wedged_tenon_leaves_as_it_came() -> None:
    plan, _ = planned([SEAT, LEG], wedged())
    seat, leg = (Bodies(plan).faces(i) for i in range(2))
    assert blocked(leg, seat, (0.0, 0.0, -1.0)) is None
    assert free_travel(leg, seat, (0.0, 0.0, 1.0)) == pytest.approx(0, abs=1e-6)


# ---- pegged --------------------------------------------------------------------------------------

STILE = board("stile", (0, 40), (0, 18), (0, 300))
ENTERS = board("rail", (10, 200), (0, 18), (100, 180))


def test_pegs_lie_over_each_other_but_for_the_draw() -> None:
    made = joint([STILE, ENTERS], join("pegged_tenon", "rail", "stile", cheeks=mm(6), edges=mm(10),
                                       draw=mm(1.5)), bits=[B6, D8])  # fmt: skip
    own, tenon = (
        [cut for cut in made.cuts if cut.work is Work.BORE and cut.board == name]
        for name in ("stile", "rail")
    )
    assert [cut.depth for cut in (*own, *tenon)] == [None] * 4
    assert {cut.bit for cut in (*own, *tenon)} == {"d8"}
    for one, other in zip(own, tenon, strict=True):
        (z0, x0, z1, x1), (p0, q0, p1, q1) = bounds(one.region), bounds(other.region)
        assert (p0, p1) == pytest.approx((z0, z1))
        assert (x0 + x1) / 2 == pytest.approx(25)  # the middle of the tenon
        assert (q0 + q1) / 2 == pytest.approx(26.5)  # nearer the shoulder at x = 40
        assert area(one.region) == pytest.approx(16 * math.pi)
    assert made.hardware == (
        Hardware(ware=Ware.PEG, sizes=(F(8), F(18)), count=2, joint="pegged_tenon joint"),
    )


@pytest.mark.parametrize(
    ("options", "code"),
    [({}, None), ({"peg": mm(20)}, "J288"), ({"pegs": number(6)}, "J288"),
     ({"draw": mm(2.5)}, "J288"), ({"back": mm(5)}, "J288"), ({"drill": Word("b6")}, None),
     ({"drill": Word("r3")}, "C104"), ({"pegs": number(0)}, "J207")],
)  # fmt: skip
def test_pegs_that_do_not_go(options: dict[str, object], code: str | None) -> None:
    made = join("pegged_tenon", "rail", "stile", cheeks=mm(6), edges=mm(10), **options)  # type: ignore
    assert found([STILE, ENTERS], made, bits=[B6, R3, D8]) == ([] if code is None else [code])


# ---- loose ---------------------------------------------------------------------------------------

BUTTS = board("rail", (18, 200), (21, 39), (100, 180))


def test_a_loose_tenon_has_a_mortise_in_each_board() -> None:
    made = joint([POST, BUTTS], join("loose_tenon", "rail", "post"))
    (in_rail,), (in_post,) = cuts(made, "rail"), cuts(made, "post")
    assert (in_rail.side, in_rail.depth) == (Side(Axis.X, False), 26.0)
    assert (in_post.side, in_post.depth) == (Side(Axis.X, True), 10.0)
    for cut in (in_rail, in_post):
        assert area(cut.region) == pytest.approx(6.1 * 40.1 - 4 * LEFT_OVER, abs=1e-9)
    assert made.hardware == (
        Hardware(ware=Ware.TENON, sizes=(F(6), F(40), F(34)), count=1, joint="loose_tenon joint"),
    )


def test_a_row_of_loose_tenons_with_square_edges() -> None:
    made = joint([POST, BUTTS], join("loose_tenon", "rail", "post", row=number(2), width=mm(60),
                                     depth=listed(20, 12), thick=mm(9),
                                     relief=relief("corner")))  # fmt: skip
    for name in ("rail", "post"):
        assert areas(made, name) == pytest.approx([9.1 * 20.1 + 4 * CORNER] * 2, abs=1e-9)
    assert made.hardware[0].count == 2
    assert made.hardware[0].sizes == (9, 20, 32)


def test_a_loose_tenon_of_the_design_is_joined_as_any() -> None:
    """A board of its own across the seam: its two halves are tenons that enter whole."""
    slip = board("slip", (8, 40), (27, 33), (120, 160), stock=PLY6)
    plan, findings = planned([POST, BUTTS, slip], join("tenon", "slip", "rail, post"))
    assert findings == ()
    assert [cut.depth for one in plan.joints for cut in one.cuts] == [23.0, 11.0]
    assert not any(Bodies(plan).meet(i, 2) for i in range(2))


# ---- kinds together ------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["corner", "side", "swept", "long", "half_round"])
@pytest.mark.parametrize("root", ["relieved", "fillet"])
@pytest.mark.parametrize("z", [(220, 300), (100, 180)])
def test_haunch_and_fillet_go_together_in_mid_board_and_at_the_end(
    kind: str, root: str, z: tuple[int, int]
) -> None:
    rail = board("rail", (6, 200), (21, 39), z)
    made = join("tenon", "rail", "post", edges=listed(8, 20), haunch=mm(6), root=Word(root),
                relief=relief(kind), fit=mm(0.2))  # fmt: skip
    plan, findings = planned([POST, rail], made)
    assert {finding.code for finding in findings} <= {"C106"}
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    assert blocked(bodies.faces(1), bodies.faces(0), (1.0, 0.0, 0.0)) is None
    for play in plan.joints[0].matings:
        if kind not in ("side", "swept"):  # these take all of the walls between narrow ends
            assert mating_fit(bodies, play) == pytest.approx(0.2, abs=0.01)
