"""Where the bit's centre turns and stops along the walls of a cut, against turns worked by hand."""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.planar import as_cut
from dryfit.kernel.region import Region, area, disc, rectangle
from dryfit.kernel.relief import Relief, relieved
from dryfit.kernel.wallpath import STOP, Change, changes, stops
from flat_regions import SOCKET_BLANK, ell, wedge

R = 3.0
SOCKET = rectangle(0, 0, 40, 30)
ROUND = (Relief.CORNER, Relief.SIDE, Relief.NONE)

SWEPT_TURN = math.degrees(math.atan(math.sqrt(9 - (math.sqrt(2) + 1) ** 2) / (math.sqrt(2) + 1)))
"""How far a swept relief turns off its wall, blend R = 2r and middle q = r: from the blend's middle
(x, -r) to the middle arc's (r sqrt 2, r sqrt 2) it is 3 r, of which (sqrt 2 + 1) r across the wall.
36.42 degrees."""


def turns(found: tuple[Change, ...], at_once: bool) -> list[float]:
    return [round(c.degrees, 3) for c in found if c.at_once is at_once]


@pytest.mark.parametrize(
    ("relief", "corner"),
    [
        (Relief.NONE, [90.0]),
        (Relief.CORNER, [-45.0, 180.0, -45.0]),
        (Relief.SIDE, [-90.0, 180.0]),
    ],
)
def test_each_square_corner_turns_the_bit_as_told(relief: Relief, corner: list[float]) -> None:
    found = changes(relieved(SOCKET, SOCKET_BLANK, R, relief), SOCKET_BLANK, R)
    assert sorted(turns(found, at_once=True)) == sorted(corner * 4)
    assert turns(found, at_once=False) == []
    assert stops(found) == 4 * len(corner)


def test_a_swept_relief_turns_three_times_a_corner_and_never_stops() -> None:
    found = changes(relieved(SOCKET, SOCKET_BLANK, R, Relief.SWEPT), SOCKET_BLANK, R)
    bend = round(SWEPT_TURN, 3)
    assert round(SWEPT_TURN, 2) == 36.42
    assert turns(found, at_once=True) == []
    middle = round(90 + 2 * SWEPT_TURN, 3)
    assert sorted(turns(found, at_once=False)) == pytest.approx([-bend] * 8 + [middle] * 4)
    assert stops(found) == 0


@pytest.mark.parametrize("degrees", [40.0, 60.0, 75.0])
def test_in_a_sharper_corner_the_bit_turns_half_its_angle_into_the_relief(degrees: float) -> None:
    """The bisector lies half the corner's angle off either wall."""
    found = changes(relieved(wedge(degrees), SOCKET_BLANK, R, Relief.CORNER), SOCKET_BLANK, R)
    near = [round(c.degrees, 3) for c in found if math.hypot(*c.at) < 6 * R]
    half = -round(degrees / 2, 3)
    assert sorted(near) == [half, half, 180.0]


@pytest.mark.parametrize("relief", list(ROUND))
def test_all_turns_of_a_closed_path_make_one_whole_turn(relief: Relief) -> None:
    for region in (SOCKET, ell()):
        found = changes(relieved(region, SOCKET_BLANK, R, relief), SOCKET_BLANK, R)
        assert sum(c.degrees for c in found) == pytest.approx(360)


def test_a_slot_as_wide_as_the_bit_turns_it_back_at_both_ends() -> None:
    cut = as_cut(rectangle(0, 0, 40, 2 * R), SOCKET_BLANK, R)
    assert turns(changes(cut, SOCKET_BLANK, R), at_once=True) == [180.0, 180.0]


def test_round_an_edge_of_wood_the_bit_turns_at_once() -> None:
    """The inner corner of an L is an edge of wood: the bit runs past it and turns by 90."""
    found = changes(as_cut(ell(), SOCKET_BLANK, R), SOCKET_BLANK, R)
    assert sorted(turns(found, at_once=True)) == [-90.0, *[90.0] * 5]


def test_in_air_nothing_is_counted() -> None:
    """A notch in the blank's edge has two corners, a channel right across it has none."""
    blank = (0.0, 0.0, 40.0, 30.0)
    notch = as_cut(rectangle(10, -1, 30, 12), blank, R)
    assert turns(changes(notch, blank, R), at_once=True) == [90.0, 90.0]
    assert changes(as_cut(rectangle(10, -1, 30, 31), blank, R), blank, R) == ()


def test_a_wide_round_hole_turns_the_bit_all_the_way_and_never_stops_it() -> None:
    found = changes(disc((20.0, 20.0), 8.0), SOCKET_BLANK, R)
    assert [c.degrees for c in found] == pytest.approx([360])
    assert stops(found) == 0


def test_it_does_not_matter_where_a_loop_begins() -> None:
    cut = relieved(SOCKET, SOCKET_BLANK, R, Relief.CORNER)
    loop = cut.loops[0]
    want = sorted(turns(changes(cut, SOCKET_BLANK, R), at_once=True))
    for start in range(len(loop)):
        turned = Region(((*loop[start:], *loop[:start]),))
        assert area(turned) == pytest.approx(area(cut))
        assert sorted(turns(changes(turned, SOCKET_BLANK, R), at_once=True)) == want


def test_a_stop_is_a_turn_past_the_angle_in_one_place() -> None:
    assert [Change(d, True, (0, 0)).is_stop for d in (STOP, STOP + 0.1, -90)] == [False, True, True]
    assert not Change(170, False, (0, 0)).is_stop
