"""Laws of box joints of every kind, step joints, tongued corners and drawer locks, told from the
cut records by a reckoning of our own: the point test of `test_joints.py`."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from corner_strategies import (
    CORNERS,
    blind_boxes,
    box_kinds,
    drawer_locks,
    rounded_boxes,
    steps,
    tongued_corners,
)
from dryfit.kernel.board import Axis, Board, Box, Span
from dryfit.kernel.cuts import Cut, Mating, Work
from dryfit.kernel.delivered import delivered
from dryfit.kernel.frames import common, pose_matrix
from dryfit.kernel.insertion import Insertions, still_leaves
from dryfit.kernel.measure import mating_fit
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.region import area, bounds
from dryfit.kernel.solids import Bodies
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import Trial
from test_joints import NEAR, cut_trial, is_wood, probes

EACH = (box_kinds(), rounded_boxes(), blind_boxes(), steps(), tongued_corners(), drawer_locks())
"""Tried in turn, so that none is left to chance."""

BITES = {"none": 0.0, "half_round": 0.0, "corner": 1.0, "side": 2.0, "swept": 3.0, "long": 0.0}
"""How far a relief goes past the square region at most, in radii of the bit."""

BESIDES = 1.1
"""mm: a fit of 0.5 and a gap of 0.5 go past the shared wood, with a hair."""


def closing(trial: Trial) -> CutPlan:
    """The plan of a trial whose corners are cleared by a relief."""
    assume(trial.relief != "none")
    return cut_trial(trial)


@settings(max_examples=100, deadline=None)
@given(CORNERS)
def test_mates_share_no_wood(trial: Trial) -> None:
    plan = closing(trial)
    a, b = plan.boards
    rng = random.Random(7)  # noqa: S311
    for p in probes(plan, rng):
        assert not (is_wood(a, p, NEAR) and is_wood(b, p, NEAR)), (p, trial)


@pytest.mark.parametrize("kind", EACH)
def test_solids_share_no_wood(kind: st.SearchStrategy[Trial]) -> None:
    @settings(max_examples=20, deadline=None)
    @given(kind)
    def tried(trial: Trial) -> None:
        assert not Bodies(closing(trial)).meet(0, 1)

    tried()


@settings(max_examples=80, deadline=None)
@given(CORNERS)
def test_nothing_is_cut_but_the_shared_wood_and_its_reliefs(trial: Trial) -> None:
    """What a cut is asked for lies in the shared wood, but for fit and gap, or runs out of its
    board; what the bit leaves goes past that by the relief's bite at most."""
    plan, radius = cut_trial(trial), float(trial.design.bits[0].radius)
    shared = common(*(board.board.box for board in plan.boards))
    bite = BITES[trial.relief] * radius
    if trial.join.family == "blind_box" and trial.relief == "half_round":
        bite = radius  # the corners round a skin's end
    lengthened = 2 * radius if trial.relief == "long" else 0.0
    for board in plan.boards:
        for cut in board.cuts:
            assert area(cut.region) > 0
            assert cut.board == board.board.name != cut.mate
            rounds = radius if cut.work is Work.ROUND else 0.0  # beside the edge that it takes off
            _keeps_to(cut, shared, board.board.box, BESIDES + lengthened + rounds)
            _bites(cut, board.board.box, bite + 1e-6)


def _keeps_to(cut: Cut, shared: Box, blank: Box, reach: float) -> None:
    u0, v0, u1, v1 = bounds(cut.asked)
    for axis, lo, hi in zip(cut.side.plane, (u0, v0), (u1, v1), strict=True):
        assert lo >= float(shared[axis].lo) - reach or lo < float(blank[axis].lo)
        assert hi <= float(shared[axis].hi) + reach or hi > float(blank[axis].hi)


def _bites(cut: Cut, blank: Box, bite: float) -> None:
    """Past what is asked by the bite, or out in the air."""
    u0, v0, u1, v1 = bounds(cut.asked)
    r0, s0, r1, s1 = bounds(cut.region)
    u, v = (blank[axis] for axis in cut.side.plane)
    assert r0 >= u0 - bite or u0 < u.lo
    assert s0 >= v0 - bite or v0 < v.lo
    assert r1 <= u1 + bite or u1 > u.hi
    assert s1 <= v1 + bite or v1 > v.hi


def measurable(plan: CutPlan) -> tuple[Mating, ...]:
    """The plays of a joint, but for those across pins too narrow to hold, which are told: the
    measure takes what is less deep than a sound pin for wood in wood."""
    (joint,) = plan.joints
    return tuple(p for p in joint.matings if p.axis is not Axis.Y or _outer(plan) > 4)


