"""Cuts with slanting walls: sections, angles and volumes in closed form."""

import math
from dataclasses import replace

import pytest
from dryfit.kernel import solids
from dryfit.kernel.cuts import Cut, Work
from dryfit.kernel.profile import Face, OperationKind, board_profile
from dryfit.kernel.region import Region, area, bounds, disc, rectangle
from dryfit.kernel.ruled import between, corresponds, widest_step
from flat_boards import BITS, PLUS_X, plan_of
from flat_boards import cut as flat_cut
from pieces import board, cut, plan
from sound import assert_sound

SIDE = board("side", (0, 18), (0, 200), (0, 300))
BLANK = 18.0 * 200 * 300


def slanting(side: str, mouth: Region, floor: Region, depth: float) -> Cut:
    return replace(cut("side", side, mouth, depth), floor=floor)


def body(made: Cut, chord: float = 1e-4) -> solids.Body:
    return solids.true_body(plan(SIDE, cuts=(made,)).boards[0], chord)


@pytest.mark.parametrize("side", ["+x", "-x"])
def test_a_dovetail_slot_is_a_trapezoid_along_the_board(side: str) -> None:
    """10 wide at the mouth, 14 at the floor, 6 deep, over the whole width of 200."""
    slot = slanting(side, rectangle(-1, 100, 201, 110), rectangle(-1, 98, 201, 112), 6)
    assert slot.slant == pytest.approx(math.degrees(math.atan(2 / 6)))
    assert slot.extent == (-1, 98, 201, 112)
    assert_sound(body(slot).solid, volume=BLANK - 6 * 12 * 200)


@pytest.mark.parametrize(("top", "bottom"), [(8.0, 5.0), (5.0, 8.0)])
def test_a_conical_hole_is_a_frustum(top: float, bottom: float) -> None:
    hole = slanting("+x", disc((50, 100), top), disc((50, 100), bottom), 9)
    gone = BLANK - solids.volume(body(hole, 1e-5).solid)
    assert gone == pytest.approx(math.pi * 9 / 3 * (top**2 + top * bottom + bottom**2), rel=1e-5)


def test_slanting_walls_may_go_right_through() -> None:
    through = slanting("-x", rectangle(50, 50, 90, 90), rectangle(55, 55, 85, 85), 18)
    frustum = 18 / 3 * (40**2 + 40 * 30 + 30**2)
    assert_sound(body(through).solid, volume=BLANK - frustum, genus=1)


def test_the_twin_lies_an_inset_inside_every_wall() -> None:
    """Of the slot above: each wall moves h off square to itself, the floor h, the blank h."""
    slot = slanting("+x", rectangle(-1, 100, 201, 110), rectangle(-1, 98, 201, 112), 6)
    h = 0.01
    away = h / math.cos(math.atan(2 / 6))
    made = solids.twin(plan(SIDE, cuts=(slot,)).boards[0], h)
    at_blank, at_floor = 10 + 2 * away + 2 * h / 3, 14 + 2 * away + 2 * h / 3
    gone = 6 * (at_blank + at_floor) / 2 * (200 - 2 * h)
    blank = (18 - 2 * h) * (200 - 2 * h) * (300 - 2 * h)
    assert solids.volume(made.solid) == pytest.approx(blank - gone, abs=1e-6)


def test_a_section_half_way_down() -> None:
    half = between(disc((0, 0), 8), disc((0, 0), 4), 0.5)
    assert area(half) == pytest.approx(math.pi * 36)
    slot = slanting("+x", rectangle(0, 0, 10, 10), rectangle(2, 0, 8, 10), 6)
    assert bounds(slot.section(3)) == (1, 0, 9, 10)
    assert bounds(slot.section(60)) == (2, 0, 8, 10)


def test_which_regions_correspond() -> None:
    assert corresponds(disc((0, 0), 8), disc((1, 0), 4))
    assert corresponds(rectangle(0, 0, 9, 9), rectangle(1, 0, 8, 9))
    assert not corresponds(rectangle(0, 0, 9, 9), disc((0, 0), 4))
    assert not corresponds(rectangle(0, 0, 9, 9), Region())
    assert widest_step(rectangle(0, 0, 9, 9), rectangle(1, -3, 8, 9)) == 3


def test_the_profile_draws_mouth_and_floor() -> None:
    mouth, floor = rectangle(-1, 100, 241, 110), rectangle(-1, 98, 241, 112)
    slot = replace(flat_cut(PLUS_X, mouth, 6.0), floor=floor)
    (operation,) = board_profile(plan_of(slot), BITS).on(Face.A)[1:]
    assert operation.kind is OperationKind.ANGLED
    assert operation.name == "ANGLED_Z6.0_A18.435"
    (shape,) = operation.shapes
    assert area(shape.region) == pytest.approx(10 * 240)
    assert shape.floor is not None
    x0, _, x1, _ = bounds(shape.floor)
    assert (x0, x1) == (98, 112)


def test_a_slanting_cut_from_an_end_is_told_in_a_note() -> None:
    slot = replace(flat_cut(PLUS_X, rectangle(0, 0, 9, 9), 6.0), floor=rectangle(1, 0, 8, 9))
    (note,) = board_profile(plan_of(replace(slot, by_hand=True)), BITS).notes
    assert (note.work, note.slant) == (Work.POCKET, 9.462)
