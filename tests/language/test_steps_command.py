"""`dryfit steps`: the order in plain words, in JSON, and why there is none."""

import json
from pathlib import Path

import pytest
from dryfit.lang.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples"
LOCKED = Path(__file__).parent / "locked.dry"

CABINET = """\
Seed cabinet: 25 boards, 24 straight moves

1. drawer[1], and drawer[2], drawer[3] and drawer[4] alike
   Try it dry, then close it in one go:
   1) side_l to front, along +x, 12mm
   2) base into side_l and front, along -y, 213mm
   3) side_r over front and base, along -x, 12mm
   4) rear into side_l and side_r, along -z (down), 109mm

2. left, bottom, back, right and top
   Try it dry, then close it in one go:
   1) bottom to left, along +z (up), 12mm
   2) back into left and bottom, along -x, 353mm
   3) right over bottom and back, along -x, 12mm
   4) top over left, right and back, along -z (down), 12mm

3. drawer[1], drawer[2], drawer[3] and drawer[4], to what stands
   No joint is closed:
   1) drawer[1] against bottom, along +y, 220mm
   2) drawer[2] to its place, along +y, 220mm
   3) drawer[3] to its place, along +y, 220mm
   4) drawer[4] to its place, along +y, 220mm
"""


def test_a_person_could_follow_the_steps(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(EXAMPLES / "seed-cabinet.dry")]) == 0
    assert capsys.readouterr().out.startswith(CABINET)


def test_a_way_aslant_is_told_by_its_axis_and_its_lean(capsys: pytest.CaptureFixture[str]) -> None:
    """The bench's rails stand 8 degrees out of upright, and so goes what is put on them."""
    assert main(["steps", str(EXAMPLES / "sorting-bench.dry")]) == 0
    said = capsys.readouterr().out
    assert "rail_r over stretcher, along -x, leaning 8 degrees to -z (down), 12.5mm\n" in said


def test_json_holds_every_step(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["steps", str(EXAMPLES / "potting-stool.dry"), "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == "dryfit-steps-1"
    (stage,) = told["stages"]
    assert (stage["joined"], stage["assembly"], len(stage["boards"])) == (True, None, 4)
    last = stage["steps"][-1]
    assert last["moving"] == ["top"]
    assert last["direction"] == [0.0, 0.0, -1.0]
    assert last["words"] == "top over leg_l and leg_r, along -z (down), 24mm"


def test_boards_that_lock_each_other_are_told_as_in_a_check(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["steps", str(LOCKED)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert "A201" in said.err
