"""Laws of tenons on boards that lean, told from the cut records by a reckoning of our own.

As in `test_joints.py` wood is a point test; a point of the finished piece is carried into a board's
own coordinates by its pose's matrix, which the joint does not use.
"""

from __future__ import annotations

import random

import numpy as np
from carpentry import B6, board, join, mm, planned, relief
from dryfit.kernel.board import Axis
from dryfit.kernel.frames import pose_matrix
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.quantity import Quantity
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pieces import exact, turned
from test_joints import NEAR, is_wood

SEAT = board("seat", (0, 400), (0, 200), (300, 318))
UNDER = (200, 100, 300)


def wood(plan: CutPlan, index: int, point: tuple[float, float, float]) -> bool:
    """Whether a point of the finished piece, and all near it, is wood of a board as cut."""
    one = plan.boards[index]
    x, y, z, _ = np.linalg.inv(pose_matrix(one.board.pose)) @ np.array([*point, 1.0])
    return is_wood(one, (x, y, z), NEAR)


@settings(max_examples=60, deadline=None)
@given(
    about=st.sampled_from([Axis.Y, Axis.Z]),
    twentieths=st.integers(-700, 700).filter(lambda n: n % 1800 != 0),
    long=st.integers(302, 380),
    asked=st.sampled_from([0.0, 0.1, 0.5]),
    kind=st.sampled_from(["corner", "side", "long", "swept"]),
    row=st.integers(1, 2),
    dice=st.integers(0, 10**6).map(random.Random),
)
def test_leaning_mates_share_no_wood(
    *,
    about: Axis,
    twentieths: int,
    long: int,
    asked: float,
    kind: str,
    row: int,
    dice: random.Random,
) -> None:
    pose = (turned(exact(twentieths) / 20, about, UNDER),)
    leg = board("leg", (170, 230), (91, 109), (0, long), pose=pose)
    made = join(
        "tenon", "leg", "seat", cheeks=mm(3), fit=mm(asked), relief=relief(kind),
        row=Quantity(exact(row)),
    )  # fmt: skip
    plan, findings = planned([SEAT, leg], made, bits=[B6])
    assume(not any(joint.failed for joint in plan.joints))
    assert {finding.code for finding in findings} <= {"C106"}  # no room to sweep
    for _ in range(80):
        point = (dice.uniform(140, 260), dice.uniform(80, 120), dice.uniform(295, 320))
        assert not (wood(plan, 0, point) and wood(plan, 1, point)), point
