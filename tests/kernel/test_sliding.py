"""Straight moves of plain triangle meshes, held to what can be worked out by hand."""

from __future__ import annotations

from math import atan, cos, inf, radians, sin, sqrt

import manifold3d
import numpy as np
import pytest
from dryfit.kernel.directions import axes_of, snapped, suggested
from dryfit.kernel.passing import room_beside
from dryfit.kernel.shadows import Faces, faces, sight, view
from dryfit.kernel.sliding import blocked, free_travel, leaves, shares_line
from dryfit.kernel.thresholds import LEAST_TOUCH, TWIN_INSET
from pieces import turned

Corner = tuple[float, float, float]


def solid(low: Corner, high: Corner) -> manifold3d.Manifold:
    size = [hi - lo for lo, hi in zip(low, high, strict=True)]
    return manifold3d.Manifold.cube(size).translate(low)


def body(made: manifold3d.Manifold, inset: float = 0.0) -> Faces:
    mesh = made.to_mesh64()
    points = np.asarray(mesh.vert_properties)[:, :3]
    return faces(points[np.asarray(mesh.tri_verts)], inset=inset)


def block(low: Corner, high: Corner, inset: float = 0.0) -> Faces:
    return body(
        solid(
            (low[0] + inset, low[1] + inset, low[2] + inset),
            (high[0] - inset, high[1] - inset, high[2] - inset),
        ),
        inset,
    )


NEAR = block((0, 0, 0), (10, 10, 10))
FAR = block((0, 20, 0), (10, 30, 10))


def test_a_block_runs_into_the_one_ahead_after_the_gap_between() -> None:
    contact = blocked(NEAR, FAR, (0, 1, 0))
    assert contact is not None
    assert contact.distance == 10.0
    assert contact.place[1] == 20.0
    assert 0 < contact.place[0] < 10
    assert 0 < contact.place[2] < 10
    assert contact.start == (contact.place[0], 10.0, contact.place[2])
    assert free_travel(NEAR, FAR, (0, -1, 0)) == inf
    assert free_travel(NEAR, FAR, (1, 0, 0)) == inf


def test_travel_ends_the_search_and_a_contact_at_its_very_end_is_none() -> None:
    assert blocked(NEAR, FAR, (0, 1, 0), 10.0) is None
    assert blocked(NEAR, FAR, (0, 1, 0), 10.001) is not None


def test_of_a_slant_only_what_still_overlaps_sideways_counts() -> None:
    # Along (1, 2) the near block has moved 5 aside when its face comes to the far one's: a hit.
    assert free_travel(NEAR, FAR, (1, 2, 0)) == pytest.approx(10 * sqrt(5) / 2)
    # Along (1, 1) it passes corner on corner: what touches in one edge does not count.
    assert blocked(NEAR, FAR, (1, 1, 0)) is None
    assert blocked(NEAR, FAR, (1.001, 1, 0)) is None
    assert blocked(NEAR, FAR, (0.999, 1, 0)) is not None


@pytest.mark.parametrize("inset", [0.0, TWIN_INSET])
def test_faces_that_slide_on_each_other_are_silent(inset: float) -> None:
    left, right = block((0, 0, 0), (10, 400, 10), inset), block((10, 0, 0), (20, 400, 10), inset)
    for along in ((0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 3, 4), (-1, 0, 0), (-3, 1, 2)):
        assert blocked(left, right, along) is None
    contact = blocked(left, right, (1, 0, 0))
    assert contact is not None
    assert contact.distance == pytest.approx(0.0, abs=1e-12)


def test_a_slide_of_400_mm_tolerates_two_insets_of_slant() -> None:
    low, high = (
        block((0, 0, 0), (400, 10, 10), TWIN_INSET),
        block((0, 10, 0), (400, 20, 10), TWIN_INSET),
    )
    assert blocked(low, high, (cos(1.2e-5), sin(1.2e-5), 0)) is None
    assert blocked(low, high, (cos(1.3e-5), sin(1.3e-5), 0)) is not None


def test_the_wood_meets_before_its_eroded_twin_does() -> None:
    near, far = (block(*b, TWIN_INSET) for b in (((0, 0, 0), (9, 9, 9)), ((0, 20, 0), (9, 30, 9))))
    assert free_travel(near, far, (0, 1, 0)) == pytest.approx(11.0)
    assert free_travel(near, far, (0, 1, 1e-3)) == pytest.approx(11.0 * sqrt(1 + 1e-6))


def test_balls_meet_where_the_chord_of_their_offset_says() -> None:
    ball = manifold3d.Manifold.sphere(10, 64)
    one, other = body(ball), body(ball.translate((3, 40, 0)))
    assert free_travel(one, other, (0, 1, 0)) == pytest.approx(40 - sqrt(400 - 9), abs=0.05)


