"""Is a cut told of when it takes wood that a joint holds by, with the figures right?"""

from __future__ import annotations

from math import pi

import pytest
from cut_boards import BITS, mm, spots
from dryfit.kernel.board import Axis
from dryfit.kernel.checks.findings import HitsJoint
from dryfit.kernel.checks.hits import joint_hits
from dryfit.kernel.design import BoardRef, Design, Join, Option, Shaping, Spots, Verb
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.kernel.thresholds import CHECK_CHORD
from pieces import board, ply, turned

JOIN = Join(
    name="joint",
    family="tenon",
    verb=Verb.INTO,
    first=(BoardRef("rail"),),
    second=(BoardRef("post"),),
)


def hole(owner: str, side: str, diameter: float, *at: Spots) -> Shaping:
    return Shaping(
        name="hole",
        family="bore",
        boards=(BoardRef(owner),),
        axis=Axis("xyz".index(side[1])),
        positive=side[0] == "+",
        at=at,
        options=(Option(name="diameter", values=(mm(diameter),)),),
    )


def hits(shaping: Shaping, *, is_turned: bool = False) -> tuple[HitsJoint, ...]:
    pose = (turned(30, Axis.Y),) if is_turned else ()
    boards = (
        board("post", (0, 18), (0, 100), (0, 500), pose=pose),
        board("rail", (8, 382), (30, 70), (200, 218), pose=pose),
    )
    design = Design(
        name="hits", stocks=(ply(18),), bits=BITS, boards=boards, joins=(JOIN,), shapings=(shaping,)
    )
    outcome = cut_plan(design)
    assert outcome.findings == ()
    assert outcome.value is not None
    found = joint_hits(Bodies(outcome.value))
    return tuple(finding for finding in found if isinstance(finding, HitsJoint))


@pytest.mark.parametrize("is_turned", [False, True])
def test_a_hole_at_the_shoulder_takes_half_of_itself_from_the_tenon(*, is_turned: bool) -> None:
    (found,) = hits(hole("rail", "+z", 10, spots(Axis.X, 18)), is_turned=is_turned)
    assert (found.board, found.mate, found.joint, found.cut) == ("rail", "post", "joint", "hole")
    assert found.wood == pytest.approx(10 * 40 * 18)
    chords = 2 / 3 * CHECK_CHORD * (pi * 5 * 18)  # between the half hole's arc and its chords
    assert found.taken == pytest.approx(pi * 25 / 2 * 18, abs=chords)


def test_a_small_hole_or_one_beside_the_tenon_is_silent() -> None:
    assert hits(hole("rail", "+z", 5, spots(Axis.X, 13))) == ()  # 4.9 % of it
    assert hits(hole("rail", "+z", 10, spots(Axis.X, 24))) == ()


def test_a_hole_through_the_mortise_hits_the_tenon_not_the_post() -> None:
    """The post has no wood of its own where the tenon goes."""
    assert hits(hole("post", "+y", 8, spots(Axis.X, 13), spots(Axis.Z, 209))) == ()
