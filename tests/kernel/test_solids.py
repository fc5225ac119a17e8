"""Are the bodies what the cuts say, closed, and named triangle by triangle?"""

from __future__ import annotations

import math

import numpy as np
import pytest
from dryfit.kernel import solids
from dryfit.kernel.board import Axis
from dryfit.kernel.faults import InternalError
from dryfit.kernel.region import Region, area, disc, rectangle
from dryfit.kernel.thresholds import TWIN_INSET
from joined import Case, every, named, planned
from manifold3d import Manifold, Mesh64
from pieces import board, cut, plan, shifted, turned
from sound import assert_sound

SIDE = board("side", (0, 18), (0, 200), (0, 300))


def test_a_blank_without_cuts_is_its_box() -> None:
    body = solids.true_body(plan(SIDE).boards[0])
    assert_sound(body.solid, volume=18 * 200 * 300)
    assert solids.bounds(body.solid) == ((0, 0, 0), (18, 200, 300))


@pytest.mark.parametrize(
    ("side", "region", "depth", "gone"),
    [
        ("+x", rectangle(-1, 100, 201, 118), 6, 200 * 18 * 6),
        ("-x", rectangle(-1, 100, 201, 118), 6, 200 * 18 * 6),
        ("+y", rectangle(100, 6, 140, 12), 20, 40 * 6 * 20),
        ("-y", rectangle(100, 6, 140, 12), 20, 40 * 6 * 20),
        ("+z", rectangle(6, 50, 12, 90), 25, 6 * 40 * 25),
        ("-z", rectangle(6, 50, 12, 90), 25, 6 * 40 * 25),
    ],
)
def test_a_pocket_from_any_side(side: str, region: Region, depth: float, gone: float) -> None:
    body = solids.true_body(plan(SIDE, cuts=(cut("side", side, region, depth),)).boards[0])
    assert_sound(body.solid, volume=18 * 200 * 300 - gone)


@pytest.mark.parametrize("depth", [None, 18.0])
def test_a_cut_as_deep_as_the_board_goes_through(depth: float | None) -> None:
    through = cut("side", "+x", rectangle(50, 100, 90, 118), depth)
    body = solids.true_body(plan(SIDE, cuts=(through,)).boards[0])
    assert_sound(body.solid, volume=18 * (200 * 300 - 40 * 18), genus=1)


def test_a_round_hole_is_its_polygon_within_the_chord() -> None:
    radius, chord = 4.0, 0.001
    bore = cut("side", "+x", disc((50, 100), radius), None)
    body = solids.true_body(plan(SIDE, cuts=(bore,)).boards[0], chord)
    gone = 18 * 200 * 300 - solids.volume(body.solid)
    lost = 18 * 2 * math.pi * radius * chord
    assert 18 * math.pi * radius**2 - lost <= gone < 18 * math.pi * radius**2


def test_an_island_stays_inside_a_pocket() -> None:
    outer, inner = rectangle(50, 50, 150, 150), rectangle(80, 80, 120, 120)
    hole = tuple(
        type(edge)(edge.end, edge.start)  # type: ignore[call-arg]
        for edge in reversed(inner.loops[0])
    )
    ring = Region((outer.loops[0], hole))
    assert area(ring) == 100 * 100 - 40 * 40
    body = solids.true_body(plan(SIDE, cuts=(cut("side", "+x", ring, 6),)).boards[0])
    assert_sound(body.solid, volume=18 * 200 * 300 - 6 * area(ring))


def test_overlapping_cuts_are_removed_once() -> None:
    cuts = (
        cut("side", "+x", rectangle(-1, 100, 201, 118), 6),
        cut("side", "+x", rectangle(50, 90, 60, 130), 10),
    )
    body = solids.true_body(plan(SIDE, cuts=cuts).boards[0])
    gone = 200 * 18 * 6 + 10 * 40 * 10 - 10 * 18 * 6
    assert_sound(body.solid, volume=18 * 200 * 300 - gone)


def test_an_empty_region_removes_nothing() -> None:
    body = solids.true_body(plan(SIDE, cuts=(cut("side", "+x", Region(), 6),)).boards[0])
    assert_sound(body.solid, volume=18 * 200 * 300)


