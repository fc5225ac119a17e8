"""Tongue and groove: sections in closed form, lips of short grain, which way the boards part."""

import math
from fractions import Fraction

import pytest
from carpentry import B6, areas, board, cuts, found, join, joint, mm, planned, relief, the_finding
from dryfit.kernel.board import Axis
from dryfit.kernel.checks.walls import wall_findings
from dryfit.kernel.cuts import Side, Work
from dryfit.kernel.design import Word
from dryfit.kernel.joint_findings import OpensAtEdge
from dryfit.kernel.region import bounds
from dryfit.kernel.sliding import blocked, free_travel
from dryfit.kernel.solids import Bodies, volume
from dryfit.kernel.tenon_findings import ShortLip

F = Fraction
SIDE = board("side", (0, 18), (0, 200), (0, 306))
TOP = board("top", (0, 400), (0, 200), (300, 318))
"""A case's corner: the side's end 6 into the top's underside, flush with the top's end."""
LEFT = board("left", (0, 106), (0, 300), (0, 18))
RIGHT = board("right", (100, 200), (0, 300), (0, 18))


def test_a_third_of_the_thickness_in_the_middle() -> None:
    made = joint([SIDE, TOP], join("tongue", "side", "top"))
    (groove,) = cuts(made, "top")
    assert (groove.side, groove.work, groove.depth) == (Side(Axis.Z, False), Work.POCKET, 6.5)
    assert areas(made, "top") == pytest.approx([6.1 * 202], abs=1e-9)
    cheeks = cuts(made, "side")
    assert [(cut.side, cut.depth) for cut in cheeks] == [
        (Side(Axis.X, False), 6.0),
        (Side(Axis.X, True), 6.0),
    ]
    assert areas(made, "side") == pytest.approx([202 * 7] * 2, abs=1e-9)
    (play,) = made.matings
    assert (play.part_size, play.follows) == (6.0, "ply18")


@pytest.mark.parametrize(("word", "low", "high"), [("both", 4.0, 4.0), ("lo", 8.0, 0.0),
                                                   ("hi", 0.0, 8.0)])  # fmt: skip
def test_shoulders_on_both_faces_or_on_one(word: str, low: float, high: float) -> None:
    """Edge to edge, so that each shoulder has wood of the mate under it."""
    boards = [LEFT, RIGHT]
    made = joint(boards, join("tongue", "left", "right", thick=mm(10), shoulders=Word(word)))\
        if word == "both" else None  # fmt: skip
    if made is None:
        wrong = the_finding(boards, join("tongue", "left", "right", thick=mm(10),
                                         shoulders=Word(word)))  # fmt: skip
        assert isinstance(wrong, OpensAtEdge)
        side = board("side", (20, 38), (0, 200), (0, 306))
        made = joint([side, TOP], join("tongue", "side", "top", thick=mm(10),
                                       shoulders=Word(word)))  # fmt: skip
        boards = [side, TOP]
    depths = {cut.side.positive: cut.depth for cut in cuts(made, boards[0].name)}
    assert depths == {high_side: off for high_side, off in ((False, low), (True, high)) if off}


def test_an_edge_joint_weighs_what_its_section_says() -> None:
    plan, _ = planned([LEFT, RIGHT], join("tongue", "left", "right"))
    bodies = Bodies(plan)
    left, right = (volume(bodies.body(i).solid) for i in range(2))
    assert left == pytest.approx((106 * 18 - 6 * 12) * 300, rel=1e-9)
    assert right == pytest.approx((100 * 18 - 6.5 * 6.1) * 300, rel=1e-9)


def test_the_boards_part_along_the_groove_and_out_of_it() -> None:
    plan, _ = planned([LEFT, RIGHT], join("tongue", "left", "right"))
    left, right = (Bodies(plan).faces(i) for i in range(2))
    for way in ((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)):
        assert blocked(left, right, way) is None
    for way in ((0.0, 0.0, 1.0), (0.0, 0.0, -1.0)):
        assert free_travel(left, right, way) == pytest.approx(0.05, abs=1e-9)


def test_a_stopped_groove_is_covered() -> None:
    made = joint(
        [SIDE, TOP], join("tongue", "side", "top", stop=(Word("lo"), mm(20)), relief=relief("none"))
    )
    left_over = (1 - math.pi / 4) * 9
    assert areas(made, "top") == pytest.approx([6.1 * 181 - 2 * left_over], abs=1e-9)
    (notch,) = cuts(made, "side", Work.THROUGH)
    assert bounds(notch.asked)[:2] == (-1.0, 300.0)
    assert bounds(notch.asked)[2:] == pytest.approx((20.05, 307.0))


@pytest.mark.parametrize(("thick", "lip"), [(6, None), (9, F(9, 2)), (8, 5)])
def test_a_lip_of_short_grain_is_told_under_a_third(thick: int, lip: Fraction | None) -> None:
    plan, findings = planned([SIDE, TOP], join("tongue", "side", "top", thick=mm(thick)))
    if lip is None:
        assert findings == ()
    else:
        (told,) = findings
        assert isinstance(told, ShortLip)
        assert (told.lip, told.least, told.mended) == (lip, 6, 6)
    assert wall_findings(plan) == ()  # told once, by the rule for lips


def test_one_shoulder_outside_makes_the_lip_wider() -> None:
    inwards = join("tongue", "side", "top", thick=mm(9), shoulders=Word("lo"))
    assert found([SIDE, TOP], inwards) == []


def test_beside_the_grain_no_lip_is_short() -> None:
    along = board("top", (0, 400), (0, 900), (300, 318))
    side = board("side", (0, 18), (0, 900), (0, 306))
    assert found([side, along], join("tongue", "side", "top", thick=mm(9))) == []


def test_a_bit_wider_than_the_tongue() -> None:
    assert found([SIDE, TOP], join("tongue", "side", "top", thick=mm(5)), bits=[B6]) == ["C102"]
