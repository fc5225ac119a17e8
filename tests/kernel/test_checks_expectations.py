"""Do a design's own claims hold or fail by the figures measured, with their margins?"""

from __future__ import annotations

from fractions import Fraction

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.checks import check
from dryfit.kernel.checks.expect_findings import (
    DividedByZero,
    ExpectationFailed,
    Measured,
    NoFitToMeasure,
    NotComparable,
    NothingToMeasure,
    UnknownMeasure,
)
from dryfit.kernel.checks.expectations import expectation_findings
from dryfit.kernel.cuts import Mating
from dryfit.kernel.design import Design
from dryfit.kernel.expect import (
    Arithmetic,
    Claim,
    Compare,
    Figure,
    Given,
    Measure,
    Op,
    Relation,
    Statement,
    Test,
    Within,
)
from dryfit.kernel.finding import Finding
from dryfit.kernel.plan import CutPlan
from dryfit.kernel.quantity import COUNT, LENGTH, VOLUME, Dimension, Quantity
from dryfit.kernel.region import rectangle
from dryfit.kernel.solids import Bodies
from pieces import board, cut, exact, joint, plan


def made(*statements: Statement, width: float = 18.2, failed: bool = False) -> CutPlan:
    mating = Mating(
        joint="joint",
        part="shelf",
        socket="side",
        axis=Axis.Z,
        socket_axis=Axis.Z,
        socket_size=width,
        part_size=18.0,
        asked=0.2,
    )
    return plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        board("shelf", (12, 400), (0, 200), (100, 118)),
        board("loose", (500, 518), (0, 200), (0, 300)),
        cuts=(cut("side", "+x", rectangle(-1, 100, 201, 100 + width), 6, mate="shelf"),),
        joints=(joint("shelf", "side", matings=() if failed else (mating,), failed=failed),),
        tests=(Test(name="goes together", expectations=statements),),
    )


def found(*statements: Statement, width: float = 18.2, failed: bool = False) -> tuple[Finding, ...]:
    bodies = Bodies(made(*statements, width=width, failed=failed))
    return expectation_findings(bodies)


def given(value: float, dimension: Dimension = LENGTH) -> Given:
    return Given(Quantity(exact(value), dimension))


FIT = Measure("fit", ("shelf", "side"))


@pytest.mark.parametrize(
    "statement",
    [
        Claim("no interference"),
        Within(FIT, given(0.1), given(0.3)),
        Within(FIT, given(0.2), given(0.2)),
        Compare(Relation.EQ, FIT, given(0.2)),
        Compare(Relation.GE, FIT, given(0.2)),
        Compare(Relation.LE, FIT, given(0.2)),
        Compare(Relation.NE, FIT, given(0.3)),
        Compare(Relation.EQ, Measure("length", ("side",)), given(300)),
        Compare(Relation.EQ, Measure("width", ("side",)), given(200)),
        Compare(Relation.EQ, Measure("thick", ("side",)), given(18)),
        Compare(Relation.EQ, Measure("overlap", ("side", "shelf")), given(0, VOLUME)),
        Compare(Relation.EQ, Measure("volume", ("shelf",)), given(388 * 200 * 18, VOLUME)),
        Compare(
            Relation.EQ,
            Arithmetic(Op.SUB, Measure("length", ("side",)), given(100)),
            Measure("width", ("side",)),
        ),
        Compare(
            Relation.GT,
            Arithmetic(Op.DIV, Measure("length", ("side",)), Measure("thick", ("side",))),
            given(16, COUNT),
        ),
        Compare(
            Relation.EQ,
            Arithmetic(Op.MUL, given(2, COUNT), Measure("thick", ("side",))),
            given(36),
        ),
    ],
    ids=repr,
)
def test_what_holds_is_silent(statement: Statement) -> None:
    assert found(statement) == ()


