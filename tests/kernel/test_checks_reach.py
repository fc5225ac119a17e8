"""Are cuts told that their bit is too short for?"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from dryfit.kernel.checks.findings import DeeperThanFlute, DeeperThanReach
from dryfit.kernel.checks.reach import reach_findings
from dryfit.kernel.cuts import Work
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.finding import Finding
from dryfit.kernel.region import rectangle
from pieces import B6, board, cut, plan, ply

R3 = Bit(name="r3", kind=BitKind.ROUNDOVER, radius=Fraction(3), by_hand=True)
REGION = rectangle(-1, 100, 201, 118)


def found(depth: float | None, bit: Bit, *, high: float = 18, work: Work | None = None) -> Finding:
    findings = every(depth, bit, high=high, work=work)
    assert len(findings) == 1
    return findings[0]


def every(
    depth: float | None, bit: Bit, *, high: float = 18, work: Work | None = None
) -> tuple[Finding, ...]:
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        cuts=(cut("side", "+x", REGION, depth, bit=bit.name, work=work),),
        bits=(bit,),
        stocks=(ply(18, 18, high),),
    )
    return reach_findings(made)


def with_length(flute: int | None, reach: int | None = None) -> Bit:
    lengths = [None if n is None else Fraction(n) for n in (flute, reach)]
    return replace(B6, flute=lengths[0], reach=lengths[1])


@pytest.mark.parametrize(
    ("depth", "flute", "reach"),
    [(12, 12, None), (12, None, None), (12, 22, 40), (12, None, 12), (None, 18, None)],
)
def test_long_enough_is_silent(depth: float | None, flute: int | None, reach: int | None) -> None:
    assert every(depth, with_length(flute, reach)) == ()


def test_deeper_than_the_flute() -> None:
    finding = found(12.5, with_length(12, 40))
    assert isinstance(finding, DeeperThanFlute)
    assert (finding.depth, finding.can, finding.bit, finding.board) == (12.5, 12, "b6", "side")


def test_deeper_than_the_reach_is_told_instead_of_the_flute() -> None:
    finding = found(30, with_length(12, 25))
    assert isinstance(finding, DeeperThanReach)
    assert (finding.depth, finding.can) == (30, 25)


def test_a_through_cut_goes_through_the_thickest_delivery() -> None:
    assert every(None, with_length(18), high=18.0) == ()
    finding = found(None, with_length(18), high=18.4)
    assert isinstance(finding, DeeperThanFlute)
    assert finding.depth == 18.4


def test_the_deepest_cut_of_a_joint_speaks_for_it() -> None:
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)),
        cuts=tuple(cut("side", "+x", REGION, depth) for depth in (13, 15, 14)),
        bits=(with_length(12),),
    )
    (finding,) = reach_findings(made)
    assert isinstance(finding, DeeperThanFlute)
    assert finding.depth == 15


def test_a_roundover_may_run_along_any_length() -> None:
    assert every(150, replace(R3, flute=Fraction(8)), work=Work.ROUND) == ()


def test_a_bit_nobody_declared_is_told_elsewhere() -> None:
    made = plan(
        board("side", (0, 18), (0, 200), (0, 300)), cuts=(cut("side", "+x", REGION, 6, bit="b9"),)
    )
    assert reach_findings(made) == ()
