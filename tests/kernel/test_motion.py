"""Travels and swings held to what can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import acos, asin, atan2, cos, degrees, hypot, radians, sin, tan

import numpy as np
import pytest
from dryfit.kernel.board import Axis, Board, Move
from dryfit.kernel.checks.assembly import motion_findings
from dryfit.kernel.design import BoardRef, Motion, Swing, Travel
from dryfit.kernel.frames import pose_matrix
from dryfit.kernel.motion import ARC_STEP, Stop, direction_of, room_of, stop_of
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.turning import Hinge, first_touch
from pieces import board, cut, exact, plan, shifted, turned
from test_sliding import block, body, solid

ANYHOW: tuple[Move, ...] = (turned(33.7, Axis.Y, (5, 1, 2)), turned(-71, Axis.Z), shifted(3, 4, 5))


def posed(*moves: Move) -> tuple[tuple[Move, ...], ...]:
    return ((), moves)


def travel(
    *names: str, along: tuple[float, float, float], far: float, pose: tuple[Move, ...] = ()
) -> Travel:
    x, y, z = map(exact, along)
    boards = tuple(map(BoardRef, names))
    return Travel(name="it", boards=boards, along=(x, y, z), distance=exact(far), pose=pose)


def swing(
    *names: str,
    about: Axis,
    at: tuple[float, float, float],
    by: float,
    pose: tuple[Move, ...] = (),
) -> Swing:
    x, y, z = map(exact, at)
    boards = tuple(map(BoardRef, names))
    return Swing(name="it", boards=boards, degrees=exact(by), about=about, at=(x, y, z), pose=pose)


def bodies_of(*boards: Board) -> Bodies:
    return Bodies(plan(*boards))


def stopped(bodies: Bodies, motion: Motion) -> Stop:
    found = stop_of(bodies, motion)
    assert found is not None
    return found


# ---- travels -------------------------------------------------------------------------------------


def frame(width: float, pose: tuple[Move, ...] = ()) -> tuple[Board, ...]:
    """Two cheeks 200 apart on a floor, a stop at the back, and a drawer of `width` before them."""
    middle = width / 2
    return (
        board("left", (-118, -100), (0, 200), (0, 60), pose=pose),
        board("right", (100, 118), (0, 200), (0, 60), pose=pose),
        board("floor", (-118, 118), (0, 200), (-18, 0), pose=pose),
        board("stop", (-118, 118), (200, 218), (0, 60), pose=pose),
        board("face", (-middle, middle), (-100, -82), (0, 50), pose=pose),
        board("tail", (-middle, middle), (-82, -10), (0, 18), pose=pose),
    )


@pytest.mark.parametrize("pose", posed(*ANYHOW))
def test_a_drawer_slides_on_its_floor_until_the_stop(pose: tuple[Move, ...]) -> None:
    bodies = bodies_of(*frame(199, pose))
    assert stop_of(bodies, travel("face", "tail", along=(0, 1, 0), far=210, pose=pose)) is None
    stop = stopped(bodies, travel("face", "tail", along=(0, 1, 0), far=211, pose=pose))
    assert (stop.moving, stop.still) == (5, 3)
    assert stop.after == pytest.approx(210, abs=1e-9)
    assert (stop.moving_cut, stop.still_cut) == (-1, -1)
    start, place = (np.linalg.inv(pose_matrix(pose)) @ (*point, 1.0) for point in stop.path)
    assert place[1] == pytest.approx(200, abs=0.01)
    assert start[1] == pytest.approx(-10, abs=0.01), "the back of the tail"
    assert start[[0, 2]] == pytest.approx(place[[0, 2]])


@pytest.mark.parametrize(("width", "fits"), [(200, True), (200.004, True), (200.1, False)])
def test_a_drawer_wider_than_its_opening_is_stopped_at_the_cheeks(width: float, fits: bool) -> None:
    bodies = bodies_of(*frame(width))
    found = stop_of(bodies, travel("face", "tail", along=(0, 1, 0), far=150))
    assert (found is None) == fits
    if found is not None:
        assert found.after == pytest.approx(10, abs=1e-9)
        assert bodies.plan.boards[found.still].board.name in ("left", "right")


def test_the_room_beside_a_drawer_is_that_at_its_tightest() -> None:
    room = room_of(bodies_of(*frame(199)), travel("face", "tail", along=(0, 1, 0), far=200))
    assert room is not None
    assert room.gap == 0  # it stands on the floor
    lifted = replace(travel("face", "tail", along=(0, 1, 0), far=200), boards=(BoardRef("face"),))
    boards = [b for b in frame(199) if b.name not in ("floor", "tail")]
    beside = room_of(bodies_of(*boards), lifted)
    assert beside is not None
    assert beside.gap == pytest.approx(0.5, abs=1e-6)
    assert room_of(bodies_of(boards[-1]), lifted) is None


def test_a_way_a_hair_off_an_axis_means_that_axis() -> None:
    pose = ANYHOW
    bodies = bodies_of(*frame(200, pose))
    rough = travel("face", "tail", along=(0.1, 100, 0.05), far=200, pose=pose)
    assert direction_of(bodies, rough) == direction_of(
        bodies, travel("face", along=(0, 1, 0), far=200, pose=pose)
    )
    assert stop_of(bodies, rough) is None
    off = travel("face", "tail", along=(0.3, 100, 0), far=200, pose=pose)
    assert stopped(bodies, off).after == pytest.approx(10 / cos(atan2(0.3, 100)), abs=0.01)


def test_a_slant_rises_over_a_step_where_it_can() -> None:
    crate = board("crate", (0, 100), (0, 100), (0, 18))
    step = board("step", (0, 100), (110, 200), (-10, 8))
    bodies = bodies_of(crate, step)
    assert stop_of(bodies, travel("crate", along=(0, 10, 8.01), far=200)) is None
    assert stopped(bodies, travel("crate", along=(0, 10, 7.9), far=200)).after == pytest.approx(
        10 * hypot(1, 0.79), abs=0.01
    )


def test_boards_that_overlap_where_they_start_are_left_to_other_findings() -> None:
    one, other = (
        board("one", (0, 100), (0, 18), (0, 50)),
        board("other", (0, 100), (9, 27), (0, 50)),
    )
    assert stop_of(bodies_of(one, other), travel("one", along=(0, 1, 0), far=50)) is None


def test_a_contact_is_told_with_the_cut_it_lies_in() -> None:
    bar = board("bar", (40, 60), (-50, 150), (0, 18))
    rail = board("rail", (0, 100), (0, 18), (-20, 40), stock="ply18")
    hole = cut("rail", "-y", rectangle(-1, 39, 19, 61), None, joint="window")
    bodies = Bodies(plan(bar, rail, cuts=(hole,)))
    assert stop_of(bodies, travel("bar", along=(0, 1, 0), far=500)) is None
    (found,) = motion_findings(
        Bodies(
            replace(
                bodies.plan,
                design=replace(
                    bodies.plan.design, motions=(travel("bar", along=(1, 0, 0), far=20),)
                ),
            )
        )
    )
    assert found.hit.after == pytest.approx(1)
    assert (found.hit.moving.cut_of, found.hit.still.cut_of) == (None, "window")
    assert (found.moves, found.asked, found.direction) == ("it", 20, (1.0, 0.0, 0.0))


# ---- swings --------------------------------------------------------------------------------------


@pytest.mark.parametrize("pose", posed(*ANYHOW))
@pytest.mark.parametrize("sense", [1, -1])
def test_a_door_meets_a_post_at_the_angle_of_its_corner(pose: tuple[Move, ...], sense: int) -> None:
    """Hung at the origin; the far face of the door, 18 off the hinge, meets the post's corner."""
    y = sorted((0.0, sense * 18.0))
    post = sorted((sense * 200.0, sense * 218.0))
    door = board("door", (0, 300), (y[0], y[1]), (0, 500), pose=pose)
    stop = board("post", (100, 200), (post[0], post[1]), (100, 300), pose=pose)
    expected = degrees(atan2(200, 200) - asin(18 / hypot(200, 200)))
    way = swing("door", about=Axis.Z, at=(0, 0, 0), by=sense * 90, pose=pose)
    found = stopped(bodies_of(door, stop), way)
    assert found.after == pytest.approx(expected, abs=0.003)
    path = [np.linalg.inv(pose_matrix(pose)) @ (*point, 1.0) for point in found.path]
    assert path[0][1] == pytest.approx(sense * 18, abs=0.01), "the far face of the door, closed"
    assert path[-1][:2] == pytest.approx((200, sense * 200), abs=0.01), "the post's corner"
    angles = [sense * degrees(atan2(y, x)) for x, y, *_ in path]
    assert angles[-1] - angles[0] == pytest.approx(found.after, abs=0.003)
    assert all(0 < there - here <= ARC_STEP for here, there in pairwise(angles))
    assert [hypot(*point[:2]) for point in path] == pytest.approx([hypot(200, 200)] * len(path))
    assert stop_of(bodies_of(door, stop), replace(way, degrees=exact(sense * 41))) is None
    back = replace(way, degrees=exact(-sense * 90))
    assert stop_of(bodies_of(door, stop), back) is None