def test_both_bodies_see_the_same_contact() -> None:
    ring = solid((0, 0, 0), (50, 50, 10)) - solid((10, 10, -1), (40, 40, 11))
    plug = solid((12, 15, -30), (38, 38, 40)) - solid((20, 0, -40), (30, 60, 5))
    one, other = body(ring.rotate((7, 20, 3))), body(plug.rotate((7, 20, 3)))
    for along in ((1, 0, 0), (0.2, 1, 0.4), (0, 0, -1), (1, 1, 1)):
        there, back = (
            free_travel(one, other, along),
            free_travel(other, one, tuple(-c for c in along)),
        )
        assert there == pytest.approx(back, abs=1e-9)
        frame = sight(along)
        assert leaves(view(one, frame), view(other, frame)) == (there == inf)
        assert shares_line(view(one, frame), view(other, frame)) == (there < inf)


def test_the_order_of_triangles_and_how_finely_a_face_is_cut_change_nothing() -> None:
    plug = solid((12, 15, -30), (38, 38, 40)) - solid((20, 0, -40), (30, 60, 5))
    other = block((5, 100, -10), (25, 120, 50))
    coarse = body(plug)
    quarter = coarse.corners.mean(axis=1, keepdims=True)
    fine = np.concatenate(
        [
            np.stack((coarse.corners[:, i], coarse.corners[:, (i + 1) % 3], quarter[:, 0]), axis=1)
            for i in range(3)
        ]
    )
    shuffled = fine[np.random.default_rng(5).permutation(len(fine))]
    for along in ((0, 1, 0), (0.1, 1, 0.05)):
        expected = free_travel(coarse, other, along)
        assert expected < inf
        assert free_travel(faces(shuffled), other, along) == pytest.approx(expected, abs=1e-9)


def test_overlap_in_slivers_counts_once_together_it_is_wide() -> None:
    """Ten strips, each narrower than what counts alone, make one as wide as ten."""

    def strips(count: int, wide: float) -> Faces:
        step = wide / count
        low = [(i * step, 0.0, 0.0) for i in range(count)]
        high = [((i + 1) * step, 1.0, 1.0) for i in range(count)]
        return faces(np.concatenate([block(a, b).corners for a, b in zip(low, high, strict=True)]))

    far = block((-1, -1, 5), (2, 2, 6))
    narrow, wide = LEAST_TOUCH / 40, LEAST_TOUCH * 10
    assert blocked(strips(1, narrow), far, (0, 0, 1)) is None
    assert blocked(strips(40, wide), far, (0, 0, 1)) is not None


def test_a_contact_names_the_cuts_that_made_its_faces() -> None:
    one = faces(NEAR.corners, np.arange(12))
    other = faces(FAR.corners, np.arange(12) + 100)
    contact = blocked(one, other, (0, 1, 0))
    assert contact is not None
    normals = [np.cross(t[1] - t[0], t[2] - t[0]) for t in (*NEAR.corners, *FAR.corners)]
    assert normals[contact.moving_cut][1] > 0
    assert normals[12 + contact.still_cut - 100][1] < 0


def test_written_directions_mean_the_axis_or_face_they_are_near() -> None:
    meant = axes_of((turned(30, 2, (0, 0, 0)),), ())  # type: ignore[arg-type]  # an Axis is an int
    assert snapped((0.0, -1.0, radians(0.09)), meant) == (0.0, -1.0, 0.0)
    assert snapped((0.0, -1.0, radians(0.11)), meant) != (0.0, -1.0, 0.0)
    x, y, z = snapped((0.866, 0.5, 0.0), meant)
    assert (x, y, z) == (pytest.approx(sqrt(3) / 2, abs=1e-12), pytest.approx(0.5, abs=1e-12), 0.0)


def test_faces_that_lie_along_each_other_suggest_ways() -> None:
    """A wedge between two slanted walls: along the slope both ways, and out of the mouth."""
    wedge = manifold3d.Manifold.hull_points(
        [(x, y, z) for y, z, w in ((0, 0, 5), (0, 30, 8), (40, 0, 5), (40, 30, 8)) for x in (-w, w)]
    )
    walls = solid((-20, 0, 0), (20, 40, 30)) - wedge.scale((1, 2, 1)).translate((0, -20, 0))
    found = suggested(body(wedge), body(walls))
    free = [d for d in found if blocked(body(wedge), body(walls), d) is None]
    assert any(np.allclose(d, (0, 0, 1), atol=1e-9) for d in free)
    assert any(np.allclose(d, (0, 1, 0), atol=1e-9) for d in free)
    slope = np.array((sin(atan(3 / 30)), 0, cos(atan(3 / 30))))
    assert any(np.allclose(d, slope, atol=1e-9) for d in free)


def test_room_beside_a_way_is_that_to_what_is_passed() -> None:
    moving = block((0, 0, 0), (10, 10, 10), TWIN_INSET)
    beside = block((13, 30, 0), (20, 40, 10), TWIN_INSET)
    assert room_beside(moving, beside, (0, 1, 0), 100, 50) == pytest.approx(3.0)
    assert room_beside(moving, beside, (0, 1, 0), 19.9, 50) is None
    assert room_beside(moving, beside, (0, -1, 0), 100, 50) is None
    assert room_beside(moving, beside, (0, 1, 0), 100, 2.9) is None
    apart = block((13, 30, 14), (20, 40, 20), TWIN_INSET)
    assert room_beside(moving, apart, (0, 1, 0), 100, 50) == pytest.approx(5.0, abs=0.01)
