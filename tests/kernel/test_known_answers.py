"""Do whole joints come out as closed formulas say?

- A sharp tenon in an unrelieved socket overlaps it by (4 - pi) r^2 d; with its edges rounded by q
  less than the fillet R by (4 - pi) (R^2 - q^2) d. (The area between a square corner and its
  fillet is (1 - pi/4) R^2; four corners.)
- A box joint of n pins over a width W of stock T, relieved at the corners by a cutter of radius r,
  without fit: of each of the n - 1 flanks (T - 2k)^2 touches, k = r/sqrt 2 lost to a relief at
  each end both ways; the pins' ends touch the roots.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from dryfit.kernel import solids
from dryfit.kernel.board import Axis
from dryfit.kernel.checks import check
from dryfit.kernel.checks.findings import LeftoverWood
from dryfit.kernel.checks.interference import overlaps
from dryfit.kernel.cuts import Work
from dryfit.kernel.design import BoardRef, Design, Join, Verb, Word
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.planar import opened
from dryfit.kernel.region import rectangle
from dryfit.kernel.relief import roundover_spandrel
from dryfit.kernel.solids import Bodies, Points
from joined import CASES, Case, count, design, every, mm, named, option, planned
from pieces import B6, board, cut, joint, plan, ply, shifted, turned
from shapely import Polygon, union_all

EIGHTH = replace(B6, radius=Fraction("3.175"))  # a quarter inch bit


@pytest.mark.parametrize("q", [1.0, 2.0, 2.9])
def test_edges_rounded_less_than_the_fillet(q: float) -> None:
    leg = board("leg", (0, 60), (0, 60), (0, 400), stock="ply60")
    rail = board("rail", (48, 300), (20, 40), (300, 340), stock="ply20")
    asked = rectangle(20, 300, 40, 340)
    socket = cut("leg", "+x", opened(asked, 3.0), 12, mate="rail", asked=asked)
    rounds = tuple(
        cut(
            "rail",
            "-x",
            roundover_spandrel(
                (y, z), ((1.0 if y == 20 else -1.0, 0.0), (0.0, 1.0 if z == 300 else -1.0)), q
            ),
            12,
            mate="leg",
            work=Work.ROUND,
        )
        for y in (20, 40)
        for z in (300, 340)
    )
    made = plan(leg, rail, cuts=(socket, *rounds), joints=(joint("rail", "leg"),))
    bodies = Bodies(made)
    overlap = solids.volume(bodies.true(0) ^ bodies.true(1))
    closed_form = (4 - math.pi) * (9.0 - q * q) * 12
    chords = 4 * 12 * 0.001 * (math.pi / 2) * (3 + q)
    assert abs(overlap - closed_form) <= chords
    finding = next(f for f in check(made) if isinstance(f, LeftoverWood))
    assert len(finding.lumps) == 4


def corner(pins: int, width: int = 200) -> CutPlan:
    """Two boards of 18 mm box-jointed without fit, by a quarter inch bit."""
    boards = (
        board("a", (0, 18), (0, width), (0, 300)),
        board("b", (0, 400), (0, width), (282, 300)),
    )
    join = Join(
        name="corner",
        family="box",
        verb=Verb.TO,
        first=(BoardRef("a"),),
        second=(BoardRef("b"),),
        options=(
            option("pins", count(pins)),
            option("fit", mm(0)),
            option("relief", Word("corner")),
        ),
    )
    made = cut_plan(
        Design(name="corner", stocks=(ply(18),), bits=(EIGHTH,), boards=boards, joins=(join,))
    )
    assert made.findings == ()
    assert made.value is not None
    return made.value


def faces(mesh: Points, axis: Axis, sign: int) -> dict[float, Polygon]:
    """The facets that look along an axis, joined up plane by plane, seen along it."""
    normals = np.cross(mesh[:, 1] - mesh[:, 0], mesh[:, 2] - mesh[:, 0])
    size = np.linalg.norm(normals, axis=1)
    looking = mesh[sign * normals[:, axis] > 0.999999 * size]
    flat = [(axis + 1) % 3, (axis + 2) % 3]
    planes: dict[float, list[Polygon]] = {}
    for triangle in looking:
        height = round(float(triangle[0, axis]), 6)
        planes.setdefault(height, []).append(Polygon(triangle[:, flat]))
    return {height: union_all(parts) for height, parts in planes.items()}


def contact(a: Points, b: Points) -> float:
    """The area over which two meshes touch face to face, square to the axes, mm2."""
    total = 0.0
    for axis in Axis:
        for sign in (1, -1):
            ours, theirs = faces(a, axis, sign), faces(b, axis, -sign)
            total += sum(ours[h].intersection(theirs[h]).area for h in ours if h in theirs)
    return total


@pytest.mark.parametrize(("pins", "area"), [(5, 3683.488), (11, 3808.720)])
def test_contact_of_a_box_joint(pins: int, area: float) -> None:
    made = corner(pins)
    a, b = (solids.facets(solids.true_body(p, 1e-4)).corners for p in made.boards)
    k = 3.175 / math.sqrt(2)
    flanks = (pins - 1) * (18 - 2 * k) ** 2
    assert contact(a, b) == pytest.approx(area, abs=0.02)
    assert flanks < area


def test_a_joint_without_fit_is_clean() -> None:
    assert [finding.code for finding in check(corner(11))] == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_what_is_cut_away_and_what_is_left_is_the_blank(case: object) -> None:
    assert isinstance(case, type(CASES[0]))
    made = cut_plan(design(case, case.reliefs[0])).value
    assert made is not None
    for piece in made.boards:
        blank = solids.true_body(replace(piece, cuts=())).solid
        left = solids.true_body(piece).solid
        gone = solids.volume(blank - left)
        assert solids.volume(left) + gone == pytest.approx(solids.volume(blank), rel=1e-12)
        assert solids.volume(left - blank) == pytest.approx(0.0, abs=1e-6)


ANY_POSE = (
    turned(37.25, Axis.X, (3, 1, 4)),
    turned(-71.5, Axis.Z, (50, 0, 9)),
    shifted(313.3, -2000, 77),
)


@pytest.mark.parametrize("case", every(), ids=named)
def test_a_joint_without_any_fit_touches_and_does_not_overlap(case: tuple[Case, str]) -> None:
    """Every relief makes room for its mate even with no fit at all, as drawn and in any pose; with
    none, the fillets stand in the way wherever a socket has a corner."""
    joint_, relief = case
    tight = [option("fit", mm(0))] if joint_.family != "butt" else []
    rest = [o for o in joint_.options if o.name != "fit"]
    made = replace(joint_, options=(*rest, *tight))
    for pose in ((), ANY_POSE):
        bodies = Bodies(planned(made, relief, pose))
        has_corners = joint_.name not in ("butt", "rabbet", "dado", "edge groove")
        assert bool(overlaps(bodies)) == (relief == "none" and has_corners)
