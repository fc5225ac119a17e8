"""Joints as they are shown: sawn off near their mate, inside or outside to the reader, drawn apart
along a way that is free."""

from __future__ import annotations

import math

import pytest
from carpentry import B6, board, join, planned, relief
from dryfit.kernel.apart import CLEAR, drawn_apart
from dryfit.kernel.board import Axis
from dryfit.kernel.closeup import close_up, inside, joint_middle, turned, turned_point, turned_to
from dryfit.kernel.picture import figure_of, sight
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.solids import Bodies
from pieces import turned as about

SIDE = board("side", (0, 18), (0, 180), (0, 300))
TOP = board("top", (0, 400), (0, 180), (282, 300))
SHELF = board("shelf", (12, 400), (0, 180), (100, 118))


def corner() -> CutPlan:
    return planned([SIDE, TOP], join("box", "side", "top"), bits=[B6])[0]


def tee() -> CutPlan:
    return planned([SHELF, SIDE], join("dado", "shelf", "side"), bits=[B6])[0]


def test_blanks_end_a_reach_beyond_their_mate() -> None:
    """The side spans 282 to 300 of the top's 18, the top 0 to 18 of the side's; both are as wide
    as before, and nothing is cut anew."""
    plan = corner()
    side, top = close_up(plan).boards
    assert (side.board.box.z.lo, side.board.box.z.hi) == (282 - 85, 300)
    assert (top.board.box.x.lo, top.board.box.x.hi) == (0, 18 + 85)
    assert [one.board.box.y for one in (side, top)] == [SIDE.box.y, TOP.box.y]
    assert [one.cuts for one in (side, top)] == [one.cuts for one in plan.boards]


def test_a_turned_board_is_sawn_off_along_itself() -> None:
    """A leg that leans 10 degrees in a seat 18 thick: along itself it spans at most what the seat
    does, 18 / cos 10 and its own width times tan 10, and 85 either way."""
    seat = board("seat", (0, 400), (0, 200), (300, 318))
    leg = board("leg", (170, 230), (91, 109), (0, 330), pose=(about(10, Axis.Y, (200, 100, 300)),))
    plan, _ = planned([seat, leg], join("tenon", "leg", "seat", relief=relief("corner")), bits=[B6])
    (_, short) = close_up(plan).boards
    assert short.board.box.x == leg.box.x
    assert 85 < short.board.box.z.size < 330
    assert short.board.box.z.hi == 330


@pytest.mark.parametrize(
    ("plan", "expected"),
    [(corner(), (math.sqrt(0.5), 0.0, -math.sqrt(0.5))), (tee(), (1.0, 0.0, 0.0))],
)
def test_the_inside_is_where_both_boards_go_off_to(
    plan: CutPlan, expected: tuple[float, float, float]
) -> None:
    assert inside(close_up(plan)) == pytest.approx(expected, abs=0.1)


def test_boards_that_cross_have_their_inside_above() -> None:
    one = board("one", (0, 300), (120, 180), (0, 18))
    other = board("other", (120, 180), (0, 300), (0, 18))
    plan, _ = planned([one, other], join("lap", "one", "other"), bits=[B6])
    assert inside(close_up(plan)) == (0.0, 0.0, 1.0)


@pytest.mark.parametrize("plan", [corner(), tee()])
@pytest.mark.parametrize("sign", [1, -1])
def test_what_is_asked_for_looks_at_the_reader(plan: CutPlan, sign: int) -> None:
    closed = close_up(plan)
    x, y, z = (sign * c for c in inside(closed))
    moves = turned_to(closed, (x, y, z), sight())
    seen = turned_point((x, y, z), moves)
    assert sum(a * b for a, b in zip(seen, sight(), strict=True)) >= 0.4
    moved = turned(closed, moves)
    assert joint_middle(moved) == pytest.approx(turned_point(joint_middle(closed), moves))
    assert not Bodies(moved).meet(0, 1)


@pytest.mark.parametrize("plan", [corner(), tee()])
def test_apart_is_out_by_a_clear_gap_along_an_axis(plan: CutPlan) -> None:
    """By what the boards share along the way, and the gap."""
    apart = drawn_apart(plan)
    assert apart is not None
    (run,) = (abs(c) for c in apart.by if c)
    assert run in (18 + CLEAR, 6 + CLEAR)
    assert not Bodies(apart.plan).meet(0, 1)
    assert math.dist(apart.away, apart.home) == pytest.approx(run)


def test_the_arrow_lies_over_the_figure_from_point_to_point() -> None:
    plan = corner()
    plain = figure_of(plan, most=0.5)
    home = joint_middle(plan)
    pointed = figure_of(plan, most=0.5, arrow=((home[0] + 60, home[1], home[2]), home))
    assert pointed.body[: len(plain.body)] == plain.body
    shaft, head = pointed.body[len(plain.body) :]
    assert 'fill="none"' in shaft
    assert head.endswith('Z"/>')
    short = figure_of(plan, most=0.5, arrow=((home[0] + 1, home[1], home[2]), home))
    assert short == plain  # shorter than its head
