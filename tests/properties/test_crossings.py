"""Laws of laps, dovetails, mitres and their like, told from the cut records by a reckoning of our
own: the point test of `test_joints.py`."""

from __future__ import annotations

import random

from crossing_strategies import CROSSINGS, anyhow
from dryfit.kernel import solids
from dryfit.kernel.board import Axis
from dryfit.kernel.design import Design
from dryfit.kernel.insertion import Insertions
from dryfit.kernel.measure import mating_fit
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.profile import profiles
from dryfit.kernel.region import area
from dryfit.kernel.solids import Bodies, swept
from hypothesis import given, settings
from strategies import Trial
from test_joints import NEAR, cut_trial, is_wood, probes, stays_within

FAR_FROM_THE_TOUCH = ("cross_dowel",)
"""What bores a face of its own on purpose, away from where the boards meet."""


@settings(max_examples=100, deadline=None)
@given(CROSSINGS)
def test_mates_share_no_wood(trial: Trial) -> None:
    plan = cut_trial(trial)
    a, b = plan.boards
    rng = random.Random(7)  # noqa: S311
    for p in probes(plan, rng):
        assert not (is_wood(a, p, NEAR) and is_wood(b, p, NEAR)), (p, trial)


@settings(max_examples=50, deadline=None)
@given(CROSSINGS)
def test_nothing_is_cut_far_from_the_shared_wood(trial: Trial) -> None:
    plan = cut_trial(trial)
    if trial.join.family not in FAR_FROM_THE_TOUCH:
        # a spline's slot goes into the wood that stays by half its width, at most 8 mm here
        stays_within(plan, 6 * float(trial.design.bits[0].radius) + 10)


@settings(max_examples=40, deadline=None)
@given(CROSSINGS)
def test_each_play_measured_is_the_fit_asked_for(trial: Trial) -> None:
    plan = cut_trial(trial)
    bodies = Bodies(plan)
    for play in (play for joint in plan.joints for play in joint.matings):
        assert abs(play.fit - play.asked) < 1e-9
        measured = mating_fit(bodies, play)
        if measured is not None and not bodies.meet(0, 1):
            assert abs(measured - play.asked) < 0.01, (play, measured)


@settings(max_examples=40, deadline=None)
@given(CROSSINGS)
def test_the_pair_comes_apart(trial: Trial) -> None:
    bodies = Bodies(cut_trial(trial))
    assert not bodies.meet(0, 1)
    assert Insertions(bodies).of(0, 1).out


@settings(max_examples=30, deadline=None)
@given(CROSSINGS)
def test_what_is_cut_away_and_what_is_left_is_the_blank(trial: Trial) -> None:
    """Also: no cut is empty, and each names a mate."""
    for piece in cut_trial(trial).boards:
        for cut in piece.cuts:
            assert area(cut.region) > 0
            assert cut.mate not in (None, piece.board.name)
        square = [cut for cut in piece.cuts if cut.floor is None]
        if len(square) < len(piece.cuts) or not square:
            continue
        box = piece.board.box
        blank = float(box.x.size * box.y.size * box.z.size)
        whole = solids.true_body(type(piece)(board=piece.board, run=piece.run, cuts=()))
        tools = [swept(piece.board, cut, cut.region, 0.001) for cut in square]
        away = tools[0]
        for tool in tools[1:]:
            away += tool
        gone = solids.volume(solids.in_world(piece.board, whole.solid) ^ away)
        left = solids.volume(solids.true_body(piece).solid)
        assert abs(gone + left - blank) < 1e-6 * blank
        assert {cut.side.axis for cut in square} <= set(Axis)


@settings(max_examples=200, deadline=None)
@given(anyhow())
def test_boards_that_lie_anyhow_are_joined_clean_or_a_finding_says_why_not(design: Design) -> None:
    outcome = cut_plan(design)
    plan = outcome.value
    assert plan is not None
    if outcome.findings:
        assert all(finding.code[0] in "CJ" for finding in outcome.findings)
        return
    assert not Bodies(plan).meet(0, 1)
    assert len(profiles(plan)) == 2
