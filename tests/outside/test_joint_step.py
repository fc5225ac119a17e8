"""Step joints: how much they are glued on, and where they can be cut at all.

Areas are held against shapely (GEOS): the boundary that two staircases drawn by hand share.
"""

from __future__ import annotations

import math

import pytest
from dryfit.kernel.checks import check
from dryfit.kernel.facing import boards_facing, touching
from dryfit.kernel.joint_findings import NotSquare
from dryfit.kernel.joints.step import glue_area, mitre_area
from dryfit.kernel.plan import cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.lang.files import MemoryFiles
from dryfit.lang.pipeline import design_from
from shapely import Polygon
from shapely.geometry import box
from shapely.ops import unary_union

CORNER = """\
design "Seed box"

stock of_a {{ thick {a}mm }}
stock of_b {{ thick {b}mm }}
bit   fine {{ straight 2mm, flute 45mm }}

board side of of_a  x 0mm..{a}mm   y 0mm..120mm  z 0mm..200mm
board lid  of of_b  x 0mm..300mm  y 0mm..120mm  z {low}mm..200mm
join side to lid with step {{ steps {steps} }}
"""

HEXAGON = """\
design "Hexagon planter"

stock larch18 { thick 18mm }
bit   fine    { straight 2mm, flute 20mm }

board wall of larch18  x 0mm..200mm   y 0mm..18mm  z 0mm..160mm
board next of larch18  x -200mm..0mm  y 0mm..18mm  z 0mm..160mm  \
turned -60deg about z at x 0mm, y 0mm
join wall to next with step
"""

SQUARE = """\
design "Herb box"

stock larch18 { thick 18mm }
bit   fine    { straight 2mm, flute 20mm }

for i in 1..4 {
  board wall[i] of larch18  x -100mm..100mm  y -100mm..-82mm  z 0mm..160mm  grain x  \
turned (i - 1)*90deg + 25deg about z at x 0mm, y 0mm
}
for i in 1..3 {
  join wall[i] to wall[i + 1] with step { steps 4 }
}
join wall[4] to wall[1] with step { steps 4 }
"""


def staircases(a: float, b: float, steps: int) -> tuple[Polygon, Polygon]:
    """Both boards' wood near the corner, the outer one at the origin: A goes up, B to the right."""
    tread, rise = a / steps, b / steps
    side = unary_union(
        [box(0, b, a, b + 50)]
        + [box(max((k - 0.5) * tread, 0), k * rise, (k + 0.5) * tread, b) for k in range(steps)]
    )
    return side, box(0, 0, a + 50, b).difference(side)


@pytest.mark.parametrize(("a", "b"), [(18, 18), (18, 12), (12, 24)])
@pytest.mark.parametrize("steps", [2, 3, 5])
def test_what_touches_is_what_two_staircases_share(a: int, b: int, steps: int) -> None:
    text = CORNER.format(a=a, b=b, low=200 - b, steps=steps)
    read = design_from("box.dry", MemoryFiles({"box.dry": text}), {})
    assert read.value is not None
    plan = cut_plan(read.value).value
    assert plan is not None
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    touch = touching(bodies, 0, 1, boards_facing(bodies, 0, 1, 0.1)).whole
    side, lid = staircases(a, b, steps)
    shared = side.boundary.intersection(lid.boundary)
    assert touch == pytest.approx(120 * shared.length, rel=1e-6)
    assert touch == pytest.approx(glue_area(120, (a, b), steps), rel=1e-9)


def test_the_area_against_a_plain_mitre() -> None:
    """The square root of 2 at the most; about a third more with few steps (common practice)."""
    ratios = [glue_area(120, (18, 18), n) / mitre_area(120, (18, 18)) for n in (3, 5, 100_000)]
    assert ratios[0] == pytest.approx(1.30, abs=0.005)
    assert ratios[1] == pytest.approx(1.34, abs=0.005)
    assert ratios[2] == pytest.approx(math.sqrt(2), abs=1e-4)
    assert ratios == sorted(ratios)


def test_sides_of_a_hexagon_are_told_to_be_mitred() -> None:
    read = design_from("planter.dry", MemoryFiles({"planter.dry": HEXAGON}), {})
    assert read.value is not None
    (finding,) = cut_plan(read.value).findings
    assert isinstance(finding, NotSquare)
    assert (finding.board, finding.mate, finding.family) == ("wall", "next", "step")


def test_a_box_turned_as_a_whole_is_stepped_all_round() -> None:
    read = design_from("herbs.dry", MemoryFiles({"herbs.dry": SQUARE}), {})
    assert read.value is not None
    plan = cut_plan(read.value).value
    assert plan is not None
    assert check(plan) == ()
    assert [len(one.cuts) for one in plan.boards] == [8] * 4