def _outer(plan: CutPlan) -> float:
    """How wide the narrowest pin is, by the sockets for the pins along the corner."""
    shared = common(*(board.board.box for board in plan.boards)).y
    found = []
    sockets = (cut for cut in plan.joints[0].cuts if cut.work is not Work.ROUND)
    for cut in (cut for cut in sockets if Axis.Y in cut.side.plane):
        at = cut.side.plane.index(Axis.Y)
        box = bounds(cut.asked)
        found.append(min(box[at + 2], float(shared.hi)) - max(box[at], float(shared.lo)))
    return min(found)


@settings(max_examples=50, deadline=None)
@given(CORNERS)
def test_each_play_measured_is_the_fit_asked_for(trial: Trial) -> None:
    plan = closing(trial)
    bodies = Bodies(plan)
    (joint,) = plan.joints
    for play in joint.matings:
        assert abs(play.fit - play.asked) < 1e-9
    for play in measurable(plan):
        measured = mating_fit(bodies, play)
        if measured is not None:
            assert abs(measured - play.asked) < 0.01, (play, measured)


@settings(max_examples=20, deadline=None)
@given(CORNERS, st.sampled_from([Fraction(-1, 2), Fraction(-1, 10), Fraction(1, 5)]))
def test_stock_of_either_end_of_its_range_goes_together(trial: Trial, more: Fraction) -> None:
    """Both boards come thinner, or thicker. A play that follows a stock changes by that at most, by
    half where the board keeps its middle; all others stay. The pair goes together unless a play
    becomes less than nothing."""
    drawn = closing(trial)
    by_stock = {stock.name: stock.thick + more for stock in trial.design.stocks}
    bodies = Bodies(delivered(drawn, by_stock))
    follows = {play: -float(more) if play.follows else 0.0 for play in drawn.joints[0].matings}
    assume(all(play.asked + change >= 0 for play, change in follows.items()))
    for play in measurable(drawn):
        measured = mating_fit(bodies, play)
        if measured is not None:
            along = [change for other, change in follows.items() if other.axis == play.axis]
            low, high = min((0.0, *along)), max((0.0, *along))  # the least play along the axis
            assert low - 0.01 < measured - play.asked < high + 0.01, (play, measured)
    at_home = Bodies(drawn)
    out = Insertions(at_home).of(0, 1).out
    assert still_leaves(at_home, bodies, 0, 1, out) is not None


WAYS = {
    "box": ((Axis.Z, Axis.X), (Axis.Y,)),
    "blind_box": ((Axis.Z, Axis.X), (Axis.Y,)),
    "step": ((Axis.Z, Axis.X), ()),
    "tongued_corner": ((Axis.Z,), (Axis.X,)),
    "drawer_lock": ((Axis.X,), (Axis.Y,)),
}
"""Along which axes the strategies' boards come apart, each to the side it lies on, and along which
the joint holds them both ways."""


@settings(max_examples=40, deadline=None)
@given(CORNERS)
def test_the_pair_is_drawn_apart_the_right_way_and_no_other(trial: Trial) -> None:
    out = Insertions(Bodies(closing(trial))).of(0, 1).out
    free, held = WAYS[trial.join.family]
    for axis in free:
        away = _away(trial, axis)
        assert _among(_in_piece(trial, axis, away), out)
        assert not _among(_in_piece(trial, axis, -away), out)
    for axis, sign in product(held, (-1, 1)):
        assert not _among(_in_piece(trial, axis, sign), out)


def _away(trial: Trial, axis: Axis) -> int:
    """The side on which the first board lies of the second."""
    a, b = (board.box[axis] for board in trial.design.boards)
    return 1 if a.lo + a.hi > b.lo + b.hi else -1


def _in_piece(trial: Trial, axis: Axis, sign: int) -> tuple[float, ...]:
    turned = pose_matrix(trial.design.boards[0].pose)[:3, axis]
    return tuple(sign * float(c) for c in turned)


def _among(way: tuple[float, ...], ways: tuple[tuple[float, ...], ...]) -> bool:
    return any(sum(p * q for p, q in zip(way, each, strict=True)) > 1 - 1e-9 for each in ways)


@settings(max_examples=40, deadline=None)
@given(CORNERS)
def test_a_board_that_stands_in_the_corner_unjoined_is_not_cut(trial: Trial) -> None:
    """A third board of A's size, moved along the corner: it shares wood with both."""
    plan = cut_trial(trial)
    a, _ = trial.design.boards
    third = replace(a, name="third", box=_shifted(a, a.box.y.size / 3))
    outcome = cut_plan(replace(trial.design, boards=(*trial.design.boards, third)))
    assert outcome.value is not None
    assert outcome.value.boards[:2] == plan.boards
    assert outcome.value.boards[2].cuts == ()


def _shifted(board: Board, by: Fraction) -> Box:
    y = board.box.y
    return Box(board.box.x, Span(y.lo + by, y.hi + by), board.box.z)
