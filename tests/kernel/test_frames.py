"""One board seen from another: exact where it can be, none where they are not square."""

import math
import random
from fractions import Fraction

import numpy as np
import pytest
from carpentry import board
from dryfit.kernel.board import Axis, Box, Move, Point, Shift, Span, Turn
from dryfit.kernel.frames import (
    Bridge,
    box_in,
    bridge,
    common,
    has_volume,
    pose_matrix,
    turned_gap,
)

F = Fraction
ORIGIN: Point = (F(0), F(0), F(0))


def random_moves(rng: random.Random, turns: int) -> tuple[Move, ...]:
    """Shifts, and turns by multiples of 360 / turns degrees, about lines anywhere."""

    def point() -> Point:
        x, y, z = (F(rng.randint(-900, 900), 7) for _ in range(3))
        return (x, y, z)

    return tuple(
        Shift(point())
        if rng.random() < 0.5
        else Turn(F(360, turns) * rng.randint(-turns, turns), Axis(rng.randrange(3)), point())
        for _ in range(rng.randint(0, 4))
    )


@pytest.mark.parametrize("seed", range(40))
def test_a_bridge_agrees_with_the_matrices_and_its_way_back_is_exact(seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311
    shared = random_moves(rng, turns=360)
    a = board("a", (0, 18), (3, 200), (0, 300), pose=random_moves(rng, 4) + shared)
    b = board("b", (5, 23), (-4, 90), (1, 70), pose=random_moves(rng, 4) + shared)
    between = bridge(b, a)
    assert between is not None
    p = (F(1, 3), F(2), F(5))
    placed = pose_matrix(b.pose) @ [*map(float, p), 1.0]
    seen = pose_matrix(a.pose) @ [*map(float, between.point(p)), 1.0]
    assert np.allclose(placed, seen, atol=1e-8, rtol=0)
    assert between.back.point(between.point(p)) == p
    assert between.after(between.back) == Bridge()
    other = bridge(a, b)
    assert other == between.back


def test_boards_of_one_assembly_keep_exact_figures_wherever_it_is_put() -> None:
    odd = (Turn(F(17), Axis.Z, (F(1), F(2), F(3))), Shift((F(1, 3), F(0), F(0))))
    a = board("a", (0, 18), (0, 200), (0, 300), pose=odd)
    b = board("b", (F(1, 7), F(127, 7)), (0, 200), (0, 300), pose=odd)
    assert box_in(b, a) == b.box


def test_equal_odd_turns_about_other_lines_snap_to_one_grid() -> None:
    at: Point = (F(100), F(0), F(0))
    a = board("a", (0, 18), (0, 200), (0, 300), pose=(Turn(F(30), Axis.Z, ORIGIN),))
    b = board("b", (0, 18), (0, 200), (0, 300), pose=(Turn(F(30), Axis.Z, at),))
    seen = box_in(b, a)
    assert seen is not None
    # turning about `at` instead of the origin adds at - R at; seen from a: R^-1 at - at
    assert abs(float(seen.x.lo) - (100 * math.cos(math.radians(30)) - 100)) < 1e-9
    assert abs(float(seen.y.lo) + 100 * math.sin(math.radians(30))) < 1e-9
    assert seen.z == Span(F(0), F(300))
    assert all(10**9 % seen[axis].lo.denominator == 0 for axis in Axis)


@pytest.mark.parametrize("degrees", [F(8), F(1, 1000), F(45)])
def test_boards_at_an_angle_have_no_box_in_each_other(degrees: Fraction) -> None:
    a = board("a", (0, 18), (0, 200), (0, 300))
    b = board("b", (0, 18), (0, 200), (0, 300), pose=(Turn(degrees, Axis.Y, ORIGIN),))
    assert box_in(b, a) is None
    assert bridge(b, a) is None


def test_four_quarter_turns_are_none() -> None:
    for axis in Axis:
        pose = (Turn(F(90), axis, (F(3), F(4), F(5))),) * 4
        turned = board("b", (0, 18), (0, 20), (0, 30), pose=pose)
        assert bridge(turned, board("a", (0, 18), (0, 20), (0, 30))) == Bridge()


def test_what_boxes_share_runs_backwards_where_they_are_apart() -> None:
    one = Box(Span(F(0), F(10)), Span(F(0), F(10)), Span(F(0), F(10)))
    other = Box(Span(F(4), F(14)), Span(F(10), F(20)), Span(F(13), F(20)))
    shared = common(one, other)
    assert [shared[axis].size for axis in Axis] == [6, 0, -3]
    assert not has_volume(shared)


@pytest.mark.parametrize(("lift", "gap"), [(F(10), -10.0), (F(30), 10.0), (F(20), 0.0)])
def test_the_gap_of_turned_boards(lift: Fraction, gap: float) -> None:
    """A 45 degree square prism of diagonal 20 standing on a plate: the vertical gap is exact."""
    plate = board("plate", (-50, 50), (-50, 50), (-20, 0))
    side = math.sqrt(200)
    half = F(side / 2)
    prism = board(
        "prism",
        (-half, half),
        (-30, 30),
        (-half, half),
        pose=(Turn(F(45), Axis.Y, ORIGIN), Shift((F(0), F(0), F(-10) + lift))),
    )
    assert abs(turned_gap(prism, plate) - gap) < 1e-6
