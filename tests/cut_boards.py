"""One board under each kind of cut of its own, with the wood it removes in closed form.

Every formula is written out here from the shape alone (circular segments, fillets, spandrels,
prisms), apart from the code that cuts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from math import pi

from dryfit.kernel.board import Axis, Span
from dryfit.kernel.cutter import Bit, BitKind
from dryfit.kernel.design import Along, BoardRef, Design, Option, OptionValue, Shaping, Spots, Word
from dryfit.kernel.plan import CutPlan, cut_plan
from dryfit.kernel.quantity import COUNT, LENGTH, Quantity
from pieces import B6, board, exact, ply

X, Y, Z = Axis
THICK, WIDE, LONG = 18.0, 200.0, 400.0
R = 3.0
"""The radius of the straight bit."""

DRILL = Bit(name="d5", kind=BitKind.DRILL, radius=exact(2.5))
ROUND6 = Bit(name="r6", kind=BitKind.ROUNDOVER, radius=exact(6))
V90 = Bit(name="v90", kind=BitKind.V, radius=exact(10), angle=exact(90))
V60 = Bit(name="v60", kind=BitKind.V, radius=exact(10), angle=exact(60))
BITS = (B6, DRILL, ROUND6, V90, V60)


@dataclass(frozen=True, slots=True)
class CutCase:
    """`removed` is the wood gone, mm3."""

    name: str
    shaping: Shaping
    removed: float


def mm(value: float) -> Quantity:
    return Quantity(exact(value), LENGTH)


def along(axis: Axis, lo: float, hi: float) -> Along:
    return Along(axis, Span(exact(lo), exact(hi)))


def spots(axis: Axis, *at: float) -> Spots:
    return Spots(axis, tuple(exact(value) for value in at))


def shaping(
    side: str, family: str, *at: Spots | Along, **options: OptionValue | tuple[OptionValue, ...]
) -> Shaping:
    """A cut of the board `side` from a side such as `x.hi`."""
    return Shaping(
        name="shaping",
        family=family,
        boards=(BoardRef("panel"),),
        axis=Axis("xyz".index(side[0])),
        positive=side.endswith("hi"),
        at=at,
        options=tuple(
            Option(name=name, values=value if isinstance(value, tuple) else (value,))
            for name, value in options.items()
        ),
    )


def segment(chord: float, rise: float) -> float:
    """The area of a circular segment."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    angle = 2 * math.asin(chord / 2 / radius)
    return radius**2 / 2 * (angle - math.sin(angle))


FILLET = (1 - pi / 4) * R * R
"""What the bit leaves in a square corner."""


def two_edges_meet(radius: float, bevel: bool = False) -> float:
    """Where two equal roundovers or chamfers cross at a corner, both take the same wood: the corner
    of a cube less what a ball-cornered cut leaves, integrated over sections parallel to the side.

    At depth t under the side each takes w(t) off its edge, and the two share w(t)^2.
    """
    if bevel:
        return radius**3 / 3
    # w(t) = r - sqrt(r^2 - (r - t)^2); the integral of w^2 over 0..r is r^3 (5/3 - pi/2).
    return radius**3 * (5 / 3 - pi / 2)


ROUND = 1 - pi / 4
AROUND = 2 * (WIDE + LONG)

