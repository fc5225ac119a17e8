"""The smallest program of each joint: clean, held to closed forms and to another kernel.

Outside source: OpenCASCADE, through gmsh, as in `test_volumes_occ.py`. The closed forms are plane
geometry; the last column says which.
"""

import math
from pathlib import Path

import pytest
from dryfit.kernel import solids
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.lang import load
from dryfit.lang.cli import main
from test_volumes_occ import AGREE, _occ, occ_volume

__all__ = ["_occ"]  # the fixture that starts the other kernel

PROGRAMS = sorted((Path(__file__).parents[2] / "lang" / "joints").glob("*.dry"))
DISC = 3**2 * (math.pi / 2 - 1)
"""mm2 that a corner relief of radius 3 clears beside its corner."""

CLOSED_FORMS = [
    ("butt", "shelf", 282 * 200 * 18),
    ("rabbet", "side", 18 * 200 * 300 - 6 * 200 * 18),
    ("groove", "side", 18 * 200 * 300 - 6 * 6.3 * 300),
    # three terraces of three steps, half a step off at the end: both boards lose the same
    ("step", "side", 180 * (300 * 18 - 6 * (18 - 3) - 6 * (18 - 9) - 6 * (18 - 15))),
    ("step", "top", 180 * (300 * 18 - 3 * 18 - 6 * (18 - 6) - 6 * (18 - 12))),
    # a third of 18 off the outside of a tongue 6 long, and the dado: gap 0.5, fit 0.1
    ("tongued_corner", "side", 200 * (288 * 18 - 6 * 12)),
    ("tongued_corner", "top", 200 * (300 * 18 - 6.1 * 6.5)),
    # slot: from 0.05 beyond the side's end to 0.025 past the middle flank, a third of the side
    # short; tongue: as much shorter than the front goes over the side
    ("drawer_lock", "front", 120 * (300 * 18 - 6.075 * 12 - 5.975 * 8)),
    ("drawer_lock", "side", 120 * (12 * 294 - 6.025 * 4.5 - 0.05 * 4.5)),
    # the mate's skin off the end; three pockets, 3 from the outside, wider by half the fit
    ("blind_box", "side", 180 * 18 * 297 - 3 * ((180 / 7 + 0.05) * 15 + 2 * DISC) * 15),
    ("lap", "rail", 300 * 60 * 24 - 60.1 * 60 * 12),  # half the thickness, the mate's width and fit
    ("end_lap", "rail", 300 * 60 * 24 - 60 * 60 * 12),  # open to the end: one wall, no room beside
    ("edge_lap", "long", (300 * 80 - 18.3 * 40 - 2 * DISC) * 18),  # two corners at the slot's foot
    ("mitre", "side", 200 * (300 * 18 - 18 * 18 / 2)),  # the triangle the slant takes
    ("spline", "left", 150 * (200 * 18 - (6 + 0.5) * 6.1)),  # 6 deep, the gap, fit 0.1
    # three blind holes: a whole mm or more short of leaving 2 mm, and half the gap
    ("dowels", "side", 18 * 200 * 300 - 3 * math.pi * 4**2 * 14.5),
]


def planned(name: str) -> CutPlan:
    path = next(program for program in PROGRAMS if program.stem == name)
    read = load(path)
    assert read.value is not None
    outcome = cut_plan(read.value)
    assert outcome.value is not None
    return outcome.value


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
def test_program_checks_clean(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(path)]) == 0, capsys.readouterr().out


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
def test_boards_as_cut_agree_with_the_other_kernel(path: Path) -> None:
    for board in planned(path.stem).boards:
        ours = solids.volume(solids.true_body(board).solid)
        assert ours == pytest.approx(occ_volume(board), rel=AGREE)


@pytest.mark.parametrize(("name", "board", "volume"), CLOSED_FORMS)
def test_board_as_cut_has_the_volume_of_its_closed_form(
    name: str, board: str, volume: float
) -> None:
    (plan,) = [one for one in planned(name).boards if one.board.name == board]
    body = solids.true_body(plan, chord=1e-4)
    assert solids.volume(body.solid) == pytest.approx(volume, rel=2e-6)