def test_a_twin_is_smaller_by_the_inset_everywhere() -> None:
    h = TWIN_INSET
    pocket = cut("side", "+x", rectangle(50, 100, 90, 118), 6)
    body = solids.twin(plan(SIDE, cuts=(pocket,)).boards[0])
    blank = (18 - 2 * h) * (200 - 2 * h) * (300 - 2 * h)
    # The floor is h deeper, the face h lower: the pocket is as deep as before.
    assert_sound(body.solid, volume=blank - (40 + 2 * h) * (18 + 2 * h) * 6)


def test_every_triangle_names_its_cut() -> None:
    cuts = (
        cut("side", "+x", rectangle(50, 100, 90, 118), 6, joint="one"),
        cut("side", "-x", rectangle(50, 200, 90, 218), 5, joint="two"),
    )
    facets = solids.facets(solids.true_body(plan(SIDE, cuts=cuts).boards[0]))
    corners = facets.corners
    for index, (z0, z1) in enumerate([(100, 118), (200, 218)]):
        own = corners[facets.cut == index]
        assert len(own)
        assert own[:, :, 1].min() == 50
        assert own[:, :, 1].max() == 90
        assert (own[:, :, 2].min(), own[:, :, 2].max()) == (z0, z1)
    blank = corners[facets.cut == -1]
    assert (blank.min(axis=(0, 1)) == 0).all()
    assert set(np.unique(facets.cut)) == {-1, 0, 1}


def test_triangles_are_the_same_on_every_run() -> None:
    cuts = tuple(
        cut("side", "+x", rectangle(20 * i + 5, 100, 20 * i + 12, 150), 6) for i in range(8)
    )
    once, again = (solids.facets(solids.true_body(plan(SIDE, cuts=cuts).boards[0])) for _ in "12")
    assert once.points.tobytes() == again.points.tobytes()
    assert once.triangles.tobytes() == again.triangles.tobytes()
    assert once.cut.tobytes() == again.cut.tobytes()


def test_a_pose_moves_the_body_and_keeps_its_volume() -> None:
    leaning = board(
        "leaning",
        (0, 18),
        (0, 200),
        (0, 300),
        pose=(turned(8, Axis.Y, (5, 0, 0)), turned(90, Axis.Z), shifted(1000, 0, 40)),
    )
    piece = plan(leaning, cuts=(cut("leaning", "+x", rectangle(-1, 100, 201, 118), 6),)).boards[0]
    own = solids.true_body(piece)
    put_down = solids.in_world(leaning, own.solid)
    assert solids.volume(put_down) == pytest.approx(18 * 200 * 300 - 6 * 200 * 18, rel=1e-12)


def test_a_quarter_turn_is_exact() -> None:
    quarter = board("quarter", (0, 18), (0, 200), (0, 300), pose=(turned(90, Axis.Z),))
    body = solids.in_world(quarter, solids.true_body(plan(quarter).boards[0]).solid)
    assert solids.bounds(body) == ((-200, 0, 0), (0, 18, 300))


def test_a_broken_solid_is_never_measured() -> None:
    open_mesh = Mesh64(
        np.array([(0.0, 0, 0), (1, 0, 0), (0, 1, 0)]), np.array([(0, 1, 2)], dtype=np.uint64)
    )
    broken = Manifold(open_mesh)
    with pytest.raises(InternalError, match="broken"):
        solids.volume(broken)


@pytest.mark.parametrize("case", every(), ids=named)
def test_every_joint_leaves_boards_in_one_sound_piece(case: tuple[Case, str]) -> None:
    for piece in planned(*case).boards:
        body = solids.true_body(piece)
        through = case[0].name == "through tenon" and piece.board.name == "b"
        assert_sound(body.solid, volume=solids.volume(body.solid), genus=int(through))
        twin = solids.twin(piece)
        assert_sound(twin.solid, volume=solids.volume(twin.solid), genus=int(through))
        assert solids.volume(twin.solid) < solids.volume(body.solid)
