"""No piece is told to come apart that does not, and none to be locked that comes apart.

Held against trying every set of boards along every axis, pose by pose, with the Flexible Collision
Library (Pan, Chitta, Manocha: FCL, a general purpose library for collision and proximity queries,
ICRA 2012). `tests/bench/truth.py` does the same over hundreds of pieces.
"""

from __future__ import annotations

from unittest.mock import patch

from dryfit.kernel.blocking import Blocking
from piece_truth import PieceTally, compared_piece

PIECES, SAMPLES = 24, 50


def tally_of(seeds: range) -> PieceTally:
    tally = PieceTally()
    for seed in seeds:
        tally.add(compared_piece(seed, SAMPLES))
    return tally


def test_what_is_told_to_come_apart_does_and_what_is_told_locked_is() -> None:
    tally = tally_of(range(PIECES))
    assert tally.refuted == []
    assert tally.refused == []
    assert tally.apart > PIECES / 2
    assert tally.locked > 0
    assert tally.freed > PIECES


def test_a_kernel_that_overlooks_a_contact_is_refuted() -> None:
    """The truth set can fail: were every board told to miss the next, it would be noticed."""

    def misses(self: Blocking, i: int, j: int, direction: object) -> bool:
        return False

    with patch.object(Blocking, "_meets", misses):
        assert tally_of(range(2)).refuted
