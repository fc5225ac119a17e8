"""In what order do boards come apart: graphs by hand, and examples replayed with true bodies."""

from pathlib import Path

import numpy as np
import pytest
from dryfit.kernel.order import Graph, Locked, Split, graphs, members, parted
from dryfit.kernel.solids import Bodies, meet, moved
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, planned

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dry"))
X, Y = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)


def test_two_and_two_part_where_no_single_one_moves() -> None:
    pairs = Graph(X, (0b0010, 0b0001, 0b1001, 0b0100))
    ring = Graph(Y, (0b0010, 0b0100, 0b1000, 0b0001))
    found = parted((pairs, ring), (), 0b1111)
    assert not isinstance(found, Locked)
    assert (found[0].moving, found[0].staying, len(found)) == (0b0011, 0b1100, 3)
    assert parted((pairs,), (), 0b1111) in (Locked(0b0011), Locked(0b1100))


def test_three_that_hold_each_other_are_locked() -> None:
    round_, back = Graph(X, (0b010, 0b100, 0b001)), Graph(Y, (0b100, 0b001, 0b010))
    assert parted((round_, back), (), 0b111) == Locked(0b111)


def test_a_captured_panel_waits_for_a_side() -> None:
    made = (Graph(X, (0b010, 0b100, 0b000)), Graph(Y, (0b110, 0b101, 0b011)))
    found = parted(made, ((0, 1), (1, 2)), 0b111)
    assert not isinstance(found, Locked)
    assert found[0] == Split(0b100, 0b011, X)


def replayed(bodies: Bodies, split: Split) -> bool:
    """Whether the moving boards overlap nothing that stays, from home to far off."""
    for i in members(split.moving):
        for distance in (0.0, 0.5, 3.0, 10.0, 40.0, 160.0, 640.0):
            way = np.eye(4)
            way[:3, 3] = np.array(split.out) * distance
            one = moved(bodies.twin(i), way[:3])
            if any(meet(one, bodies.twin(j)) for j in members(split.staying)):
                return False
    return True


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_comes_apart_and_nothing_overlaps_on_the_way(path: Path) -> None:
    plan = planned(Request(file=str(path)), DiskFiles()).plan
    assert plan is not None
    bodies = Bodies(plan)
    found = parted(graphs(bodies), (), (1 << len(plan.boards)) - 1)
    assert not isinstance(found, Locked)
    assert len(found) == len(plan.boards) - 1
    assert all(replayed(bodies, split) for split in found)
