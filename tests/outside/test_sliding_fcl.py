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
from truth import Tally, compared, compared_pair, compared_turning


@pytest.mark.parametrize(("compare", "pairs"), [(compared, 36), (compared_turning, 18)])
def test_what_is_told_free_is_free_and_what_is_told_blocked_is_met(
    compare: object, pairs: int
) -> None:
    tally = Tally()
    for seed in range(pairs):
        tally.add(compare(seed, 40))  # type: ignore[operator]  # one of the two above
    assert tally.refuted == []
    assert tally.late == []
    assert tally.unconfirmed == []
    assert tally.free > pairs / 3
    assert tally.directions - tally.free > pairs


@pytest.mark.parametrize("family", families(), ids=lambda family: family.name)
def test_a_random_pair_of_every_family_is_told_as_it_is_met(family: object) -> None:
    dice = random.Random(1)  # noqa: S311 - repeatable, not secret
    pair = pair_under(family, dice)  # type: ignore[arg-type]  # a family
    assert pair is not None, "no layout of the random pairs suits it"
    tally = compared_pair(pair, 12, dice, "seed 1")
    assert tally.refuted == tally.late == tally.unconfirmed == []


def test_a_needle_reaches_no_farther_than_its_tip() -> None:
    """Triangles a tenth of a micrometre wide lie along the walls of two bores in line, five
    micrometres apart: seed 739 of the long run, once told to meet where nothing does."""
    tally = compared_turning(739, samples=120)
    assert (tally.directions, tally.free) == (3, 2)
    assert not tally.refuted + tally.late + tally.unconfirmed