@pytest.mark.parametrize(
    ("statement", "bounds", "margin"),
    [
        (Within(FIT, given(0.25), given(0.3)), (0.25, 0.3), 0.05),
        (Within(FIT, given(0), given(0.05)), (0, 0.05), 0.15),
        (Compare(Relation.LT, FIT, given(0.2)), (0.2,), 0),
        (Compare(Relation.GT, FIT, given(0.2)), (0.2,), 0),
        (Compare(Relation.EQ, FIT, given(0.3)), (0.3,), 0.1),
        (Compare(Relation.NE, FIT, given(0.2)), (0.2,), 0),
    ],
    ids=repr,
)
def test_what_does_not_hold_tells_by_how_much(
    statement: Statement, bounds: tuple[float, ...], margin: float
) -> None:
    (finding,) = found(statement)
    assert isinstance(finding, ExpectationFailed)
    assert finding.test == "goes together"
    assert finding.value == pytest.approx(0.2)
    assert finding.bounds == pytest.approx(bounds)
    assert finding.margin == pytest.approx(margin)
    (measured,) = finding.measured
    assert isinstance(measured, Measured)
    assert (measured.name, measured.subjects) == ("fit", ("shelf", "side"))


def test_overlapping_boards_are_told_of_once_claimed_away_or_not() -> None:
    drawn = made(Claim("no interference"), width=17.0)
    assert [finding.code for finding in check(drawn)] == ["F201"]


@pytest.mark.parametrize(
    ("figure", "kind"),
    [
        (Measure("volume", ("shelve",)), NothingToMeasure),
        (Measure("overlap", ("side", "shelve")), NothingToMeasure),
        (Measure("fit", ("side", "loose")), NoFitToMeasure),
        (Measure("heft", ("side",)), UnknownMeasure),
        (Measure("fit", ("side",)), UnknownMeasure),
        (Measure("volume", ("side", "shelf")), UnknownMeasure),
        (Arithmetic(Op.ADD, FIT, given(1, COUNT)), NotComparable),
        (Arithmetic(Op.DIV, FIT, given(0)), DividedByZero),
    ],
    ids=repr,
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_what_cannot_be_measured(figure: Figure, kind: type[Finding], side: str) -> None:
    pair = (figure, given(1)) if side == "left" else (given(1), figure)
    (finding,) = found(Compare(Relation.GE, *pair))
    assert type(finding) is kind


def test_a_near_name_is_offered_and_what_fits_is_told() -> None:
    (finding,) = found(Compare(Relation.GE, Measure("volume", ("shelve",)), given(1, VOLUME)))
    assert isinstance(finding, NothingToMeasure)
    assert finding.near == "shelf"
    (finding,) = found(Compare(Relation.GE, Measure("fit", ("side", "loose")), given(1)))
    assert isinstance(finding, NoFitToMeasure)
    assert finding.fitted_to == ("shelf",)


def test_figures_of_different_kinds() -> None:
    (finding,) = found(Compare(Relation.GE, Measure("volume", ("side",)), given(1)))
    assert isinstance(finding, NotComparable)
    assert (finding.left, finding.right) == (VOLUME, LENGTH)


def test_a_claim_nobody_knows() -> None:
    (finding,) = found(Claim("stands by itself"))
    assert isinstance(finding, UnknownMeasure)


def test_every_expectation_stands_alone() -> None:
    wrong = Compare(Relation.LT, FIT, given(0.1))
    assert len(found(wrong, Claim("no interference"), wrong)) == 2


def test_what_another_finding_stopped_stays_silent() -> None:
    assert found(Compare(Relation.LT, FIT, given(0.1)), failed=True) == ()
    whole = made(Compare(Relation.LT, Measure("volume", ("side",)), given(1, VOLUME)))
    without_side = CutPlan(
        design=whole.design,
        boards=tuple(b for b in whole.boards if b.board.name != "side"),
        joints=(),
    )
    assert isinstance(whole.design, Design)
    assert expectation_findings(Bodies(without_side)) == ()


def test_a_tenth_is_a_tenth() -> None:
    assert exact(0.1) == Fraction(1, 10)
