"""Joints as solids: what a plain cutter leaves in the way, and that every relief clears it.

(4 - pi) r^2 d stands in the four corners of a mortise d deep under a sharp tenon; the solids'
chords add to it, by less than the chord times the length of the fillets.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from carpentry import B6, PLY18, R3, board, join, mm, planned
from dryfit.kernel import solids
from dryfit.kernel.design import Word
from dryfit.kernel.thresholds import CHECK_CHORD

POST = board("post", (0, 18), (0, 60), (0, 300))
RAIL = board("rail", (6, 200), (21, 39), (100, 180))
TONGUE = [POST, RAIL]


@pytest.mark.parametrize(("kind", "lumps"), [("none", 4), ("corner", 0), ("side", 0), ("swept", 0),
                                             ("long", 0), ("half_round", 0)])  # fmt: skip
def test_a_sharp_tenon_in_a_mortise(kind: str, lumps: int) -> None:
    plan, findings = planned(
        TONGUE, join("tenon", "rail", "post", fit=mm(0), relief=Word(kind)), bits=[B6, R3]
    )
    assert findings == ()
    bodies = solids.Bodies(plan)
    post, rail = (bodies.body(i).solid for i in range(2))
    twins = [solids.twin(plan.boards[i]).solid for i in range(2)]
    assert solids.meet(*twins) == (lumps > 0)
    if lumps:
        assert len((post ^ rail).decompose()) == lumps
        left = (4 - math.pi) * 3.0**2 * 12
        chords = CHECK_CHORD * 2 * math.pi * 3.0 * 12
        assert left == pytest.approx(92.7080, abs=5e-5)
        assert left <= solids.volume(post ^ rail) <= left + chords


@pytest.mark.parametrize(("thick", "play"), [("17.5", 0.7), ("18", 0.2), ("18.2", 0.0)])
def test_the_play_of_delivered_stock(thick: str, play: float) -> None:
    """Fit 0.2 at 18: total play 0.7..0.0 over 17.5..18.2, for the part follows its stock."""
    plan, _ = planned(TONGUE, join("tenon", "rail", "post", fit=mm(0.2)))
    across = next(m for m in plan.joints[0].matings if m.follows == PLY18.name)
    over = float(Fraction(thick) - PLY18.thick)
    assert across.fit - over == pytest.approx(play, abs=1e-12)
