"""Is wood told thin where it really breaks, and only there?"""

from __future__ import annotations

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.checks.findings import ThinPin, ThinSkin, ThinWall, ThinWood
from dryfit.kernel.checks.walls import wall_findings
from dryfit.kernel.cuts import Cut, Work
from dryfit.kernel.finding import Finding
from dryfit.kernel.region import disc, rectangle
from dryfit.kernel.stock import Stock
from joined import Case, every, named, planned
from pieces import board, cut, plan, ply, shifted, turned

SIDE = board("side", (0, 18), (0, 200), (0, 300))  # grain along z


def found(*cuts: Cut, stock: Stock | None = None) -> tuple[Finding, ...]:
    return wall_findings(plan(SIDE, cuts=cuts, stocks=(stock or ply(18),)))


def only(*cuts: Cut, stock: Stock | None = None) -> ThinWood:
    (finding,) = found(*cuts, stock=stock)
    assert isinstance(finding, ThinWood)
    return finding


def dado(z: float, width: float = 18, depth: float = 6, joint: str = "joint") -> Cut:
    return cut("side", "+x", rectangle(-1, z, 201, z + width), depth, joint=joint)


@pytest.mark.parametrize("case", every(), ids=named)
def test_ordinary_joints_are_silent(case: tuple[Case, str]) -> None:
    codes = [finding.code for finding in wall_findings(planned(*case))]
    # The whole tenon goes 11 of 18 deep along most of the side: that much is told.
    assert codes == (["F301"] if case[0].name == "whole tenon" else [])


# --- walls ---------------------------------------------------------------------------------------


def test_short_grain_between_a_dado_and_the_end() -> None:
    finding = only(dado(300 - 18 - 4))
    assert isinstance(finding, ThinWall)
    assert finding.left == pytest.approx(4)
    assert finding.least == pytest.approx(5)
    assert (finding.length, finding.height) == (pytest.approx(200), pytest.approx(6))
    assert finding.across_grain
    assert finding.along is Axis.Y
    assert finding.beside is None
    assert finding.ends.one == pytest.approx((15, 100, 296))
    assert finding.ends.other == pytest.approx((15, 100, 300))
    assert finding.ends.along == (0.0, 0.0, 1.0)


def test_the_wall_of_a_groove_along_the_grain_is_not_short_grain() -> None:
    finding = only(cut("side", "+x", rectangle(3, -1, 9, 301), 6))
    assert isinstance(finding, ThinWall)
    assert finding.left == pytest.approx(3)
    assert not finding.across_grain


@pytest.mark.parametrize(("left", "depth"), [(5, 6), (4, 4), (3, 3)])
def test_wide_enough_or_too_low_to_break_is_silent(left: float, depth: float) -> None:
    assert found(dado(300 - 18 - left, depth=depth)) == ()


def test_a_dado_flush_with_the_end_has_no_wall() -> None:
    assert found(dado(282, 19)) == ()


def test_the_end_of_a_narrow_groove_is_held_at_both_sides() -> None:
    """A groove 6 wide stops 4 short of the end: no wall to break, it is held on three sides."""
    assert found(cut("side", "+x", rectangle(100, 20, 106, 296), 6)) == ()


def test_a_wall_between_two_cuts_names_both() -> None:
    finding = only(dado(100, joint="lower"), dado(122, joint="upper"))
    assert isinstance(finding, ThinWall)
    assert finding.left == pytest.approx(4)
    assert {finding.joint, finding.beside} == {"lower", "upper"}


@pytest.mark.parametrize("far", [0.0, 140.0])
def test_a_wall_is_shown_where_it_has_wood(far: float) -> None:
    """Another cut takes 60 of the wall's 200 mm, at one end: it is shown in the middle of the rest,
    and with the board wherever that is put."""
    pose = (turned(90, Axis.Z), shifted(1000, 0, 0))
    side = board("side", (0, 18), (0, 200), (0, 300), pose=pose)
    taken = cut("side", "+x", rectangle(far - 1, 270, far + 61, 301), 19, joint="taken")
    thin = wall_findings(plan(side, cuts=(dado(278), taken), stocks=(ply(18),)))
    (wall,) = (each for each in thin if isinstance(each, ThinWall) and each.beside is None)
    y = 1000 - wall.ends.one[0]
    assert y == pytest.approx(130 if far == 0 else 70, abs=15)
    assert wall.ends.one == pytest.approx((1000 - y, 15, 296))
    assert wall.ends.other == pytest.approx((1000 - y, 15, 300))


def test_cuts_of_both_faces_make_no_wall_unless_they_pass() -> None:
    far = cut("side", "-x", rectangle(-1, 122, 201, 140), 6, joint="far")
    assert found(dado(100), far) == ()
    deeper = cut("side", "-x", rectangle(-1, 121, 201, 139), 14, joint="far")
    codes = {finding.code for finding in found(dado(100, depth=8), deeper)}
    assert "F301" in codes  # 14 of 18 deep


def test_wood_that_another_cut_takes_away_is_no_wall() -> None:
    rabbet = cut("side", "+x", rectangle(-1, 290, 201, 301), 6, joint="rabbet")
    near = dado(268, joint="near")
    assert found(near, rabbet) != ()
    away = cut("side", "+x", rectangle(-1, 280, 201, 301), 6, joint="away")
    assert found(near, away) == ()


def test_walls_of_an_edge_groove_are_a_quarter_of_the_thickness() -> None:
    def groove(x: float) -> Cut:
        return cut("side", "+y", rectangle(-1, x, 301, x + 6), 10)

    assert found(groove(6)) == ()
    assert found(groove(4.6)) == ()
    finding = only(groove(4.2))
    assert isinstance(finding, ThinWall)
    assert (finding.left, finding.least) == (pytest.approx(4.2), pytest.approx(4.5))


