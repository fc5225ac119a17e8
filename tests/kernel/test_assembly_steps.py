"""The steps that put a piece together: each brings in boards that stand together already."""

from pathlib import Path

import pytest
from dryfit.kernel.assembly import steps
from dryfit.kernel.order import Locked
from dryfit.kernel.solids import Bodies
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, planned

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("name", ["potting-stool", "hive-box"])
def test_each_step_joins_what_stands_together_into_the_whole(name: str) -> None:
    plan = planned(Request(file=str(EXAMPLES / f"{name}.dry")), DiskFiles()).plan
    assert plan is not None
    found = steps(Bodies(plan))
    assert not isinstance(found, Locked)
    together = {(i,) for i in range(len(plan.boards))}
    for step in found:
        assert step.distance > 0
        together -= {step.moving, step.into}
        together.add(tuple(sorted((*step.moving, *step.into))))
    assert len(found) == len(plan.boards) - 1
    assert together == {tuple(range(len(plan.boards)))}
