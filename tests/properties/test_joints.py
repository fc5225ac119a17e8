"""Laws of joints, told from the cut records alone by a reckoning of our own.

Wood is a point test: a point is in a board's wood when it lies in the blank and in none of its
cuts. Regions are read by angles turned round the point, arcs and all; no library that the kernel
uses takes part.
"""

from __future__ import annotations

import math
import random
from itertools import product

from dryfit.kernel.board import Axis, Box
from dryfit.kernel.cuts import Cut, Work
from dryfit.kernel.frames import common
from dryfit.kernel.plan import BoardPlan, CutPlan, cut_plan
from dryfit.kernel.region import Arc, Line, Region, area, bounds
from hypothesis import assume, given, settings
from strategies import JOINTS, Trial

Point = tuple[float, float, float]
Flat = tuple[float, float]
NEAR = 0.004
"""mm: a point counts as wood of both boards only when it is this deep in both."""


def winding(region: Region, u: float, v: float) -> float:
    """Turns of the region's edges round a point off its rim."""
    turned = 0.0
    for loop in region.loops:
        for edge in loop:
            a0 = math.atan2(edge.start[1] - v, edge.start[0] - u)
            a1 = math.atan2(edge.end[1] - v, edge.end[0] - u)
            step = (a1 - a0 + math.pi) % (2 * math.pi) - math.pi
            if isinstance(edge, Arc):
                step += _round_the_segment(edge, u, v)
            turned += step
    return turned / (2 * math.pi)


def _round_the_segment(arc: Arc, u: float, v: float) -> float:
    """A whole turn more for a point between an arc and its chord, else nothing."""
    if math.dist((u, v), arc.centre) >= arc.radius:
        return 0.0
    (x0, y0), (x1, y1) = arc.start, arc.end
    side = (x1 - x0) * (v - y0) - (y1 - y0) * (u - x0)
    if arc.ccw:
        return 2 * math.pi if side < 0 else 0.0
    return -2 * math.pi if side > 0 else 0.0


def in_cut(plan: BoardPlan, cut: Cut, p: Point) -> bool:
    axis = cut.side.axis
    span = plan.board.box[axis]
    below = float(span.hi) - p[axis] if cut.side.positive else p[axis] - float(span.lo)
    if cut.depth is not None and below > cut.depth:
        return False
    u, v = cut.side.plane
    return winding(at_depth(cut, max(below, 0.0)), p[u], p[v]) > 0.5


def at_depth(cut: Cut, below: float) -> Region:
    """What a cut clears so deep under the face: every point of its rim lies on a straight line from
    the mouth to the floor."""
    if cut.floor is None or cut.depth is None:
        return cut.region
    share = below / cut.depth

    def between(p: Flat, q: Flat) -> Flat:
        return ((1 - share) * p[0] + share * q[0], (1 - share) * p[1] + share * q[1])

    loops = []
    for loop, under in zip(cut.region.loops, cut.floor.loops, strict=True):
        edges: list[Line | Arc] = []
        for e, f in zip(loop, under, strict=True):
            ends = between(e.start, f.start), between(e.end, f.end)
            if isinstance(e, Arc) and isinstance(f, Arc):
                edges.append(Arc(*ends, between(e.centre, f.centre), e.ccw))
            else:
                edges.append(Line(*ends))
        loops.append(tuple(edges))
    return Region(tuple(loops))


def is_wood(plan: BoardPlan, p: Point, near: float) -> bool:
    """True when the point and its neighbours `near` mm along every axis are wood."""
    around = [p, *(tuple(p[i] + s * near * (i == a) for i in range(3)) for a in Axis
                   for s in (-1, 1))]  # fmt: skip
    box = plan.board.box
    return all(
        all(float(box[a].lo) < q[a] < float(box[a].hi) for a in Axis)
        and not any(in_cut(plan, cut, q) for cut in plan.cuts)
        for q in around
    )


