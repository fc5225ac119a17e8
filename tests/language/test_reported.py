"""Which findings a family can report, held against what is really found in our programs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from dryfit.kernel.checks.assembly import assembly_findings
from dryfit.kernel.checks.fit import fit_findings
from dryfit.kernel.checks.hits import joint_hits
from dryfit.kernel.checks.interference import interference
from dryfit.kernel.checks.reach import reach_findings
from dryfit.kernel.checks.walls import wall_findings
from dryfit.kernel.design import Join, Shaping
from dryfit.kernel.finding import Finding, Place
from dryfit.kernel.joints import families, family_named
from dryfit.kernel.joints.family import Family
from dryfit.kernel.reported import OF_A_FIT, OF_A_JOINT, OF_ANY_CUT, classes_named, reported
from dryfit.kernel.shaping import shaping_named, shapings
from dryfit.kernel.shaping.family import ShapingFamily
from dryfit.lang.codes import CODES
from looking import Asked, look
from pages import read_page

ROOT = Path(__file__).parents[2]
OF_ANY_LINE = {
    *("J201", "J202", "J203", "J204", "J205", "J206", "J207", "J209", "J212", "J224"),
    *("B201", "B202", "B203"),
}
"""Names, verbs, boards, options and their values, places: what any line can have."""


@cache
def codes(family: Family[Any] | ShapingFamily[Any]) -> frozenset[str]:
    return frozenset(one.code for one in reported(family))


def found_in_our_pages() -> Iterator[tuple[Join | Shaping, Finding]]:
    """Each finding of an explain page with the line of the design that it is found on."""
    for path in sorted((ROOT / "lang" / "explain").glob("[JBCF]*.md")):
        asked: Asked = read_page(path.read_text(encoding="utf-8")).failing
        got = look(asked)
        lines = () if got.design is None else (*got.design.joins, *got.design.shapings)
        for finding in got.findings:
            for line in lines:
                if finding.place and line.place and holds(line.place, finding.place):
                    yield line, finding


def holds(line: Place, place: Place) -> bool:
    return line.file == place.file and line.start <= place.start < line.end


def test_what_is_found_of_a_joint_or_cut_stands_in_its_list() -> None:
    as_cut = {one.code for one in (*OF_ANY_CUT, *OF_A_JOINT, *OF_A_FIT)}
    held = 0
    for line, finding in found_in_our_pages():
        family = family_named(line.family) if isinstance(line, Join) else None
        kind = shaping_named(line.family) if isinstance(line, Shaping) else None
        known = OF_ANY_LINE | as_cut | codes(family or kind) if family or kind else OF_ANY_LINE
        assert finding.code in known, (line.family, finding.code)
        held += 1
    assert held >= 50


def test_every_code_of_joints_and_cuts_is_some_family_s() -> None:
    told = OF_ANY_LINE.union(*(codes(family) for family in (*families(), *shapings())))
    live = {e.code for e in CODES if e.code[:2] in ("J2", "B2", "C1") and not e.is_retired}
    assert live - told == set()


def test_findings_of_a_relief_go_with_the_relief() -> None:
    def takes(name: str) -> frozenset[str]:
        family = family_named(name)
        assert family is not None
        return codes(family) & {"C105", "C106", "J222", "J223"}

    assert takes("dado") == {"C105", "C106", "J222", "J223"}
    assert takes("step") == {"C106"}
    assert takes("dowels") == set()


def test_the_lists_of_checks_are_what_the_checks_name() -> None:
    """All but boards that overlap though nothing joins them, what moves, and the order of steps:
    these are of the whole piece."""
    checks = [fit_findings, interference, wall_findings, joint_hits, reach_findings]
    named = classes_named([*checks, assembly_findings])
    of_the_piece = {"F102", "A102", "A201"}
    listed = {one.code for one in (*OF_ANY_CUT, *OF_A_JOINT, *OF_A_FIT)}
    assert {one.code for one in named if one.code} - of_the_piece == listed
