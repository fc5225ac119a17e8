"""The steps that put a piece together: each example replayed with true bodies, far to home."""

from pathlib import Path

import numpy as np
import pytest
from dryfit.kernel.assembly import assembly
from dryfit.kernel.solids import Bodies, meet, moved
from dryfit.kernel.steps import Assembly, Step
from dryfit.lang.files import DiskFiles
from dryfit.lang.inspection import Request, planned

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.dry"))

TRAY = """design "Seed tray"
stock ply12 { thick 12mm }
stock ply6  { thick 6mm }
bit   b6    { straight 6mm, flute 22mm }
board left   of ply12  x 0mm..12mm     y 0mm..200mm    z 0mm..60mm
board right  of ply12  x 288mm..300mm  y 0mm..200mm    z 0mm..60mm
board front  of ply12  x 0mm..300mm    y 0mm..12mm     z 0mm..60mm
board back   of ply12  x 0mm..300mm    y 188mm..200mm  z 0mm..60mm
board bottom of ply6   x 6mm..294mm    y 6mm..194mm    z 20mm..26mm
join left, right to front, back with box { pins 5 }
join bottom into left, right, front, back with groove { fit 0.3mm }
"""

STOPS = (640.0, 160.0, 40.0, 10.0, 3.0, 0.5, 0.0)
"""How far from home what moves is looked at, mm: most places where something can be met lie within
a joint's depth."""


def bodies_of(path: Path) -> Bodies:
    plan = planned(Request(file=str(path)), DiskFiles()).plan
    assert plan is not None
    return Bodies(plan)


def followed(bodies: Bodies) -> Assembly:
    found = assembly(bodies)
    assert isinstance(found, Assembly)
    return found


def is_free(bodies: Bodies, step: Step) -> bool:
    """Whether what moves meets nothing of what stands, at every stop on its way home."""
    index = {one.board.name: i for i, one in enumerate(bodies.plan.boards)}
    for back in STOPS:
        way = np.eye(4)[:3]
        way[:, 3] = -back * np.array(step.direction)
        for name in step.moving:
            one = moved(bodies.twin(index[name]), way)
            if any(meet(one, bodies.twin(index[other])) for other in step.into):
                return False
    return True


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_goes_together_and_nothing_is_met_on_the_way(path: Path) -> None:
    bodies = bodies_of(path)
    found = followed(bodies)
    together = {(one.board.name,) for one in bodies.plan.boards}
    for step in found.steps:
        assert {step.moving, step.into} <= together, "each of them stands together by then"
        together -= {step.moving, step.into}
        both = {*step.moving, *step.into}
        together.add(tuple(one.board.name for one in bodies.plan.boards if one.board.name in both))
        assert is_free(bodies, step)
    assert len(together) == 1
    assert len(found.steps) == len(bodies.plan.boards) - 1


def test_every_joint_is_closed_in_one_step_and_no_stage_mixes_glue_and_none() -> None:
    bodies = bodies_of(EXAMPLES[0].with_stem("seed-cabinet"))
    found = followed(bodies)
    closed = [joint for step in found.steps for joint in step.joints]
    assert sorted(closed) == sorted(joint.name for joint in bodies.plan.joints)
    for stage in found.stages:
        assert {bool(step.joints) for step in stage.steps} == {stage.joined}


def test_a_captured_panel_goes_in_before_the_last_side(tmp_path: Path) -> None:
    """The order is forced: a bottom in grooves closed all round cannot come last."""
    file = tmp_path / "tray.dry"
    file.write_text(TRAY, "utf-8")
    steps = followed(bodies_of(file)).steps
    brought = [step.moving for step in steps]
    assert brought[-1] != ("bottom",)
    assert {"left", "right", "front", "back"} & set(brought[-1])


def test_what_is_put_down_as_an_assembly_goes_in_whole(tmp_path: Path) -> None:
    steps = followed(bodies_of(EXAMPLES[0].with_stem("seed-cabinet"))).steps
    whole = [step.assembly for step in steps if step.assembly]
    assert whole == [f"drawer[{n}]" for n in (1, 2, 3, 4)]
