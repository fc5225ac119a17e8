"""Are blanks told that are larger than their sheet, their lumber or every machine?"""

from __future__ import annotations

from fractions import Fraction

import pytest
from dryfit.kernel.board import Axis
from dryfit.kernel.checks.findings import BeyondTravel, LargerThanLumber, LargerThanSheet
from dryfit.kernel.checks.size import size_findings
from dryfit.kernel.cutter import Machine
from dryfit.kernel.finding import Finding
from dryfit.kernel.stock import Stock
from pieces import board, plan, ply

SHEET = ply(18, 17.5, 18.2, sheet=(Fraction(2440), Fraction(1220)))


def blank(
    length: float,
    width: float,
    stock: Stock = SHEET,
    *,
    grain: Axis | None = None,
    machines: tuple[Machine, ...] = (),
) -> tuple[Finding, ...]:
    made = plan(
        board("panel", (0, length), (0, width), (0, 18), grain=grain),
        stocks=(stock,),
        machines=machines,
    )
    return size_findings(made)


@pytest.mark.parametrize(
    ("length", "width", "grain"),
    [(2440, 1220, None), (2440, 1220, Axis.X), (1220, 2440, None), (1200, 1210, Axis.X)],
)
def test_what_fits_is_silent(length: float, width: float, grain: Axis | None) -> None:
    assert blank(length, width, grain=grain) == ()


def test_too_long_either_way() -> None:
    (finding,) = blank(2441, 600)
    assert isinstance(finding, LargerThanSheet)
    assert (finding.length, finding.width) == (2441, 600)
    assert (finding.sheet_length, finding.sheet_width) == (2440, 1220)
    assert not finding.fits_across


def test_written_grain_locks_the_board() -> None:
    (finding,) = blank(600, 2000, grain=Axis.X)
    assert isinstance(finding, LargerThanSheet)
    assert finding.fits_across


def test_grain_nobody_wrote_lets_a_board_lie_across() -> None:
    short_grain = ply(18, sheet=(Fraction(1220), Fraction(2440)))
    assert blank(2000, 1000, short_grain) == ()


@pytest.mark.parametrize(
    ("length", "width", "longest", "widest"),
    [(3001, 100, 3000.0, None), (900, 201, None, 200.0), (3001, 201, 3000.0, 200.0)],
)
def test_lumber(length: float, width: float, longest: float | None, widest: float | None) -> None:
    lumber = ply(18, longest=Fraction(3000), widest=Fraction(200))
    (finding,) = blank(length, width, lumber)
    assert isinstance(finding, LargerThanLumber)
    assert (finding.longest, finding.widest) == (longest, widest)
    assert blank(3000, 200, lumber) == ()


def machine(x: int, y: int, z: int, name: str = "bench") -> Machine:
    return Machine(name=name, travel=(Fraction(x), Fraction(y), Fraction(z)))


def test_a_blank_may_lie_either_way_round() -> None:
    assert blank(900, 500, machines=(machine(600, 900, 80),)) == ()
    assert blank(900, 500, machines=(machine(900, 600, 80),)) == ()


def test_one_machine_that_can_is_enough() -> None:
    assert blank(900, 500, machines=(machine(300, 300, 80), machine(900, 600, 80))) == ()


def test_every_machine_says_where_it_is_short() -> None:
    (finding,) = blank(900, 500, machines=(machine(600, 600, 80), machine(1000, 400, 20, "small")))
    assert isinstance(finding, BeyondTravel)
    first, second = finding.machines
    assert first.short == (("x", 900.0, 600.0),)
    assert [axis for axis, _, _ in second.short] == ["y", "z"]
    # 18.2 is the thickest delivery, 5 the height the bit lifts above it.
    assert second.short[1][1] == pytest.approx(23.2)


def test_without_machines_nothing_is_asked() -> None:
    assert blank(2440, 1220) == ()
