"""The least distance of two bodies, held against the Flexible Collision Library.

Pan, Chitta, Manocha: "FCL: a general purpose library for collision and proximity queries" (ICRA
2012). Bodies are boards with pockets and slots in any pose, so that corners, edges and faces come
nearest in turn.
"""

from __future__ import annotations

import numpy as np
import pytest
from dryfit.kernel.nearest import nearest_points
from dryfit.kernel.region import rectangle
from dryfit.kernel.shadows import Faces, faces
from dryfit.kernel.solids import Bodies, gap
from pieces import board, cut, plan
from truth import mesh_of

PAIRS = 60

CARVED = Bodies(
    plan(
        board("a", (0, 60), (0, 40), (0, 18)),
        board("b", (0, 18), (0, 50), (0, 30)),
        cuts=(
            cut("a", "+z", rectangle(20, 10, 45, 30), 9),
            cut("a", "+x", rectangle(-1, 6, 41, 12), 12),
            cut("b", "+x", rectangle(10, -1, 20, 31), None),
        ),
    )
)


def posed(index: int, random: np.random.Generator, away: float) -> Faces:
    """The body turned any way, its middle `away` mm from the origin along some direction."""
    turn, _ = np.linalg.qr(random.normal(size=(3, 3)))
    if np.linalg.det(turn) < 0:
        turn[:, 0] = -turn[:, 0]
    corners = CARVED.faces(index, (), inset=0.0).corners
    middle = (corners.min(axis=(0, 1)) + corners.max(axis=(0, 1))) / 2
    shift = random.normal(size=3)
    return faces((corners - middle) @ turn.T + away * shift / np.linalg.norm(shift))


def test_distances_are_those_of_another_library() -> None:
    import fcl

    random = np.random.default_rng(4)
    apart = 0
    for _ in range(PAIRS):
        one, other = posed(0, random, 0.0), posed(1, random, 62.0)
        request, result = fcl.DistanceRequest(enable_nearest_points=True), fcl.DistanceResult()
        bodies = [fcl.CollisionObject(mesh_of(body), fcl.Transform()) for body in (one, other)]
        theirs = fcl.distance(*bodies, request, result)
        if theirs <= 0:
            continue
        apart += 1
        ours = nearest_points(one, other)
        assert ours.distance == pytest.approx(theirs, abs=1e-6)
        assert np.linalg.norm(np.subtract(ours.one, ours.other)) == pytest.approx(ours.distance)
    assert apart > PAIRS / 2


def test_distances_are_those_of_the_solid_library() -> None:
    made = plan(
        board("a", (0, 18), (0, 200), (0, 300)),
        board("b", (40, 300), (230, 248), (250, 400)),
        cuts=(cut("a", "+x", rectangle(-1, 100, 201, 118), 6),),
    )
    bodies = Bodies(made)
    ours = nearest_points(bodies.faces(0, inset=0.0), bodies.faces(1, inset=0.0))
    assert ours.distance == pytest.approx(np.hypot(22, 30))
    assert ours.distance == pytest.approx(gap(bodies.true(0), bodies.true(1), 1000.0))
    assert ours.one[:2] == pytest.approx((18, 200))
    assert ours.other[:2] == pytest.approx((40, 230))
