"""Boards turned against each other about a shared axis: matrices and carries move points alike."""

import math
from fractions import Fraction

import numpy as np
import pytest
from dryfit.kernel.board import Axis, Move
from dryfit.kernel.cuts import Side
from dryfit.kernel.frames import pose_matrix
from dryfit.kernel.region import area
from dryfit.kernel.tilt import Carry, tilt
from pieces import board, shifted, turned

A = board("a", (0, 18), (0, 60), (0, 300))

POSES: dict[str, tuple[Move, ...]] = {
    "splayed": (turned(8, Axis.Y, (10, 20, 30)),),
    "laid over and splayed": (turned(90, Axis.X), turned(-12, Axis.Y), shifted(3, 4, 5)),
    "upside down": (turned(180, Axis.Y), turned(30, Axis.Z, (1, 2, 3))),
    "an eighth": (turned(45, Axis.X),),
}


@pytest.mark.parametrize("pose", POSES.values(), ids=POSES)
@pytest.mark.parametrize("behind", [(), (turned(33, Axis.Z), shifted(7, 8, 9))])
def test_a_tilt_moves_points_as_matrices_do(
    pose: tuple[Move, ...], behind: tuple[Move, ...]
) -> None:
    b = board("b", (0, 18), (0, 60), (0, 300), pose=(*pose, *behind))
    a = board("a", (0, 18), (0, 60), (0, 300), pose=behind)
    found = tilt(b, a)
    assert found is not None
    relative = np.linalg.inv(pose_matrix(a.pose)) @ pose_matrix(b.pose)
    for point in ((0.0, 0.0, 0.0), (1.5, -20.0, 300.0), (18.0, 60.0, 7.25)):
        there = relative @ np.array([*point, 1.0])
        u, v = Side(found.b_axis, True).plane
        flat = found.carry.point((point[u], point[v]))
        p, q = Side(found.a_axis, True).plane
        assert flat == pytest.approx((there[p], there[q]), abs=1e-9)
        along = found.sign * point[found.b_axis] + float(found.along)
        assert along == pytest.approx(there[found.a_axis], abs=1e-8)


@pytest.mark.parametrize(
    ("pose", "degrees"), [((turned(8, Axis.Y),), 8), ((turned(60, Axis.Z),), 30),
                          ((turned(-100, Axis.X),), 10), ((turned(45, Axis.X),), 45)],
)  # fmt: skip
def test_how_far_from_square(pose: tuple[Move, ...], degrees: float) -> None:
    found = tilt(board("b", (0, 18), (0, 60), (0, 300), pose=pose), A)
    assert found is not None
    assert found.degrees == pytest.approx(degrees, abs=1e-12)


def test_two_turns_about_two_axes_share_none() -> None:
    twice = (turned(8, Axis.Y), turned(5, Axis.X))
    assert tilt(board("b", (0, 18), (0, 60), (0, 300), pose=twice), A) is None


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_carry_goes_there_and_back(mirrored: bool) -> None:
    cos, sin = math.cos(0.3), math.sin(0.3)
    carry = Carry((cos, sin), (sin, -cos) if mirrored else (-sin, cos), (3.0, -4.0))
    assert carry.mirrors == mirrored
    assert carry.back.mirrors == mirrored
    assert carry.back.point(carry.point((5.0, 6.0))) == pytest.approx((5.0, 6.0), abs=1e-12)
    assert carry.direction((1.0, 0.0)) == carry.of_u


def test_leaves_stand_where_their_boards_do() -> None:
    from carpentry import join, planned
    from dryfit.kernel.blanks import sound_blanks
    from dryfit.kernel.design import BoardRef
    from dryfit.kernel.frames import Bridge
    from dryfit.kernel.joints.drawn import polygon
    from dryfit.kernel.joints.meeting import Part
    from dryfit.kernel.joints.tilted import leaves

    pose = (turned(180, Axis.X), turned(10, Axis.Y, (9, 0, 150)))
    plan, _ = planned(
        [A, board("b", (0, 18), (0, 60), (0, 300), pose=pose)], join("dado", "b", "a")
    )
    blanks, _ = sound_blanks(plan.design)
    parts = [
        Part(ref=BoardRef(blank.board.name), board=blank.board, stock=blank.stock, run=blank.run,
             box=blank.board.box, own=Bridge())
        for blank in blanks
    ]  # fmt: skip
    between = tilt(parts[1].board, parts[0].board)
    assert between is not None
    first, second = leaves(parts[0], parts[1], between)
    assert (first.span.lo, first.span.hi) == (0, 60)
    assert (second.span.lo, second.span.hi) == (-60, 0)
    for leaf in (first, second):
        outline = polygon(leaf.outline)
        assert area(outline) == pytest.approx(18 * 300)
        assert area(leaf.own_region(outline)) == pytest.approx(18 * 300)
        assert leaf.own_span(leaf.span) == leaf.part.box[leaf.axis]
    assert second.limits == (0.0, 0.0, 300.0, 18.0)
    assert Fraction(second.along) == 0