def test_a_lid_lies_on_its_box_and_opens_about_its_back_edge() -> None:
    side = board("side", (0, 18), (0, 200), (0, 100))
    back = board("back", (0, 300), (200, 218), (0, 130))
    lid = board("lid", (0, 300), (0, 200), (100, 118))
    bodies = bodies_of(side, back, lid)
    # About its lower back edge the lid's back end swings out behind, into the board there.
    low = stopped(bodies, swing("lid", about=Axis.X, at=(0, 200, 100), by=-90))
    assert low.after == pytest.approx(0, abs=0.05)
    assert low.still == 1
    # About its upper one it goes in beneath, clear of the side, until it leans on the back.
    high = swing("lid", about=Axis.X, at=(0, 200, 118), by=-90)
    assert stop_of(bodies, high) is None
    leaning = stopped(bodies, replace(high, degrees=exact(-120)))
    assert leaning.after == pytest.approx(90, abs=0.1)


def test_a_leg_folds_past_a_rail_when_its_heel_is_short_enough() -> None:
    """The heel's corner swings on a circle round the pivot; the rail lies just in it or out."""
    pivot, heel, half = (0.0, 0.0), 30.0, 20.0
    reach = hypot(heel, half)
    leg = board("leg", (-half, half), (0, 18), (-heel, 300), stock="ply18")
    for gap, free in ((0.05, True), (-0.05, False)):
        low = round(-reach - gap, 3)
        rail = board("rail", (-200, 200), (0, 18), (low - 40, low))
        way = swing("leg", about=Axis.Y, at=(*pivot, 0.0), by=90)
        bodies = bodies_of(leg, rail)
        assert (stop_of(bodies, way) is None) == free
        if not free:
            at = degrees(acos(-low / reach))
            turned_to = degrees(atan2(half, heel)) - at
            assert stopped(bodies, way).after == pytest.approx(turned_to, abs=0.5)


