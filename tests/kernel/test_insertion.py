"""Which straight ways part two boards: known answers, and answers that must agree."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from dryfit.kernel import solids
from dryfit.kernel.board import Axis
from dryfit.kernel.checks.assembly import assembly_findings
from dryfit.kernel.checks.assembly_findings import NoWayHome
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.delivered import delivered, thickest
from dryfit.kernel.design import Verb
from dryfit.kernel.expect import Claim, Test
from dryfit.kernel.insertion import Insertion, Insertions, joined_pairs, still_leaves
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from joined import CASES, Case, design, every, mm, named, option, planned
from pieces import board, cut, exact, joint, plan, ply, shifted, turned

NONE = frozenset[str]()

AXES = ("+x", "-x", "+y", "-y", "+z", "-z")
WAYS = {
    "butt": {"+x", "+y", "-y", "+z", "-z"},
    "rabbet": {"+x", "+z", "+y", "-y"},
    "stopped rabbet": {"+x", "+z"},
    "dado": {"+x", "+y", "-y"},
    "stopped dado": {"+x", "-y"},
    "notched dado": {"+x", "+y"},
    "groove": {"+x"},
    "edge groove": {"+y", "+z", "-z"},
    "tenon": {"+x"},
    "whole tenon": {"+x"},
    "through tenon": {"+x"},
    "tongue": {"+x", "+y", "-y"},
    "haunched tenon": {"+x"},
    "row of tenons": {"+x"},
    "twin tenon": {"+x"},
    "box joint": {"-x", "-z"},
    "even box joint": {"-x", "-z"},
}
"""The ways out along the axes for board `a` of each case, read off its drawing."""


def axes_out(found: Insertion) -> set[str]:
    """The axes among the ways out, such as `+x`."""
    return {
        f"{'+' if c > 0 else '-'}{'xyz'[i]}"
        for direction in found.out
        for i, c in enumerate(direction)
        if abs(c) > 1 - 1e-12
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_each_joint_opens_the_ways_its_drawing_shows(case: Case) -> None:
    for relief in case.reliefs:
        found = Insertions(Bodies(planned(case, relief)))
        if relief == "none" and found.bodies.meet(0, 1):
            continue
        assert axes_out(found.of(0, 1)) == WAYS[case.name], relief
        assert axes_out(found.of(1, 0)) == {_other(way) for way in WAYS[case.name]}
        assert found.leaves(0, 1) in found.of(0, 1).out


def _other(way: str) -> str:
    return f"{'-' if way[0] == '+' else '+'}{way[1]}"


LONG, WIDE, UP = (-100, 100), (0, 120), (0, 18)
MORE: tuple[tuple[str, Case, set[str]], ...] = (
    (
        "cross lap",
        Case("lap", "lap", Verb.ACROSS, (LONG, (0, 40), UP), ((0, 40), LONG, UP)),
        {"+z"},
    ),
    (
        "corner lap",
        Case("lap", "lap", Verb.TO, ((0, 200), (0, 40), UP), ((0, 40), (-80, 40), UP)),
        {"+x", "+y", "+z"},
    ),
    (
        "edge lap",
        Case("lap", "edge_lap", Verb.ACROSS, (LONG, UP, (0, 80)), (UP, LONG, (0, 80))),
        {"+z"},
    ),
    (
        "sliding dovetail",
        Case("tail", "dovetail", Verb.INTO, ((9, 200), WIDE, (50, 68)), (UP, WIDE, (0, 140))),
        {"+y", "-y"},
    ),
    (
        "bridle",
        Case("bridle", "bridle", Verb.INTO, ((0, 200), UP, (0, 40)), ((0, 40), UP, (-100, 40))),
        {"+x", "+z"},
    ),
    (
        "tongue",
        Case("tongue", "tongue", Verb.INTO, ((9, 200), WIDE, (90, 108)), (UP, WIDE, (0, 140))),
        {"+x", "+y", "-y"},
    ),
    (
        "puzzle",
        Case("puzzle", "puzzle", Verb.TO, ((-10, 200), (0, 120), UP), ((-200, 10), (0, 120), UP)),
        {"+z", "-z"},
    ),
)
TAIL = Bit(name="tail", kind=BitKind.DOVETAIL, radius=exact(6), angle=exact(14))


@pytest.mark.parametrize(("case", "out"), [m[1:] for m in MORE], ids=[m[0] for m in MORE])
def test_joints_that_lock_one_way_open_the_others(case: Case, out: set[str]) -> None:
    made = design(case, "corner")
    plain = replace(made.joins[0], options=case.options)
    outcome = cut_plan(replace(made, joins=(plain,), bits=(*made.bits, TAIL)))
    assert outcome.findings == ()
    assert outcome.value is not None
    assert axes_out(Insertions(Bodies(outcome.value)).of(0, 1)) == out


def test_what_goes_out_comes_home_the_other_way() -> None:
    found = Insertions(Bodies(planned(CASES[3], "corner"))).of(0, 1)
    assert {tuple(-c for c in way) for way in found.out} == set(found.home)


@pytest.mark.parametrize("both", every()[::5], ids=named)
def test_a_turned_and_moved_pair_has_the_same_ways_turned(both: tuple[Case, str]) -> None:
    case, relief = both
    pose = (turned(33.7, Axis.Y, (5, 1, 2)), turned(-71, Axis.Z), shifted(311.1, -77.7, 1234.5))
    plain, posed = (Bodies(planned(case, relief, moves)) for moves in ((), pose))
    if plain.meet(0, 1):
        return
    here, there = (Insertions(bodies).of(0, 1) for bodies in (plain, posed))
    matrix = solids.pose_matrix(pose)
    assert len(here.ways) == len(there.ways)
    for one, other in zip(here.ways, there.ways, strict=True):
        assert np.allclose(matrix[:3, :3] @ one.direction, other.direction, atol=1e-9)
        assert one.free == pytest.approx(other.free, abs=1e-6)
        if one.contact is not None and other.contact is not None:
            there_place = matrix[:3, :3] @ one.contact.place + matrix[:3, 3]
            assert np.allclose(there_place, other.contact.place, atol=0.01)
            for way in (one, other):
                assert way.contact is not None
                came = np.subtract(way.contact.place, way.contact.start)
                assert np.allclose(came, np.array(way.direction) * way.free, atol=1e-9)


@pytest.mark.parametrize("fit", [0.0, 0.1, 0.3])
def test_a_tenon_has_half_its_fit_of_play_each_way_and_none_in(fit: float) -> None:
    case = next(c for c in CASES if c.name == "tenon")
    options = (*(o for o in case.options if o.name != "fit"), option("fit", mm(fit)))
    made = Case(case.name, case.family, case.verb, case.a, case.b, options, case.stock_a, "ply40")
    ways = Insertions(Bodies(planned(made, "corner"))).of(0, 1).ways
    free = {AXES[i]: way.free for i, way in enumerate(ways[:6])}
    assert free["+x"] == inf
    assert free["-x"] == pytest.approx(0, abs=1e-9)
    for way in ("+y", "-y"):
        assert free[way] == pytest.approx(fit / 2, abs=1e-9)
    for way in ("+z", "-z"):  # the relieved ends: at most the fit, the curve of the relief less
        assert fit / 2 - 1e-9 <= free[way] <= fit + 0.01


def test_the_first_contact_names_both_cuts_and_its_place() -> None:
    made = planned(next(c for c in CASES if c.name == "groove"), "corner")
    way = Insertions(Bodies(made)).of(0, 1).ways[2]
    assert way.direction == (0.0, 1.0, 0.0)
    assert way.contact is not None
    assert (way.contact.moving_cut, way.contact.still_cut) == (-1, 0)
    assert way.contact.distance == pytest.approx(0.1)
    x, y, z = way.contact.place
    assert 13 <= x <= 18
    assert y == pytest.approx(186.1, abs=0.01)
    assert 13 <= z <= 287
    assert way.contact.start == pytest.approx((x, y - 0.1, z))


def test_a_contact_found_from_the_mates_side_still_starts_on_the_part() -> None:
    """Both ways along an axis are read off one picture: each starts on a face of the part, and
    ends on the mate."""
    made = planned(next(c for c in CASES if c.name == "groove"), "corner")
    _, _, onward, back, *_ = Insertions(Bodies(made)).of(0, 1).ways
    assert onward.contact is not None
    assert back.contact is not None
    assert back.direction == (0.0, -1.0, 0.0)
    part, mate = (one.board.box[Axis.Y] for one in made.boards)
    assert onward.contact.start[1] == pytest.approx(float(part.hi), abs=0.01)
    assert back.contact.start[1] == pytest.approx(float(part.lo), abs=0.01)
    assert back.contact.place[1] < back.contact.start[1]
    assert float(mate.lo) < back.contact.place[1] < float(mate.hi)


# ---- boards that hold each other -----------------------------------------------------------------


def t_slot(*, front: bool, back: bool) -> CutPlan:
    """A T in a block: its slot along y is open at the ends named."""
    y0, y1 = (-1.0 if front else 10.0), (81.0 if back else 70.0)
    deep = None if front and back else 70.0
    cuts = (
        cut("block", "+z", rectangle(-6, y0, 6, y1), 30.0),
        cut("block", "-y" if front else "+y", rectangle(10, -16, 18, 16), deep),
        cut("tee", "+y", rectangle(18, -17, 61, -6), None),
        cut("tee", "+y", rectangle(18, 6, 61, 17), None),
    )
    tee = board("tee", (-16, 16), (max(y0, 0) + 1, min(y1, 80) - 1), (10, 60), stock="ply32")
    block = board("block", (-40, 40), (0, 80), (0, 40), stock="ply40")
    return plan(tee, block, cuts=cuts, joints=(joint("tee", "block"),))


@pytest.mark.parametrize(
    ("front", "back", "out"),
    [
        (True, True, {"+y", "-y"}),
        (True, False, {"-y"}),
        (False, True, {"+y"}),
        (False, False, set()),
    ],
)
def test_a_t_leaves_its_slot_where_the_slot_is_open(front: bool, back: bool, out: set[str]) -> None:
    found = Insertions(Bodies(t_slot(front=front, back=back)))
    assert axes_out(found.of(0, 1)) == out
    assert (found.leaves(0, 1) is None) == (not out)


def test_a_joint_that_no_way_closes_is_told_with_what_is_met_on_each() -> None:
    (found,) = assembly_findings(Bodies(t_slot(front=False, back=False)), NONE)
    assert isinstance(found, NoWayHome)
    assert (found.part, found.mate, found.joints, found.stocks) == ("tee", "block", ("joint",), ())
    assert [blocked.direction for blocked in found.blocked] == [
        (1.0, 0.0, 0.0),
        (-1.0, 0.0, 0.0),
        (0.0, 1.0, 0.0),
        (0.0, -1.0, 0.0),
        (0.0, 0.0, 1.0),
        (0.0, 0.0, -1.0),
    ]
    up = found.blocked[4].hit
    assert (up.moving.board, up.still.board, up.still.cut_of) == ("tee", "block", "joint")
    assert up.after == pytest.approx(0, abs=1e-9)
    assert assembly_findings(Bodies(t_slot(front=True, back=False)), NONE) == ()
    assert assembly_findings(Bodies(t_slot(front=False, back=False)), frozenset({"joint"})) == ()


# ---- other thicknesses ---------------------------------------------------------------------------


@pytest.mark.parametrize("both", every()[::4], ids=named)
def test_a_thicker_board_holds_all_of_a_thinner_one(both: tuple[Case, str]) -> None:
    case, relief = both
    made = planned(case, relief)
    stocks = {stock.name: stock.thick for stock in made.design.stocks}
    thin = delivered(made, {name: thick - thick / 40 for name, thick in stocks.items()})
    thick = delivered(made, {name: size + size / 50 for name, size in stocks.items()})
    for less, as_drawn, more in zip(thin.boards, made.boards, thick.boards, strict=True):
        least, drawn, most = (solids.true_body(one).solid for one in (less, as_drawn, more))
        assert (least - drawn).volume() == pytest.approx(0, abs=1e-3)
        assert (drawn - most).volume() == pytest.approx(0, abs=1e-3)
        assert least.volume() < drawn.volume() < most.volume()


def test_the_face_that_pockets_are_cut_from_stays() -> None:
    made = planned(CASES[3], "corner")
    side = delivered(made, {"ply18": made.design.stocks[2].thick + 1}).boards[1].board.box.x
    shelf = delivered(made, {"ply18": made.design.stocks[2].thick + 1}).boards[0].board.box.z
    assert (side.lo, side.hi) == (-1, 18)
    assert (shelf.lo, shelf.hi) == (99.5, 118.5)


def _dado(fit: float, most: float, *, claims: bool) -> CutPlan:
    case = next(c for c in CASES if c.name == "stopped dado")
    made = design(
        Case(case.name, case.family, case.verb, case.a, case.b, (option("fit", mm(fit)),)), "corner"
    )
    stocks = tuple(ply(18, 17.6, most) if s.name == "ply18" else s for s in made.stocks)
    tests = (Test(name="together", expectations=(Claim("assembles"),)),) if claims else ()
    outcome = cut_plan(replace(made, stocks=stocks, tests=tests))
    assert outcome.value is not None
    return outcome.value


def test_parts_that_only_the_thickest_stock_keeps_out_are_told_where_a_test_asks() -> None:
    tight, roomy = _dado(0.2, 18.6, claims=True), _dado(0.5, 18.4, claims=True)
    (found,) = assembly_findings(Bodies(tight), NONE)
    assert isinstance(found, NoWayHome)
    assert [(stock.name, stock.thick) for stock in found.stocks] == [("ply18", 18.6)]
    assert assembly_findings(Bodies(roomy), NONE) == ()
    assert assembly_findings(Bodies(_dado(0.2, 18.6, claims=False)), NONE) == ()


def test_a_part_may_come_home_short_by_what_its_mate_is_thicker() -> None:
    """A rabbet's panel keeps its middle, so thick stock stands proud of its seat: still free."""
    made = planned(next(c for c in CASES if c.name == "rabbet"), "corner")
    thick = delivered(made, {"ply18": made.design.stocks[2].thick + 1})
    drawn, other = Bodies(made), Bodies(thick)
    assert other.meet(0, 1)
    assert still_leaves(drawn, other, 0, 1, Insertions(drawn).of(0, 1).out) is not None


def test_pairs_under_a_join_are_listed_once_with_their_joints() -> None:
    bodies = Bodies(planned(CASES[0], "none"))
    assert list(joined_pairs(bodies)) == [(0, 1, ("joint",))]
    assert thickest(bodies.plan)["ply18"] == 18
