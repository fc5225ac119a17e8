"""Does each cut of a single board take off what its shape says, and no more?"""

from __future__ import annotations

from dataclasses import replace

import pytest
from cut_boards import AROUND, CASES, CutCase, design, mm, named, planned, shaping, spots
from dryfit.kernel import solids
from dryfit.kernel.board import Axis
from dryfit.kernel.cutlist import cut_list
from dryfit.kernel.cuts import Cut, Work
from dryfit.kernel.design import BoardRef, Word
from dryfit.kernel.finding import Finding
from dryfit.kernel.plan import BoardPlan, cut_plan
from dryfit.kernel.profile import OperationKind, board_profile
from dryfit.kernel.region import Arc, area
from dryfit.kernel.shaping import shapings
from dryfit.kernel.solids import depth_range

CHORD = 1e-4


def removed(piece: BoardPlan) -> float:
    size = [float(piece.board.box[axis].size) for axis in Axis]
    blank = size[0] * size[1] * size[2]
    return blank - solids.volume(solids.true_body(piece, CHORD).solid)


def chord_error(piece: BoardPlan) -> float:
    """The most that chords can hide: two thirds of their distance over all curved walls, mm3."""
    total = 0.0
    for cut in piece.cuts:
        lo, hi = depth_range(piece.board, cut)
        arcs = [e for loop in cut.region.loops for e in loop if isinstance(e, Arc)]
        total += sum(arc.radius * abs(arc.sweep) for arc in arcs) * (hi - lo)
    return total * CHORD * 2 / 3


@pytest.mark.parametrize("case", CASES, ids=named)
def test_the_wood_removed_is_that_of_the_closed_form(case: CutCase) -> None:
    (piece,) = planned(case).boards
    assert removed(piece) == pytest.approx(case.removed, abs=chord_error(piece) + 1e-6)


def test_every_kind_of_cut_has_a_case() -> None:
    assert {case.shaping.family for case in CASES} == {family.name for family in shapings()}


def cuts_of(case_name: str) -> tuple[Cut, ...]:
    case = next(case for case in CASES if case.name == case_name)
    return planned(case).boards[0].cuts


def test_cuts_say_that_they_belong_to_the_board_alone() -> None:
    for case in CASES:
        for cut in planned(case).boards[0].cuts:
            assert (cut.of_joint, cut.mate, cut.joint) == (False, None, "shaping")
            assert not cut.region.is_empty


def test_a_hole_takes_the_drill_of_its_size_else_a_bit_that_goes_round() -> None:
    assert {cut.bit for cut in cuts_of("shelf pins")} == {"d5"}
    assert {cut.bit for cut in cuts_of("bores")} == {"b6"}
    assert {cut.work for cut in cuts_of("bores")} == {Work.BORE}
    assert [cut.bit for cut in cuts_of("counterbore")] == ["b6", "d5"]


def test_an_edge_takes_a_fitting_bit_else_a_hand_tool() -> None:
    def tools(*args: object, **options: object) -> set[tuple[str, bool]]:
        outcome = cut_plan(design(shaping(*args, **options)))  # type: ignore[arg-type]
        assert outcome.findings == ()
        assert outcome.value is not None
        return {(cut.bit, cut.by_hand) for cut in outcome.value.boards[0].cuts}

    assert tools("z.hi", "roundover") == {("r6", False)}
    assert tools("z.hi", "roundover", radius=mm(4)) == {("rasp", True)}
    assert tools("z.hi", "roundover", by=Word("hand")) == {("rasp", True)}
    assert tools("z.hi", "chamfer") == {("v90", False)}
    assert tools("z.hi", "chamfer", by=Word("hand")) == {("plane", True)}
    assert tools("z.hi", "ease") == {("sandpaper", True)}


def test_what_a_chisel_squares_is_all_that_the_bit_left() -> None:
    bored, squared = cuts_of("square pegs")[:2]
    assert (squared.bit, squared.by_hand) == ("chisel", True)
    assert area(bored.region) + area(squared.region) == pytest.approx(81, rel=1e-12)
    assert len(squared.region.loops) == 4


def test_hand_work_is_listed_and_machine_work_drawn() -> None:
    def of(name: str) -> BoardPlan:
        return planned(next(case for case in CASES if case.name == name)).boards[0]

    case = next(case for case in CASES if case.name == "square pegs")
    (row,) = cut_list(planned(case))
    assert [(step.work, step.bit, step.count) for step in row.hand_steps] == [
        (Work.POCKET, "chisel", 2)
    ]
    eased = board_profile(of("eased edges"), {})
    assert [operation.kind for operation in eased.operations] == [OperationKind.CUT_OUTER]
    assert all(note.by_hand for note in eased.notes)
    arch = board_profile(of("arch"), {})
    assert area(arch.outline) == pytest.approx(200 * 400 - CASES[0].removed / 18)
    holes = board_profile(of("hand hole"), {})
    assert [o.kind for o in holes.operations][-1] is OperationKind.CUT_INNER


def findings(*shapings: object) -> tuple[Finding, ...]:
    return cut_plan(design(*shapings)).findings  # type: ignore[arg-type]


def test_a_shaping_that_fails_leaves_the_others_alone() -> None:
    outcome = cut_plan(
        design(
            shaping("x.hi", "bore", spots(Axis.Y, 400)),
        )
    )
    assert outcome.value is not None
    (shaped,) = outcome.value.shaped
    assert shaped.failed
    assert shaped.cuts == ()
    assert [finding.code for finding in outcome.findings] == ["B206"]


def test_a_cut_in_a_design_made_by_hand_may_name_a_board_that_is_not_there() -> None:
    lost = replace(shaping("x.hi", "hand_hole"), boards=(BoardRef("pannel"),))
    assert [finding.code for finding in findings(lost)] == ["J212"]
    assert [f.code for f in findings(shaping("x.hi", "hand_hole"), shaping("x.hi", "ease"))] == [
        "B103"
    ]


def test_edges_are_worked_all_round_the_side() -> None:
    cuts = cuts_of("eased edges")
    runs = [400.0 if cut.side.axis is Axis.Z else 200.0 for cut in cuts]
    assert len(cuts) == 4
    assert sum(runs) == AROUND
