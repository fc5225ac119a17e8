"""Is an overlap found exactly when wood overlaps, in any pose, and traced to the right cut?

Known answers: a sharp tenon in an unrelieved socket of a round cutter of radius r leaves
(4 - pi) r^2 d in four lumps, in closed form.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from dryfit.kernel import solids
from dryfit.kernel.board import Axis, Move
from dryfit.kernel.checks.findings import LeftoverWood, UnresolvedOverlap
from dryfit.kernel.checks.interference import interference, overlaps
from dryfit.kernel.finding import Finding
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.planar import as_cut, opened
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from hypothesis import given, settings
from hypothesis import strategies as st
from pieces import board, cut, joint, plan, shifted, turned

NO_NAMES: frozenset[str] = frozenset()


def found(made: CutPlan) -> tuple[Finding, ...]:
    bodies = Bodies(made)
    return interference(bodies, overlaps(bodies), NO_NAMES)


def stacked(gap: float, pose: tuple[Move, ...] = ()) -> CutPlan:
    """A board on a board, `gap` between them; negative is overlap."""
    lower = board("lower", (0, 200), (0, 300), (0, 18), pose=pose)
    upper = board("upper", (50, 250), (0, 300), (18 + gap, 36 + gap), pose=pose)
    return plan(lower, upper)


poses = st.tuples(
    st.fractions(0, 360, max_denominator=1000).map(lambda d: turned(float(d), Axis.X)),
    st.fractions(0, 360, max_denominator=1000).map(lambda d: turned(float(d), Axis.Y, (9, 0, 7))),
    st.fractions(0, 360, max_denominator=1000).map(lambda d: turned(float(d), Axis.Z)),
    st.integers(-2000, 2000).map(lambda n: shifted(n / 7, n / 3, -n)),
)


@given(poses)
@settings(max_examples=40, deadline=None)
def test_touching_and_less_than_the_threshold_is_silent_in_any_pose(pose: tuple[Move, ...]) -> None:
    assert found(stacked(0, pose)) == ()
    assert found(stacked(-0.004, pose)) == ()


@given(poses)
@settings(max_examples=40, deadline=None)
def test_more_than_the_threshold_is_found_in_any_pose(pose: tuple[Move, ...]) -> None:
    (finding,) = found(stacked(-0.006, pose))
    assert isinstance(finding, UnresolvedOverlap)
    (lump,) = finding.lumps
    assert lump.volume == pytest.approx(150 * 300 * 0.006, rel=1e-6)


def zero_fit(pose: tuple[Move, ...], deeper: float = 0.0) -> CutPlan:
    """A shelf exactly as thick as its dado and flush with its edges, wholly in."""
    side = board("side", (0, 18), (0, 200), (0, 300), pose=pose)
    shelf = board("shelf", (12 - deeper, 400), (0, 200), (100, 118), pose=pose)
    dado = cut("side", "+x", rectangle(-1, 100, 201, 118), 6, mate="shelf")
    return plan(side, shelf, cuts=(dado,), joints=(joint("shelf", "side"),))


@given(poses)
@settings(max_examples=40, deadline=None)
def test_a_joint_without_any_fit_is_silent_in_any_pose(pose: tuple[Move, ...]) -> None:
    assert found(zero_fit(pose)) == ()
    assert found(zero_fit(pose, 0.004)) == ()
    (finding,) = found(zero_fit(pose, 0.006))
    assert isinstance(finding, UnresolvedOverlap)
    assert finding.joints == ("joint",)


def test_boards_flush_with_each_other_are_silent() -> None:
    boards = [
        board(f"b{i}{j}", (200 * i, 200 * i + 200), (300 * j, 300 * j + 300), (0, 18))
        for i in range(3)
        for j in range(3)
    ]
    made = plan(*boards)
    assert found(made) == ()


def test_an_overlap_no_join_resolves_is_told_with_figures() -> None:
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)), board("shelf", (12, 400), (0, 200), (100, 118))
    )
    (finding,) = found(made)
    assert isinstance(finding, UnresolvedOverlap)
    assert (finding.first, finding.second) == ("side", "shelf")
    (lump,) = finding.lumps
    assert lump.volume == pytest.approx(6 * 200 * 18)
    assert lump.low == pytest.approx((12, 0, 100))
    assert lump.high == pytest.approx((18, 200, 118))


def socketed(relieved: bool, pose: tuple[Move, ...] = (), depth: float = 12) -> CutPlan:
    """A leg with a 40 x 20 socket cut by a 6 mm bit, a rail whose sharp end fills it."""
    leg = board("leg", (0, 60), (0, 60), (0, 400), stock="ply60", pose=pose)
    rail = board("rail", (60 - depth, 300), (20, 40), (300, 340), stock="ply20", pose=pose)
    asked = rectangle(20, 300, 40, 340)
    region = rectangle(17, 297, 43, 343) if relieved else opened(asked, 3.0)
    socket = cut("leg", "+x", region, depth, mate="rail", asked=asked)
    return plan(leg, rail, cuts=(socket,), joints=(joint("rail", "leg"),))


@pytest.mark.parametrize("pose", [(), (turned(31, Axis.Y, (1, 2, 3)), turned(17, Axis.X))])
def test_a_sharp_tenon_meets_the_fillets_of_its_socket(pose: tuple[Move, ...]) -> None:
    (finding,) = found(socketed(False, pose))
    assert isinstance(finding, LeftoverWood)
    (left,) = finding.left
    assert (left.board, left.mate, left.bit, left.radius) == ("leg", "rail", "b6", 3.0)
    assert len(finding.lumps) == 4
    assert len(left.corners) == 4
    closed_form = (4 - math.pi) * 3.0**2 * 12
    # Each fillet is cut along chords inside its true arc: more wood, never less.
    assert closed_form <= left.volume <= closed_form + 4 * 12 * 0.001 * 3 * math.pi / 2
    assert closed_form == pytest.approx(92.7080, abs=1e-4)


def test_a_relieved_socket_is_silent() -> None:
    assert found(socketed(True)) == ()


def test_the_corner_that_is_left_is_named() -> None:
    side = board("side", (0, 18), (0, 200), (0, 300))
    shelf = board("shelf", (12, 400), (0, 150), (100, 118))
    asked = rectangle(-1, 100, 150, 118)
    region = as_cut(asked, (0, 0, 200, 300), 3.0)
    dado = cut("side", "+x", region, 6, mate="shelf", asked=asked)
    (finding,) = found(plan(side, shelf, cuts=(dado,), joints=(joint("shelf", "side"),)))
    assert isinstance(finding, LeftoverWood)
    ends = [corner.ends for corner in finding.left[0].corners]
    assert ends == [((Axis.Y, True), (Axis.Z, False)), ((Axis.Y, True), (Axis.Z, True))]
    for lump in finding.lumps:
        assert (lump.low[1], lump.high[1]) == (pytest.approx(147), pytest.approx(150))


def test_a_failed_joint_and_an_explained_one_say_no_more() -> None:
    made = zero_fit((), 1.0)
    bodies = Bodies(made)
    overlap = overlaps(bodies)
    assert len(interference(bodies, overlap, NO_NAMES)) == 1
    assert interference(bodies, overlap, frozenset({"joint"})) == ()
    failed = plan(*(b.board for b in made.boards), joints=(joint("shelf", "side", failed=True),))
    assert overlaps(Bodies(failed)) == ()


def test_only_boards_in_a_pair_are_built() -> None:
    boards = [board(f"b{i}", (0, 200), (0, 300), (40 * i, 40 * i + 18)) for i in range(20)]
    bodies = Bodies(plan(*boards))
    assert overlaps(bodies) == ()
    assert bodies.made == 0


def test_volume_of_crossing_boards_by_sections() -> None:
    """Perpendicular boards with face cuts: V is the sum over slabs of section length by section
    length, with no solid involved (V = integral of a(y) b(y) dy)."""
    random = np.random.default_rng(7)
    one = board("one", (0, 200), (0, 120), (0, 18))
    other = board("other", (90, 108), (0, 120), (-80, 90))
    slots_one = [(10.0 * i, 10.0 * i + 6, float(random.integers(2, 17))) for i in range(1, 11, 2)]
    slots_other = [(7.0 * i, 7.0 * i + 5, float(random.integers(2, 17))) for i in range(1, 15, 3)]
    cuts = (
        *(cut("one", "+z", rectangle(-1, lo, 201, hi), d) for lo, hi, d in slots_one),
        *(cut("other", "+x", rectangle(lo, -81, hi, 91), d) for lo, hi, d in slots_other),
    )
    made = plan(one, other, cuts=cuts)
    edges = sorted({0.0, 120.0, *(e for lo, hi, _ in (*slots_one, *slots_other) for e in (lo, hi))})
    wanted = 0.0
    for lo, hi in pairwise(edges):
        middle = (lo + hi) / 2
        tall = 18.0 - max([d for a, b, d in slots_one if a < middle < b], default=0.0)
        wide = 18.0 - max([d for a, b, d in slots_other if a < middle < b], default=0.0)
        wanted += (hi - lo) * tall * wide
    (finding,) = found(made)
    assert isinstance(finding, UnresolvedOverlap)
    assert sum(lump.volume for lump in finding.lumps) == pytest.approx(wanted, abs=2e-5)


def test_the_radius_is_exact_in_the_finding() -> None:
    (finding,) = found(socketed(False))
    assert isinstance(finding, LeftoverWood)
    assert Fraction(finding.left[0].radius) == 3


def test_a_solid_is_asked_for_its_status() -> None:
    made = socketed(False)
    assert solids.meet(Bodies(made).twin(0), Bodies(made).twin(1))


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_broad_and_narrow_find_what_trying_all_pairs_finds(seed: int) -> None:
    random = np.random.default_rng(seed)
    boards = []
    for i in range(12):
        x, y, z = (float(c) for c in random.integers(0, 300, 3))
        turn = turned(float(random.choice([0, 90, 17, 45])), Axis(int(random.integers(0, 3))))
        spans = ((x, x + 120), (y, y + 18), (z, z + 60))
        boards.append(board(f"b{i}", *spans, pose=(turn,) if i % 3 else ()))
    bodies = Bodies(plan(*boards))
    every = [
        (i, j)
        for i in range(12)
        for j in range(i + 1, 12)
        if solids.meet(bodies.twin(i), bodies.twin(j))
    ]
    assert [(o.first, o.second) for o in overlaps(bodies)] == every


def test_a_veneer_thinner_than_the_threshold_is_still_a_board() -> None:
    veneer = board("veneer", (0, 200), (0, 300), (17, 17.004), stock="ply0.004")
    core = board("core", (0, 200), (0, 300), (0, 18))
    bodies = Bodies(plan(veneer, core))
    assert solids.volume(bodies.twin(0)) > 0
    assert overlaps(bodies) == ()


def drawers(*shifts: float) -> CutPlan:
    """Equal pairs of boards, the front of each shifted against its side."""
    boards = []
    for i, shift in enumerate(shifts):
        pose = (shifted(0, 0, 500 * i), turned(30 * i, Axis.Z))
        boards.append(board(f"side{i}", (0, 18), (0, 200), (0, 300), pose=pose))
        moved = (shifted(shift, 0, 0), *pose)
        boards.append(board(f"front{i}", (18, 400), (0, 18), (0, 300), pose=moved))
    return plan(*boards)


def test_equal_pairs_share_their_answer_and_only_they() -> None:
    told = found(drawers(0, -0.004, -0.006, 5, -1, 0))
    assert all(isinstance(finding, UnresolvedOverlap) for finding in told)
    pairs = [(f.first, f.second) for f in told if isinstance(f, UnresolvedOverlap)]
    assert pairs == [("side2", "front2"), ("side4", "front4")]


def test_a_row_of_equal_drawers_costs_as_much_as_one() -> None:
    made = []
    for count in (1, 20):
        bodies = Bodies(drawers(*[0.0] * count))
        assert overlaps(bodies) == ()
        made.append(bodies.made)
    assert made[0] == made[1]
