"""Areas that touch and that glue reaches, against closed forms."""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.board import Axis, Move
from dryfit.kernel.facing import Areas, boards_facing, glued, least_gap, touching
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from dryfit.kernel.thresholds import LOOSE_FIT
from joined import CASES, planned
from pieces import board, cut, joint, plan, shifted, turned

POSE: tuple[Move, ...] = (turned(31, Axis.Y, (5, 0, 2)), turned(-64, Axis.X), shifted(40, 900, -7))


def in_dado(width: float, pose: tuple[Move, ...], grain: Axis | None = None) -> CutPlan:
    """A shelf 18 thick in the middle of a dado 6 deep, both boards put down by `pose`."""
    side = board("side", (0, 18), (0, 200), (0, 300), grain=grain, pose=pose)
    shelf = board("shelf", (12, 400), (0, 200), (100, 118), pose=pose)
    low = 109 - width / 2
    dado = cut("side", "+x", rectangle(-1, low, 201, low + width), 6, mate="shelf")
    return plan(side, shelf, cuts=(dado,), joints=(joint("shelf", "side"),))


def areas(made: CutPlan) -> tuple[Areas, Areas]:
    bodies = Bodies(made)
    found = boards_facing(bodies, 1, 0, LOOSE_FIT)
    return touching(bodies, 1, 0, found), glued(bodies, 1, 0, found)


def told(found: Areas) -> tuple[float, float, float]:
    return found.face, found.edge, found.end


@pytest.mark.parametrize("pose", [(), POSE], ids=["lying", "turned"])
def test_a_dado_touches_on_its_floor_and_its_walls(pose: tuple[Move, ...]) -> None:
    """Two walls of 200 x 6 and a floor of 200 x 18, on which the shelf stands with its end."""
    floor, walls = 200 * 18, 2 * 200 * 6
    touch, glue = areas(in_dado(18, pose))
    assert told(touch) == pytest.approx((0, 0, floor + walls))  # the walls cross the side's grain
    assert told(glue) == pytest.approx(told(touch))
    along, _ = areas(in_dado(18, pose, Axis.Y))  # now they run along it
    assert told(along) == pytest.approx((0, walls, floor))


def test_walls_that_stand_off_are_glued_but_do_not_touch() -> None:
    touch, glue = areas(in_dado(18.2, (), Axis.Y))
    assert told(touch) == pytest.approx((0, 0, 200 * 18))
    assert told(glue) == pytest.approx((0, 2 * 200 * 6, 200 * 18))
    _, far = areas(in_dado(18.6, (), Axis.Y))  # 0.3 on each side: no glue bridges that
    assert told(far) == pytest.approx((0, 0, 200 * 18))


def test_wood_in_wood_counts_as_touching_and_its_depth_is_told() -> None:
    bodies = Bodies(in_dado(17.9, (), Axis.Y))
    found = boards_facing(bodies, 1, 0, LOOSE_FIT)
    least = least_gap(found)
    assert least is not None
    assert least[0] == pytest.approx(-0.05)
    assert least[1][0] == pytest.approx(15, abs=3.001)
    assert touching(bodies, 1, 0, found).edge == pytest.approx(2 * 200 * 6)


def test_round_walls_add_up_like_flat_ones() -> None:
    """A tenon of 140 x 18, 10 long, its edges rounded to the bit's 3 mm, 0.1 all in all from its
    mortise: its perimeter is 2 (140 - 6) + 2 (18 - 6) + 2 pi 3."""
    case = next(case for case in CASES if case.name == "whole tenon")
    bodies = Bodies(planned(case, "half_round"))
    found = boards_facing(bodies, 0, 1, 0.25)
    walls = (2 * 134 + 2 * 12 + 2 * math.pi * 3) * 10
    beside = found.gap > 0.01  # and not on what the rounding leaves of a shoulder
    assert float(found.area[beside].sum()) == pytest.approx(walls, rel=1e-4)
    assert float(found.gap[beside].min()) == pytest.approx(0.05)
    assert float(found.gap[beside].max()) == pytest.approx(0.05 * math.sqrt(2), abs=1e-3)


def test_boards_apart_face_nothing() -> None:
    made = plan(board("a", (0, 18), (0, 200), (0, 300)), board("b", (400, 418), (0, 200), (0, 300)))
    found = boards_facing(Bodies(made), 0, 1, LOOSE_FIT)
    assert len(found.area) == 0
    assert least_gap(found) is None
