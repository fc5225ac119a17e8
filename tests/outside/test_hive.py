"""Is the hive box, as cut, the hive that is published?

Outside sources, as openly published for the ten-frame Langstroth hive: body outside 19-7/8 by
16-1/4 by 9-5/8 in and inside 18-3/8 by 14-3/4 in (reference pages of beekeeping associations),
frame rest 5/8 in high and 3/8 in deep (a beekeeping forum's plan), top bar 19 in long (two
beekeeping reference pages). Everything is measured on the bodies as cut, nothing on the text.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import manifold3d
import numpy as np
import pytest
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.solids import Bodies, Solid, bounds, true_body, volume
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, planned

ROOT = Path(__file__).parents[2]
INCH = 25.4
T = 3 / 4 * INCH
LONG, WIDE, DEEP = 19.875 * INCH, 16.25 * INCH, 9.625 * INCH
HIGH, INTO = 5 / 8 * INCH, 3 / 8 * INCH


@pytest.fixture(scope="module")
def hive() -> CutPlan:
    inspection = planned(Request(file=str(ROOT / "examples" / "hive-box.dry")), DiskFiles())
    assert inspection.plan is not None
    return inspection.plan


@pytest.fixture(scope="module")
def bodies(hive: CutPlan) -> Bodies:
    return Bodies(hive)


def body(bodies: Bodies, name: str) -> Solid:
    index = bodies.index(name)
    assert index is not None
    return bodies.true(index)


def filled(solid: Solid, low: tuple[float, ...], high: tuple[float, ...]) -> float:
    """Which share of a box is wood."""
    size = np.subtract(high, low)
    probe = manifold3d.Manifold.cube(tuple(size)).translate(tuple(low))
    return volume(solid ^ probe) / float(np.prod(size))


def test_outside_of_the_body(bodies: Bodies) -> None:
    boxes = [bounds(body(bodies, name)) for name in ("side_l", "side_r", "end_f", "end_b")]
    low = np.min([box[0] for box in boxes], axis=0)
    high = np.max([box[1] for box in boxes], axis=0)
    assert high - low == pytest.approx(np.array([LONG, WIDE, DEEP]))


def test_inside_of_the_body_is_free(bodies: Bodies) -> None:
    inside = ((T, T, 0.0), (T + 18.375 * INCH, T + 14.75 * INCH, DEEP))
    for name in ("side_l", "side_r", "end_f", "end_b"):
        assert filled(body(bodies, name), *inside) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("name", "inner", "way"), [("end_f", T, -1.0), ("end_b", LONG - T, 1.0)])
def test_frame_rest(bodies: Bodies, name: str, inner: float, way: float) -> None:
    end = body(bodies, name)
    near, far = sorted((inner, inner + way * INTO))
    behind = sorted((inner + way * INTO, inner + way * T))
    across = (T + 8.0, WIDE - T - 8.0)
    assert filled(end, (near, across[0], DEEP - HIGH), (far, across[1], DEEP)) == (
        pytest.approx(0, abs=1e-12)
    )
    assert filled(end, (near, across[0], DEEP - HIGH - 1), (far, across[1], DEEP - HIGH)) == (
        pytest.approx(1)
    )
    wood = ((behind[0], across[0], DEEP - HIGH), (behind[1], across[1], DEEP))
    assert filled(end, *wood) == pytest.approx(1)


def test_the_rest_takes_no_wood_of_the_corner_pins(hive: CutPlan, bodies: Bodies) -> None:
    """Between an end's own pins at the corners there is the same wood with the rest and without."""
    plan = next(board for board in hive.boards if board.board.name == "end_f")
    joints_only = replace(plan, cuts=tuple(cut for cut in plan.cuts if cut.of_joint))
    corner = ((0.0, 0.0, 0.0), (T, T, DEEP))
    assert filled(body(bodies, "end_f"), *corner) == pytest.approx(
        filled(true_body(joints_only).solid, *corner), rel=1e-12
    )


def test_a_published_top_bar_hangs_with_an_eighth_of_an_inch_of_play(bodies: Bodies) -> None:
    low, high = bounds(body(bodies, "bar"))
    assert high[0] - low[0] == pytest.approx(19 * INCH)
    rests = (T - INTO, LONG - T + INTO)
    assert (low[0] - rests[0], rests[1] - high[0]) == pytest.approx((INCH / 16, INCH / 16))
    assert low[2] == pytest.approx(DEEP - HIGH)
