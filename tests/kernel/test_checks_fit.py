"""Is each joint's fit judged at nominal and at both ends of what the yard delivers?"""

from __future__ import annotations

from dataclasses import replace

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.checks import check
from dryfit.kernel.checks.findings import FitFinding, FitTooLoose, FitTooTight
from dryfit.kernel.checks.fit import fit_cases, fit_findings
from dryfit.kernel.cuts import Mating
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.region import rectangle
from joined import CASES, design, mm, option
from pieces import board, cut, joint, plan, ply


def mating(fit: float, follows: str | None = "ply18", socket_follows: str | None = None) -> Mating:
    return Mating(
        joint="joint",
        part="shelf",
        socket="side",
        axis=Axis.Z,
        socket_axis=Axis.Z,
        socket_size=18.0 + fit,
        part_size=18.0,
        asked=fit,
        follows=follows,
        socket_follows=socket_follows,
    )


def made(*matings: Mating, low: float = 18, high: float = 18, failed: bool = False) -> CutPlan:
    return plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        board("shelf", (18, 400), (0, 200), (100, 118)),
        joints=(joint("shelf", "side", matings=matings, failed=failed),),
        stocks=(ply(18, low, high), ply(12, 11.6, 12.2)),
    )


def only(plan_: CutPlan) -> FitFinding:
    (finding,) = fit_findings(plan_)
    return finding


@pytest.mark.parametrize("fit", [0.0, 0.1, 0.8])
def test_an_ordinary_fit_is_silent(fit: float) -> None:
    assert fit_findings(made(mating(fit))) == ()


def test_a_fit_below_zero_as_drawn() -> None:
    finding = only(made(mating(-0.1), low=17.5, high=18.2))
    assert isinstance(finding, FitTooTight)
    assert finding.fit == pytest.approx(-0.1)
    assert finding.stocks == ()


def test_total_play_over_the_delivered_range() -> None:
    """Thickness 17.5..18.2, fit 0.2 at 18: play 0.7 to 0.0, and 0.2 where the size is cut."""
    shares = {"ply18": ply(18, 17.5, 18.2)}
    fits = [case.fit for case in fit_cases(mating(0.2), shares)]
    assert fits == pytest.approx([0.2, 0.7, 0.0])
    assert [c.fit for c in fit_cases(mating(0.2, None), shares)] == pytest.approx([0.2])
    assert fit_findings(made(mating(0.2), low=17.5, high=18.2)) == ()


def test_too_thick_a_delivery_is_told_with_its_thickness() -> None:
    finding = only(made(mating(0.1), low=17.5, high=18.2))
    assert isinstance(finding, FitTooTight)
    assert finding.fit == pytest.approx(-0.1)
    (stock,) = finding.stocks
    assert (stock.name, stock.nominal, stock.thick) == ("ply18", 18.0, 18.2)


def test_too_thin_a_delivery_is_loose() -> None:
    finding = only(made(mating(0.3), low=17.4, high=18.0))
    assert isinstance(finding, FitTooLoose)
    assert finding.fit == pytest.approx(0.9)
    assert [stock.thick for stock in finding.stocks] == [17.4]


def test_the_fit_that_suits_every_delivery() -> None:
    assert only(made(mating(0.1), low=17.7, high=18.3)).suits == pytest.approx(0.3)
    assert only(made(mating(0.6), low=17.7, high=18.3)).suits == pytest.approx(0.5)
    assert only(made(mating(0.1), low=17.5, high=18.4)).suits is None
    assert only(made(mating(0.9))).suits == pytest.approx(0.8)


def test_part_and_socket_of_one_delivery_change_alike() -> None:
    alike = mating(0.1, "ply18", "ply18")
    assert fit_findings(made(alike, low=17, high=19)) == ()


def test_part_and_socket_of_two_stocks_meet_at_their_worst() -> None:
    finding = only(made(mating(0.1, "ply18", "ply12"), low=17.9, high=18.1))
    assert isinstance(finding, FitTooTight)
    assert finding.fit == pytest.approx(0.1 - 0.4 - 0.1)
    assert [(s.name, s.thick) for s in finding.stocks] == [("ply12", 11.6), ("ply18", 18.1)]


def test_one_finding_a_joint_its_worst() -> None:
    finding = only(made(mating(-0.1), mating(-0.3), mating(2.0)))
    assert finding.fit == pytest.approx(-0.3)


def test_a_failed_joint_says_nothing() -> None:
    assert fit_findings(made(mating(-0.1), failed=True)) == ()


@pytest.mark.parametrize(
    ("fit", "high", "codes"),
    [(0.0, 18.0, []), (0.1, 18.1, []), (0.1, 18.3, ["F201"]), (0.9, 18.0, ["F202"])],
)
def test_from_design_to_finding(fit: float, high: float, codes: list[str]) -> None:
    case = next(case for case in CASES if case.name == "dado")
    written = design(replace(case, options=(option("fit", mm(fit)),)), "corner")
    stocks = tuple(ply(18, 18, high) if s.name == "ply18" else s for s in written.stocks)
    outcome = cut_plan(replace(written, stocks=stocks))
    assert outcome.findings == ()
    assert outcome.value is not None
    assert [finding.code for finding in check(outcome.value)] == codes


def test_a_joint_too_tight_as_drawn_is_told_once() -> None:
    side, shelf = board("side", (0, 18), (0, 200), (0, 300)), ((12, 400), (0, 200), (100, 118))
    tight = mating(-1.0)
    dado = cut("side", "+x", rectangle(-1, 100.5, 201, 117.5), 6, mate="shelf")
    drawn = plan(
        side,
        board("shelf", *shelf),
        cuts=(dado,),
        joints=(joint("shelf", "side", matings=(tight,)),),
    )
    assert [finding.code for finding in check(drawn)] == ["F201"]