def probes(plan: CutPlan, rng: random.Random) -> list[Point]:
    """Points of the shared box: at random, and crowded round the corners of every cut."""
    a, b = (board.board.box for board in plan.boards)
    shared = common(a, b)

    def inside(axis: Axis) -> float:
        return rng.uniform(float(shared[axis].lo), float(shared[axis].hi))

    found: list[Point] = [(inside(Axis.X), inside(Axis.Y), inside(Axis.Z)) for _ in range(40)]
    for board in plan.boards:
        for cut in board.cuts[:4]:
            u0, v0, u1, v1 = bounds(cut.asked)
            u, v = cut.side.plane
            for cu, cv in product((u0, u1), (v0, v1)):
                for _ in range(3):
                    p = [inside(axis) for axis in Axis]
                    p[u], p[v] = cu + rng.uniform(-1, 1), cv + rng.uniform(-1, 1)
                    found.append((p[0], p[1], p[2]))
    return found


def cut_trial(trial: Trial) -> CutPlan:
    outcome = cut_plan(trial.design)
    assert outcome.value is not None
    # what can go wrong with a sound pair: a bit too wide, a lengthening or a stop without room
    assume(not any(joint.failed for joint in outcome.value.joints))
    assert outcome.value.joints
    return outcome.value


@settings(max_examples=120, deadline=None)
@given(JOINTS)
def test_mates_share_no_wood(trial: Trial) -> None:
    assume(trial.relief != "none")
    plan = cut_trial(trial)
    a, b = plan.boards
    rng = random.Random(7)  # noqa: S311
    for p in probes(plan, rng):
        assert not (is_wood(a, p, NEAR) and is_wood(b, p, NEAR)), (p, trial)


@settings(max_examples=60, deadline=None)
@given(JOINTS)
def test_nothing_is_cut_far_from_the_shared_wood(trial: Trial) -> None:
    """A cut stays within the shared box grown by the reliefs' reach; where its board ends within
    that, or the cut runs out over the board's own end, it goes on past the blank."""
    plan = cut_trial(trial)
    radius = float(trial.design.bits[0].radius)
    reach = 4 * radius + 0.6 if trial.relief == "swept" else 2 * radius + 0.6
    reach += 2 * radius  # a tongue set back from a lengthened stop
    stays_within(plan, reach)


def stays_within(plan: CutPlan, reach: float) -> None:
    """Every cut stays within the shared box grown by `reach`, or runs out of its board."""
    shared = common(*(board.board.box for board in plan.boards))
    for board in plan.boards:
        for cut in board.cuts:
            _stays(cut, shared, board.board.box, reach)


def _stays(cut: Cut, shared: Box, blank: Box, reach: float) -> None:
    u0, v0, u1, v1 = bounds(cut.region)
    for axis, lo, hi in zip(cut.side.plane, (u0, v0), (u1, v1), strict=True):
        assert lo >= float(shared[axis].lo) - reach or lo < float(blank[axis].lo)
        assert hi <= float(shared[axis].hi) + reach or hi > float(blank[axis].hi)


@settings(max_examples=60, deadline=None)
@given(JOINTS)
def test_every_play_is_the_fit_asked_for(trial: Trial) -> None:
    for joint in cut_trial(trial).joints:
        for play in joint.matings:
            assert abs(play.fit - play.asked) < 1e-9


@settings(max_examples=60, deadline=None)
@given(JOINTS)
def test_cuts_are_not_empty_and_say_where_they_come_from(trial: Trial) -> None:
    plan = cut_trial(trial)
    (joint,) = plan.joints
    assert joint.bit == "straight"
    assert {cut.joint for cut in joint.cuts} == {joint.name}
    for cut in joint.cuts:
        assert area(cut.region) > 0
        assert cut.mate != cut.board
        assert cut.by_hand == (cut.work is Work.ROUND)
        assert cut.depth is None or cut.depth > 0


def test_the_point_test_knows_arcs() -> None:
    """A disc of radius 5 with a round hole of radius 2."""
    from dryfit.kernel.planar import difference
    from dryfit.kernel.region import disc

    ring = difference(disc((1.0, 2.0), 5.0), disc((1.0, 2.0), 2.0))
    for u, v, expected in (
        (1.01, 2.03, 0),
        (1, 4.5, 1),
        (5.9, 2.01, 1),
        (6.1, 2.01, 0),
        (4.4, 5.4, 1),
        (4.6, 5.6, 0),
    ):
        assert round(winding(ring, u, v)) == expected