def test_an_edge_wall_is_judged_at_the_thinnest_delivery() -> None:
    groove = cut("side", "+y", rectangle(-1, 4.6, 301, 10), 10)
    assert found(groove, stock=ply(18, 17.9, 18)) == ()
    finding = only(groove, stock=ply(18, 17.4, 18))
    assert isinstance(finding, ThinWall)
    assert (finding.left, finding.thick) == (pytest.approx(4.0), 17.4)


# --- pins ----------------------------------------------------------------------------------------


def notch(y0: float, y1: float) -> Cut:
    return cut("side", "+x", rectangle(y0, 282, y1, 301), None)


def test_pins_of_a_box_joint_may_be_narrow() -> None:
    assert found(notch(4, 8), notch(12, 16), notch(20, 24)) == ()


@pytest.mark.parametrize("notches", [(notch(20, 30), notch(31.5, 50)), (notch(1.5, 30),)])
def test_a_pin_that_chips_off(notches: tuple[Cut, ...]) -> None:
    finding = only(*notches)
    assert isinstance(finding, ThinPin)
    assert (finding.left, finding.least) == (pytest.approx(1.5), 2.0)


def test_a_tenon_between_its_shoulders() -> None:
    def shoulders(depth: float) -> tuple[Cut, Cut]:
        region = rectangle(-1, 270, 201, 301)
        return cut("side", "+x", region, depth), cut("side", "-x", region, depth)

    assert found(*shoulders(6)) == ()
    assert found(*shoulders(8)) == ()
    finding = only(*shoulders(8.2))
    assert isinstance(finding, ThinPin)
    assert finding.left == pytest.approx(1.6)
    assert sorted((finding.ends.one[0], finding.ends.other[0])) == pytest.approx([8.2, 9.8])


# --- skins ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("depth", "told"), [(6, False), (9, False), (9.5, True)])
def test_half_is_left_under_a_dado(depth: float, told: bool) -> None:
    findings = found(dado(100, depth=depth))
    assert len(findings) == told
    for finding in findings:
        assert isinstance(finding, ThinSkin)
        assert (finding.left, finding.least) == (pytest.approx(18 - depth), 9)


def test_a_mortise_may_go_deeper_than_a_dado() -> None:
    def mortise(depth: float) -> Cut:
        return cut("side", "+x", rectangle(60, 100, 120, 118), depth)

    assert found(mortise(14)) == ()
    assert found(mortise(16)) == ()
    finding = only(mortise(16.5))
    assert isinstance(finding, ThinSkin)
    assert (finding.left, finding.least) == (pytest.approx(1.5), 2.0)
    assert finding.ends.one == pytest.approx((1.5, 90, 109)), "the middle of the mortise's floor"
    assert finding.ends.other == pytest.approx((0, 90, 109)), "the face behind it"
    assert finding.ends.along == (-1.0, 0.0, 0.0)


def test_a_rabbet_may_go_deeper_than_a_dado() -> None:
    assert found(dado(282, 19, depth=14)) == ()


def test_a_skin_is_judged_at_the_thinnest_delivery() -> None:
    mortise = cut("side", "+x", rectangle(60, 100, 120, 118), 15.9)
    assert found(mortise) == ()
    finding = only(mortise, stock=ply(18, 17.5, 18))
    assert isinstance(finding, ThinSkin)
    assert (finding.left, finding.thick) == (pytest.approx(1.6), 17.5)


def test_floors_of_two_grooves_back_to_back() -> None:
    one = dado(100, depth=8.5, joint="one")
    other = cut("side", "-x", rectangle(-1, 100, 201, 118), 8.5, joint="other")
    finding = only(one, other)
    assert isinstance(finding, ThinSkin)
    assert finding.left == pytest.approx(1.0)
    assert {finding.joint, finding.beside} == {"one", "other"}
    assert (finding.ends.one[0], finding.ends.other[0]) == pytest.approx((9.5, 8.5))


def test_no_skin_where_another_cut_goes_through() -> None:
    mortise = cut("side", "+x", rectangle(60, 100, 120, 118), 17, joint="one")
    through = cut("side", "+x", rectangle(50, 90, 130, 130), None, joint="other")
    assert found(mortise, through) == ()


def test_mortises_that_near_each_other_in_a_leg() -> None:
    leg = board("leg", (0, 40), (0, 40), (0, 400), stock="ply40")

    def mortises(depth: float) -> tuple[Cut, Cut]:
        return (
            cut("leg", "+x", rectangle(14, 300, 26, 340), depth, joint="one"),
            cut("leg", "+y", rectangle(300, 14, 340, 26), 20, joint="other"),
        )

    assert wall_findings(plan(leg, cuts=mortises(12))) == ()
    (finding,) = wall_findings(plan(leg, cuts=mortises(13)))
    assert isinstance(finding, ThinWall)
    assert finding.left == pytest.approx(1.0)
    assert (finding.ends.one[0], finding.ends.other[0]) == pytest.approx((26, 27))
    assert finding.ends.one[1:] == finding.ends.other[1:] == pytest.approx((23, 320))
    assert {finding.joint, finding.beside} == {"one", "other"}


def test_roundovers_and_bores_have_no_straight_walls() -> None:
    assert found(cut("side", "+x", disc((4, 100), 3), None)) == ()
    assert found(cut("side", "+z", rectangle(0, 0, 2, 2), 20, work=Work.ROUND)) == ()


def test_one_finding_for_a_board_joint_and_neighbour() -> None:
    finding = only(dado(300 - 18 - 4), dado(2, 18))
    assert finding.left == pytest.approx(2)
