"""Do figures read off the cut boards agree with closed forms and with what the joints state?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import pytest
from carpentry import mm
from dryfit.kernel import measure
from dryfit.kernel.board import Axis, Move
from dryfit.kernel.cuts import Mating
from dryfit.kernel.ends import Ends
from dryfit.kernel.frames import pose_matrix
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.region import rectangle
from dryfit.kernel.shadows import faces
from dryfit.kernel.solids import Bodies
from dryfit.kernel.walls import play
from joined import CASES, Case, every, named, planned
from numpy.typing import NDArray
from pieces import board, cut, joint, plan, shifted, turned
from test_joints_crossings import SIDE, Made, shelf

FIT_SEEN = 0.01
"""How closely measured and stated fit must agree, mm."""

POSE: tuple[Move, ...] = (
    turned(23, Axis.X, (3, 1, 4)),
    turned(-71, Axis.Z, (50, 0, 9)),
    shifted(313, -2000, 77),
)


@pytest.mark.parametrize("case", every(), ids=named)
def test_the_fit_measured_is_the_fit_the_joint_states(case: tuple[Case, str]) -> None:
    made = planned(*case)
    bodies = Bodies(made)
    stated = [mating for joint in made.joints for mating in joint.matings]
    seen = [(m, measure.mating_fit(bodies, m)) for m in stated]
    for mating, fit in seen:
        # A short wall that its reliefs take up whole has no flat left to measure.
        if fit is not None:
            assert fit == pytest.approx(mating.fit, abs=FIT_SEEN)
    if stated:
        assert any(fit is not None for _, fit in seen)
        assert measure.fit(bodies, "a", "b") == pytest.approx(
            min(m.fit for m in stated), abs=FIT_SEEN
        )
        assert measure.fit(bodies, "b", "a") == measure.fit(bodies, "a", "b")
    else:
        assert measure.fit(bodies, "a", "b") is None


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_figures_do_not_depend_on_the_pose(case: Case) -> None:
    relief = case.reliefs[0]
    lying, standing = Bodies(planned(case, relief)), Bodies(planned(case, relief, POSE))
    for name in "ab":
        assert measure.volume(standing, name) == pytest.approx(
            measure.volume(lying, name), rel=1e-9
        )
        assert measure.length(standing, name) == measure.length(lying, name)
    assert measure.fit(standing, "a", "b") == pytest.approx(measure.fit(lying, "a", "b"))
    assert measure.overlap(standing, "a", "b") == measure.overlap(lying, "a", "b") == 0.0


def in_dado(width: float, pose: tuple[Move, ...] = ()) -> CutPlan:
    """A shelf 18 thick in a dado `width` wide, on its lower wall."""
    side = board("side", (0, 18), (0, 200), (0, 300))
    shelf = board("shelf", (12, 400), (0, 200), (100, 118), pose=pose)
    dado = cut("side", "+x", rectangle(-1, 100, 201, 100 + width), 6, mate="shelf")
    mating = Mating(
        joint="joint",
        part="shelf",
        socket="side",
        axis=Axis.Z,
        socket_axis=Axis.Z,
        socket_size=width,
        part_size=18.0,
        asked=0.1,
    )
    return plan(side, shelf, cuts=(dado,), joints=(joint("shelf", "side", matings=(mating,)),))


@pytest.mark.parametrize("width", [17.6, 17.994, 18.0, 18.3, 20.0])
@pytest.mark.parametrize("up", [0, 0.1])
def test_play_is_signed_and_does_not_depend_on_where_the_part_lies(width: float, up: float) -> None:
    bodies = Bodies(in_dado(width, (shifted(0, 0, up),)))
    assert measure.fit(bodies, "shelf", "side") == pytest.approx(width - 18, abs=1e-9)


@pytest.mark.parametrize(
    ("width", "up", "ends"),
    [
        (18.3, 0.1, (118.1, 118.3)),  # more room above: there is the gap to be seen
        (18.3, 0.2, (100.2, 100.0)),
        (17.6, 0.0, (118.0, 117.6)),  # wood in wood above
        (18.0, 0.0, (118.0, 118.0)),
    ],
)
def test_a_play_is_shown_from_the_parts_wall_to_the_sockets(
    width: float, up: float, ends: tuple[float, float]
) -> None:
    found = measure.fit_found(Bodies(in_dado(width, (shifted(0, 0, up),))), "shelf", "side")
    assert found is not None
    assert found.ends is not None
    one, other = found.ends.one, found.ends.other
    assert (one[2], other[2]) == pytest.approx(ends)
    assert one[:2] == other[:2]
    assert found.at == other
    assert found.ends.along == (0.0, 0.0, 1.0 if ends[0] > 110 else -1.0)


def test_a_joint_measured_along_one_axis_is_not_another() -> None:
    bodies = Bodies(in_dado(18.3))
    assert measure.fit_along(bodies, "joint", "shelf", Axis.Z) == measure.fit_found(
        bodies, "shelf", "side"
    )
    assert measure.fit_along(bodies, "joint", "shelf", Axis.Y) is None
    assert measure.fit_along(bodies, "other", "shelf", Axis.Z) is None


@pytest.mark.parametrize("pose", [(), POSE], ids=["plain", "posed"])
def test_a_clearance_and_a_gap_are_shown_from_board_to_board(pose: tuple[Move, ...]) -> None:
    near = board("near", (0, 100), (0, 100), (0, 18), pose=pose)
    far = board("far", (130, 230), (60, 240), (0, 18), pose=pose)
    made = Bodies(plan(near, far))
    for found in (
        measure.clearance_found(made, "near", "far"),
        measure.gap_found(made, "near", "far"),
    ):
        assert found is not None
        assert found.value == pytest.approx(30)
        assert found.boards == ("near", "far")
        assert found.ends is not None
        one, other = (at_home(pose, point) for point in (found.ends.one, found.ends.other))
        assert (one[0], other[0]) == pytest.approx((100, 130))
        assert one[1:] == pytest.approx(other[1:])
        assert math.dist(found.ends.one, found.ends.other) == pytest.approx(30)
        turned_back = at_home(pose, found.ends.along) - at_home(pose, (0, 0, 0))
        assert turned_back == pytest.approx((1, 0, 0))


def at_home(pose: tuple[Move, ...], point: Sequence[float] | None) -> NDArray[np.float64]:
    assert point is not None
    placed: NDArray[np.float64] = np.linalg.inv(pose_matrix(pose)) @ (*point, 1.0)
    return placed[:3]


def test_boards_that_touch_in_a_point_have_no_direction_between_them() -> None:
    one = board("one", (0, 100), (0, 100), (0, 18))
    other = board("other", (100, 200), (100, 200), (18, 36))
    found = measure.clearance_found(Bodies(plan(one, other)), "one", "other")
    assert found is not None
    assert found.ends == Ends((100.0, 100.0, 18.0), (100.0, 100.0, 18.0), None)


@pytest.mark.parametrize("pose", [(), POSE], ids=["plain", "posed"])
def test_a_size_is_shown_from_side_to_side_of_the_board(pose: tuple[Move, ...]) -> None:
    made = Bodies(plan(board("side", (0, 18), (0, 200), (0, 300), pose=pose)))
    wanted = {
        "length": ((9, 100, 0), (9, 100, 300)),
        "width": ((9, 0, 150), (9, 200, 150)),
        "thick": ((0, 100, 150), (18, 100, 150)),
    }
    for size, (one, other) in wanted.items():
        ends = measure.size_ends(made, "side", size)
        assert ends is not None
        assert at_home(pose, ends.one) == pytest.approx(one)
        assert at_home(pose, ends.other) == pytest.approx(other)
        along = at_home(pose, ends.along) - at_home(pose, (0, 0, 0))
        assert along.max() == pytest.approx(1)
    assert measure.size_ends(made, "side", "volume") is None
    assert measure.size_ends(made, "other", "length") is None


def test_wood_in_wood_is_shown_through_its_thinnest() -> None:
    found = measure.gap_found(Bodies(in_dado(17)), "shelf", "side")
    assert found is not None
    assert found.value == pytest.approx(-1, abs=1e-4)
    assert found.ends is not None
    assert found.ends.along == (0.0, 0.0, 1.0)
    assert found.ends.one == pytest.approx((15, 100, 117), abs=1e-4)
    assert found.ends.other == pytest.approx((15, 100, 118), abs=1e-4)


@pytest.mark.parametrize("fit", [0.05, 0.3])
def test_the_play_of_a_slanting_wall_is_shown_as_the_way_to_it(fit: float) -> None:
    """A sliding dovetail: from the tail in its place to where it meets the slot."""
    made = Made("dovetail", shelf(), SIDE, fit=mm(fit))
    found = measure.fit_found(made.bodies, "a", "b")
    assert found is not None
    assert found.ends is not None
    assert found.ends.along is not None
    came = [q - p for p, q in zip(found.ends.one, found.ends.other, strict=True)]
    assert came == pytest.approx([fit / 2 * c for c in found.ends.along], abs=1e-4)
    assert found.at == found.ends.other


def test_volumes_in_closed_form() -> None:
    bodies = Bodies(in_dado(18))
    assert measure.volume(bodies, "side") == pytest.approx(200 * (18 * 300 - 6 * 18), rel=1e-12)
    assert measure.volume(bodies, "shelf") == pytest.approx(388 * 200 * 18, rel=1e-12)


def test_a_relieved_socket_in_closed_form() -> None:
    """Corner reliefs of radius r on all four corners of a W x H socket: WH + 4 r^2 (pi/2 - 1)."""
    case = next(case for case in CASES if case.name == "whole tenon")
    made = planned(case, "corner")
    gone = 18 * 200 * 300 - (measure.volume(Bodies(made), "b") or 0.0)
    depth = 10 + 1  # the tenon and the gap under it
    closed_form = depth * (140.1 * 18.1 + 4 * 9 * (math.pi / 2 - 1))
    # Chords of the relief discs lie inside them, at most 0.001 off.
    assert closed_form - depth * 4 * math.pi * 3 * 0.001 <= gone <= closed_form


def test_sizes_are_exact_and_follow_the_grain() -> None:
    bodies = Bodies(in_dado(18))
    assert measure.length(bodies, "side") == Fraction(300)
    assert measure.width(bodies, "side") == Fraction(200)
    assert measure.thick(bodies, "side") == Fraction(18)


def test_overlap_is_the_wood_both_claim() -> None:
    bodies = Bodies(in_dado(17))
    assert measure.overlap(bodies, "side", "shelf") == pytest.approx(6 * 200 * 1, rel=1e-9)
    assert measure.overlap(bodies, "shelf", "side") == measure.overlap(bodies, "side", "shelf")
    assert measure.overlap(bodies, "side", "side") == measure.volume(bodies, "side")


def test_what_is_not_there_measures_nothing() -> None:
    bodies = Bodies(in_dado(18))
    assert measure.volume(bodies, "shelves") is None
    assert measure.length(bodies, "shelves") is None
    assert measure.overlap(bodies, "side", "shelves") is None
    assert measure.fit(bodies, "side", "shelves") is None


def test_play_is_nothing_where_one_way_is_free() -> None:
    bodies = Bodies(in_dado(18))
    part = bodies.body(1).plan
    assert part.board.name == "shelf"
    free = Mating(
        joint="joint",
        part="shelf",
        socket="side",
        axis=Axis.X,
        socket_axis=Axis.X,
        socket_size=18.0,
        part_size=18.0,
        asked=0.0,
    )
    assert measure.mating_fit(bodies, free) is None


def test_facets_that_only_touch_in_projection_do_not_stop_each_other() -> None:
    def square(x: float, z: float, up: bool) -> list[list[tuple[float, float, float]]]:
        a, b, c, d = (x, 0.0, z), (x + 1, 0.0, z), (x + 1, 1.0, z), (x, 1.0, z)
        return [[a, b, c], [a, c, d]] if up else [[a, c, b], [a, d, c]]

    part = faces([*square(0, 1, True), *square(0, 0, False)])
    beside = faces([*square(1, 1.5, False), *square(1, -0.5, True)])
    above = faces([*square(0.5, 1.5, False), *square(0.5, -0.5, True)])
    assert play(part, beside, (0, 0, 1), 0.5).total is None
    assert play(part, above, (0, 0, 1), 0.5).total == 1.0