CASES = (
    CutCase(
        "arch",
        shaping("z.lo", "arch", along(Y, 40, 160), rise=mm(30)),
        segment(120, 30) * THICK,
    ),
    CutCase(
        "half-round arch from the high edge",
        shaping("y.hi", "arch", along(Z, 100, 200), rise=mm(50)),
        pi * 50**2 / 2 * THICK,
    ),
    CutCase("arch by default", shaping("z.hi", "arch"), segment(200, 25) * THICK),
    CutCase(
        "notch",
        shaping("z.lo", "notch", along(Y, 60, 140), deep=mm(50)),
        (80 * 50 - 2 * FILLET) * THICK,
    ),
    CutCase(
        "notch at a corner",
        shaping("y.hi", "notch", along(Z, 0, 60), deep=mm(50)),
        (60 * 50 - FILLET) * THICK,
    ),
    CutCase(
        "notch with corner reliefs",
        shaping("z.lo", "notch", along(Y, 60, 140), deep=mm(50), relief=Word("corner")),
        (80 * 50 + 2 * R * R * (pi / 2 - 1)) * THICK,
    ),
    CutCase(
        "coves",
        shaping("z.hi", "cove", radius=mm(20)),
        2 * pi * 20**2 / 4 * THICK,
    ),
    CutCase(
        "one round corner",
        shaping("y.lo", "round_corner", radius=mm(20), edge=Word("z.lo")),
        ROUND * 20**2 * THICK,
    ),
    CutCase(
        "scallops",
        shaping(
            "y.hi",
            "scallop",
            along(Z, 50, 350),
            count=Quantity(exact(6), COUNT),
            rise=mm(10),
            land=mm(6),
        ),
        6 * segment(45, 10) * THICK,
    ),
    CutCase(
        "bores",
        shaping("x.hi", "bore", spots(Y, 40, 100), spots(Z, 50, 90), diameter=mm(8), deep=mm(10)),
        4 * pi * 16 * 10,
    ),
    CutCase(
        "bore right through an edge",
        shaping("y.lo", "bore", spots(Z, 50), diameter=mm(5)),
        pi * 2.5**2 * WIDE,
    ),
    CutCase(
        "counterbore",
        shaping("x.lo", "counterbore", spots(Y, 40), head=mm(12), seat=mm(6)),
        pi * 36 * 6 + pi * 2.5**2 * 12,
    ),
    CutCase(
        "shelf pins",
        shaping("x.hi", "shelf_pins", spots(Y, 37, 163), along(Z, 50, 350), every=mm(32)),
        2 * 10 * pi * 2.5**2 * 10,
    ),
    CutCase(
        "pocket",
        shaping("x.hi", "pocket", along(Y, 40, 80), along(Z, 50, 110), deep=mm(6)),
        (40 * 60 - 4 * FILLET) * 6,
    ),
    CutCase(
        "pocket open at an end",
        shaping("x.lo", "pocket", along(Y, 40, 80), along(Z, 0, 60), deep=mm(6)),
        (40 * 60 - 2 * FILLET) * 6,
    ),
    CutCase(
        "pocket with round corners",
        shaping("x.hi", "pocket", along(Y, 40, 80), along(Z, 50, 110), deep=mm(6), corner=mm(8)),
        (40 * 60 - (4 - pi) * 64) * 6,
    ),
    CutCase(
        "channel right across",
        shaping("x.hi", "pocket", along(Z, 50, 62), deep=mm(5)),
        WIDE * 12 * 5,
    ),
    CutCase(
        "slot",
        shaping("x.hi", "slot", spots(Y, 40), along(Z, 50, 150), wide=mm(8)),
        (92 * 8 + pi * 16) * THICK,
    ),
    CutCase(
        "slot open at an end",
        shaping("x.hi", "slot", spots(Y, 40), along(Z, 300, 400), wide=mm(8), deep=mm(5)),
        (96 * 8 + pi * 8) * 5,
    ),
    CutCase("hand hole", shaping("x.hi", "hand_hole"), (70 * 30 + pi * 225) * THICK),
    CutCase(
        "square pegs",
        shaping("x.lo", "square_peg", spots(Y, 40), spots(Z, 40, 80), wide=mm(9), deep=mm(4)),
        2 * 81 * 4,
    ),
    CutCase(
        "rabbet",
        shaping("x.hi", "rabbet", edge=Word("z.hi"), deep=mm(9), wide=mm(15)),
        WIDE * 15 * 9,
    ),
    CutCase(
        "stopped rabbet",
        shaping("x.lo", "rabbet", along(Z, 30, 370), edge=Word("y.hi"), deep=mm(9), wide=mm(15)),
        (340 * 15 - 2 * FILLET) * 9,
    ),
    CutCase(
        "eased edges",
        shaping("x.hi", "ease", radius=mm(2)),
        ROUND * 4 * AROUND - 4 * two_edges_meet(2),
    ),
    CutCase(
        "roundover of an end",
        shaping("z.hi", "roundover", radius=mm(6), edges=(Word("x.lo"), Word("x.hi"))),
        2 * ROUND * 36 * WIDE,
    ),
    CutCase(
        "chamfers",
        shaping("x.lo", "chamfer", size=mm(4)),
        8 * AROUND - 4 * two_edges_meet(4, bevel=True),
    ),
    CutCase(
        "steep chamfer",
        shaping("x.hi", "chamfer", size=mm(3), edges=Word("y.lo"), bit=Word("v60")),
        3 * 3 * math.sqrt(3) / 2 * LONG,
    ),
    CutCase(
        "scribed line",
        shaping("x.hi", "scribe", spots(Z, 100), deep=mm(0.5)),
        WIDE * 2 * R * 0.5,
    ),
    CutCase(
        "scribed outline",
        shaping("x.hi", "scribe", along(Y, 40, 100), along(Z, 50, 130), deep=mm(1)),
        (60 * 80 - (4 - pi) * R * R - 48 * 68),
    ),
)


def named(case: CutCase) -> str:
    return case.name


def design(*shapings: Shaping) -> Design:
    panel = board("panel", (0, 18), (0, 200), (0, 400))
    return Design(name="cuts", stocks=(ply(18),), bits=BITS, boards=(panel,), shapings=shapings)


def planned(case: CutCase) -> CutPlan:
    """The plan of a case; fails the test when planning finds anything."""
    outcome = cut_plan(design(case.shaping))
    assert outcome.findings == (), outcome.findings
    assert outcome.value is not None
    return outcome.value
