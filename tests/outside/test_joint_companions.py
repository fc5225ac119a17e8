"""The companion rule: a straight bit leaves its own radius in a corner, and a roundover of the same
radius on the edge that comes to lie there closes it.

A 1/4 in bit goes with a 1/8 in roundover, a 1/8 in bit with a 1/16 in one. What any other pair
leaves is measured with shapely (GEOS) on a drawing of the corner of our own.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from dryfit.kernel import solids
from dryfit.kernel.design import Design
from dryfit.kernel.joint_findings import RoundoverMismatch
from dryfit.kernel.joints.carve import BESIDE
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.solids import Bodies
from dryfit.kernel.thresholds import CHECK_CHORD
from dryfit.lang.files import MemoryFiles
from dryfit.lang.pipeline import design_from
from shapely import LineString, Point, Polygon
from shapely.affinity import translate
from shapely.geometry import box

INCH = 25.4

BOARDS = """\
design "Seed drawer"

stock ply18 { thick 18mm }
bit   plain { straight INCHES, flute 22mm }
"""

PLACES = {
    "box": """
board side of ply18  x 0mm..18mm   y 0mm..150mm  z 0mm..200mm
board lid  of ply18  x 0mm..300mm  y 0mm..150mm  z 182mm..200mm
join side to lid with box { pins 5, fit FIT, relief half_round COMPANION }
""",
    "dado": """
board side of ply18  x 0mm..18mm   y 0mm..150mm   z 0mm..200mm
board lid  of ply18  x 12mm..300mm y 20mm..130mm  z 90mm..108mm
join lid into side with dado { fit FIT, relief half_round COMPANION }
""",
}


def drawer(joint: str, bit: str, roundovers: tuple[str, ...], companion: str, fit: str) -> Design:
    text = BOARDS.replace("INCHES", bit) + "".join(
        f"bit r{i} {{ roundover {size}, by hand }}\n" for i, size in enumerate(roundovers)
    )
    text += PLACES[joint].replace("COMPANION", companion).replace("FIT", fit)
    read = design_from("drawer.dry", MemoryFiles({"drawer.dry": text}), {})
    assert read.value is not None, read.findings
    return read.value


def planned(design: Design) -> CutPlan:
    outcome = cut_plan(design)
    assert outcome.value is not None
    assert outcome.findings == ()
    return outcome.value


@pytest.mark.parametrize("joint", PLACES)
@pytest.mark.parametrize(("bit", "roundover"), [("1/4in", "1/8in"), ("1/8in", "1/16in")])
def test_a_bit_and_the_roundover_of_its_radius_close(joint: str, bit: str, roundover: str) -> None:
    """At no clearance the two boards together fill the box they share, and no wood is in wood."""
    plan = planned(drawer(joint, bit, (roundover,), "", "0mm"))
    bodies = Bodies(plan)
    assert not bodies.meet(0, 1)
    side, lid = (bodies.body(i).solid for i in range(2))
    spans = [
        (max(a.lo, b.lo), min(a.hi, b.hi))
        for a, b in zip(
            *((one.board.box.x, one.board.box.y, one.board.box.z) for one in plan.boards),
            strict=True,
        )
    ]
    shared = float(math.prod(hi - lo for lo, hi in spans))
    cube = solids.Solid.cube([float(hi - lo) for lo, hi in spans]).translate(
        [float(lo) for lo, _ in spans]
    )
    filled = solids.volume((side + lid) ^ cube)
    rounded = [cut for one in plan.boards for cut in one.cuts if cut.by_hand]
    assert rounded
    radius = float(plan.design.bits[0].radius)
    chords = sum(CHECK_CHORD * 2 * math.pi * radius * (cut.depth or 0.0) for cut in rounded)
    run_by = len(rounded) * BESIDE * radius**2  # of the fillets of the board's own sockets
    assert shared - chords - run_by <= filled <= shared + 1e-6


def corner(cutter: float, roundover: float, clear: float) -> tuple[Polygon, Polygon]:
    """The wood a bit leaves in a corner at the origin, walls along x and y, and the rounded edge of
    the mate `clear` off the wall along y."""
    room, size = 100.0, 60.0
    wood = box(-room, -room, size, size).difference(box(0, 0, size, size))
    fillet = box(0, 0, cutter, cutter).difference(Point(cutter, cutter).buffer(cutter, 512))
    edge = box(0, 0, size, size).difference(box(0, 0, roundover, roundover))
    edge = edge.union(
        Point(roundover, roundover).buffer(roundover, 512).intersection(box(0, 0, size, size))
    )
    return wood.union(fillet), translate(edge, clear, 0)


def left_between(cutter: float, roundover: float, clear: float) -> float:
    """How far the edge stands off the fillet along the corner's bisector; below 0 how deep it is
    in."""
    host, mate = corner(cutter, roundover, clear)
    ray = LineString([(-50 + clear, -50), (50 + clear, 50)])
    gap = ray.difference(host).difference(mate)
    return gap.length if gap.length > 1e-4 else -ray.intersection(host.intersection(mate)).length


@pytest.mark.parametrize(
    ("bit", "named"),
    [("1/4in", "1/16in"), ("1/8in", "1/8in"), ("1/4in", "3/16in"), ("1/8in", "1/4in")],
)
@pytest.mark.parametrize("fit", ["0mm", "0.2mm"])
def test_what_a_mismatched_pair_leaves_is_told(bit: str, named: str, fit: str) -> None:
    right = "1/8in" if bit == "1/4in" else "1/16in"
    outcome = cut_plan(drawer("box", bit, (right, named), "r1", fit))
    (finding,) = outcome.findings
    assert isinstance(finding, RoundoverMismatch)
    cutter, roundover = (float(Fraction(text[:-2])) * INCH for text in (bit, named))
    assert (finding.radius, finding.companion_radius) == pytest.approx((cutter / 2, roundover))
    assert finding.matching == "r0"
    expected = left_between(cutter / 2, roundover, 0.0)
    if fit == "0mm":
        assert finding.gap == pytest.approx(expected, abs=1e-4)
        assert finding.gap == pytest.approx((math.sqrt(2) - 1) * (roundover - cutter / 2), abs=1e-9)
    else:  # only the flank stands off, by half of the fit: roots are flush
        assert finding.gap == pytest.approx(left_between(cutter / 2, roundover, 0.1), abs=1e-4)