def test_what_lies_beyond_the_reach_of_a_swing_is_not_met() -> None:
    door = board("door", (0, 300), (0, 18), (0, 500))
    above = board("above", (0, 300), (-300, 300), (500, 518))
    away = board("away", (301, 400), (0, 18), (0, 500))
    inside = board("inside", (-18, 0), (-100, -19), (0, 500))
    bodies = bodies_of(door, above, away, inside)
    assert stop_of(bodies, swing("door", about=Axis.Z, at=(0, 0, 0), by=170)) is None
    far = stopped(bodies, swing("door", about=Axis.Z, at=(0, 0, 0), by=-170))
    assert bodies.plan.boards[far.still].board.name == "inside"
    assert far.after == pytest.approx(90, abs=0.02)


@pytest.mark.parametrize("tilt", [0.0, 7.0, 40.0])
def test_edges_that_cross_meet_where_their_planes_say(tilt: float) -> None:
    """A rod turned up about x against a rod overhead, tilted: edge on edge, worked out in closed
    form. The upper left edge of the one meets the lower far edge of the other."""
    rod = block((-1, 0, -1), (1, 60, 1))
    slope = tan(radians(tilt))
    bar = body(
        solid((-60, 19, 30), (60, 30, 40)).transform([[1, 0, 0, 0], [0, 1, 0, 0], [slope, 0, 1, 0]])
    )
    touch = first_touch(rod, bar, Hinge((0, 0, 0), (1, 0, 0)), radians(90))
    assert touch is not None
    # That edge is z = 30 + slope x at y = 30, and lowest over the rod at x = -1.
    z = 30 - slope
    assert touch.angle == pytest.approx(atan2(z, 30) - asin(1 / hypot(30, z)), abs=1e-9)
    assert touch.place[1:] == pytest.approx((30, 30 + slope * touch.place[0]), abs=1e-6)
    assert tilt == 0 or touch.place[0] == pytest.approx(-1)


def test_a_whole_turn_past_what_it_never_meets_is_free_and_angles_have_a_sense() -> None:
    rod, ring = block((-1, 0, -1), (1, 40, 1)), block((-1, -60, -60), (1, -45, 60))
    hinge = Hinge((0, 0, 0), (1, 0, 0))
    assert first_touch(rod, ring, hinge, radians(720)) is None
    post = block((-1, -5, 30), (1, 5, 60))
    up, down = (first_touch(rod, post, hinge, radians(by)) for by in (360, -360))
    assert up is not None
    assert down is not None
    assert up.angle == pytest.approx(atan2(30, 5) - asin(1 / hypot(30, 5)))
    assert down.angle == pytest.approx(radians(360) - (atan2(30, -5) + asin(1 / hypot(30, 5))))
    assert sin(up.angle) > 0


def test_the_room_beside_a_swing_is_the_least_on_the_way() -> None:
    """The far corner of a door passes a post: they are nearest where it points at the post."""
    door = board("door", (0, 300), (0, 18), (0, 500))
    post = board("post", (-50, 50), (310, 350), (0, 500), stock="ply40")
    room = room_of(bodies_of(door, post), swing("door", about=Axis.Z, at=(0, 0, 0), by=120))
    assert room is not None
    assert (room.moving, room.still) == (0, 1)
    assert room.gap == pytest.approx(310 - hypot(300, 18), abs=0.03)
    far = board("post", (-50, 50), (400, 440), (0, 500), stock="ply40")
    assert room_of(bodies_of(door, far), swing("door", about=Axis.Z, at=(0, 0, 0), by=9)) is None
