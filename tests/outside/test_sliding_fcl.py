"""No way is told free that a collision library finds blocked, pose by pose.

Held against the Flexible Collision Library (Pan, Chitta, Manocha: FCL, a general purpose library
for collision and proximity queries, ICRA 2012). `tests/bench/truth.py` does the same over thousands
of pairs.
"""

from __future__ import annotations

import random

import pytest
from dryfit.kernel.joints import families
from random_pairs import pair_under
from truth import Tally, compared, compared_turning

PAIRS = 50


@pytest.mark.parametrize("compare", [compared, compared_turning])
def test_what_is_told_free_is_free_and_what_is_told_blocked_is_met(compare: object) -> None:
    tally = Tally()
    for seed in range(PAIRS):
        tally.add(compare(seed, 40))  # type: ignore[operator]  # one of the two above
    assert tally.refuted == []
    assert tally.late == []
    assert tally.unconfirmed == []
    assert tally.free > PAIRS / 3
    assert tally.directions - tally.free > PAIRS


@pytest.mark.parametrize("family", families(), ids=lambda family: family.name)
def test_every_family_is_among_the_random_pairs(family: object) -> None:
    assert pair_under(family, random.Random(1)) is not None  # type: ignore[arg-type]  # noqa: S311
