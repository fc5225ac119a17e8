"""What does each relief cost a joint: in stops of the bit, in wood, in what shows when closed?

In: the design of one joint between two boards. Out: for each relief that the joint takes, the joint
is cut with it and measured. Wood beyond the square region is what a cut takes that the same joint
without relief would not have asked for. It shows where, looking at the face the cut is made from or
comes through to, no wood of the mate lies over it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, TypeAlias

import numpy as np

from .board import Board
from .checks.findings import LeftoverWood
from .corners import Bounds, inside_corners
from .cuts import Cut, Side, Work
from .cutter import Bit, BitKind
from .design import Design, Option, Word
from .finding import Finding
from .frames import pose_matrix
from .joints import family_named
from .joints.options import OptionSpec, ReliefAsked
from .measure import glue_area
from .plan import BoardPlan, CutPlan, cut_plan
from .planar import difference, intersection, polygons
from .region import Region, area, rectangle
from .relief import Relief
from .solids import Bodies, Points, moved, silhouette
from .still.flats import Flat, flat_area, flat_less, flat_of
from .thresholds import CHECK_CHORD, EXPORT_CHORD
from .wallpath import changes, stops

UNDER_THE_FACE = 0.01
"""How deep under a face wood of the mate still closes it, mm: less than anything is flush by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFigures:
    """One cut under one relief.

    `corners` are the inside corners of the square region, `stops` and `turns` where the bit's
    centre comes to rest and where its heading changes at all along the walls; `area` and `volume`
    the wood beyond the square region, mm2 and mm3; `shows` what of that area shows on each side.
    """

    board: str
    side: Side
    by_hand: bool
    corners: int
    stops: int
    turns: int
    area: float
    volume: float
    shows: tuple[tuple[Side, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A joint under one relief: its cuts, the side grain that glue holds between its boards, mm2,
    and what is found wrong with it so.

    No cuts where a finding keeps the joint from being cut at all.
    """

    relief: Relief
    cuts: tuple[CutFigures, ...]
    glue: float
    findings: tuple[Finding, ...]

    @property
    def closes(self) -> bool:
        """Whether no wood that a round bit left keeps the boards from closing."""
        return bool(self.cuts) and not any(isinstance(f, LeftoverWood) for f in self.findings)

    @property
    def corners(self) -> int:
        return sum(cut.corners for cut in self.cuts)

    @property
    def stops(self) -> int:
        return sum(cut.stops for cut in self.cuts)

    @property
    def turns(self) -> int:
        return sum(cut.turns for cut in self.cuts)

    @property
    def area(self) -> float:
        """mm2"""
        return sum(cut.area for cut in self.cuts)

    @property
    def volume(self) -> float:
        """mm3"""
        return sum(cut.volume for cut in self.cuts)

    @property
    def shows(self) -> tuple[tuple[str, Side, float], ...]:
        """What shows of each board's sides, mm2: board, side, area; nothing of no area."""
        found: dict[tuple[str, Side], float] = {}
        for cut in self.cuts:
            for side, seen in cut.shows:
                found[cut.board, side] = found.get((cut.board, side), 0.0) + seen
        return tuple((board, side, seen) for (board, side), seen in found.items() if seen > LEAST)


LEAST = 0.005
"""Areas below this, mm2, are none: a hundredth of the smallest relief of a 1 mm bit."""


def reliefs_of(family: str) -> tuple[Relief, ...]:
    """The reliefs that a family takes, in the order of `Relief`; none where it has no such
    option."""
    found = family_named(family)
    specs = () if found is None else tuple(s for s in found.options if s.name == "relief")
    return tuple(kind for spec in specs for kind in taken_by(spec))


def taken_by(spec: OptionSpec[Any]) -> tuple[Relief, ...]:
    """The reliefs that an option `relief` takes."""
    return tuple(kind for kind in Relief if isinstance(spec.read(_option(kind)), ReliefAsked))


def compared(design: Design) -> tuple[Compared, ...]:
    """The design's first joint with each relief that its family takes."""
    kinds = reliefs_of(design.joins[0].family) if design.joins else ()
    if not kinds:
        return ()
    square = cut_plan(_with_relief(design, Relief.NONE)).value
    return tuple(_compared(design, kind, square) for kind in kinds)


def _option(kind: Relief) -> Option:
    return Option(name="relief", values=(Word(kind.value),))


def _with_relief(design: Design, kind: Relief) -> Design:
    """The design with its first join's relief made another, and companions for rounded edges."""
    join, *others = design.joins
    kept = tuple(option for option in join.options if option.name not in ("relief", "round"))
    joins = (replace(join, options=(*kept, _option(kind))), *others)
    bits = (*design.bits, *_companions(design)) if kind is Relief.HALF_ROUND else design.bits
    return replace(design, joins=joins, bits=bits)


def _companions(design: Design) -> tuple[Bit, ...]:
    """A roundover of each straight bit's radius that has none yet."""
    there = {bit.radius for bit in design.bits if bit.kind is BitKind.ROUNDOVER}
    wanted = dict.fromkeys(bit.radius for bit in design.bits if bit.kind is BitKind.STRAIGHT)
    return tuple(
        Bit(name=f"roundover {i}", kind=BitKind.ROUNDOVER, radius=radius, by_hand=True)
        for i, radius in enumerate(wanted)
        if radius not in there
    )


def _compared(design: Design, kind: Relief, square: CutPlan | None) -> Compared:
    from .checks import check

    made = cut_plan(_with_relief(design, kind))
    plan = made.value
    if plan is None or square is None or plan.joints[0].failed:
        return Compared(relief=kind, cuts=(), glue=0.0, findings=made.findings)
    bodies = Bodies(plan, EXPORT_CHORD)
    plain = _counted(square.joints[0].cuts)
    figures = tuple(
        _figures(bodies, cut, plain.get(key))
        for key, cut in _counted(plan.joints[0].cuts).items()
        if cut.floor is None
    )
    joint = plan.joints[0]
    return Compared(
        relief=kind,
        cuts=figures,
        glue=glue_area(bodies, joint.first.name, joint.second.name) or 0.0,
        findings=(*made.findings, *check(plan)),
    )


Key: TypeAlias = tuple[str, Side, Work, bool, int]
"""The how many-th cut of its board, side and kind one is: with and without relief it is the same.
"""


def _counted(cuts: tuple[Cut, ...]) -> dict[Key, Cut]:
    found: dict[Key, Cut] = {}
    for cut in cuts:
        kind = (cut.board, cut.side, cut.work, cut.by_hand)
        found[*kind, sum(key[:4] == kind for key in found)] = cut
    return found


def _figures(bodies: Bodies, cut: Cut, plain: Cut | None) -> CutFigures:
    """A cut held against the same one without relief: square, and as large as the mate asks."""
    board = _board(bodies, cut.board)
    limits = _limits(board, cut.side)
    asked = Region() if plain is None else plain.asked
    beyond = intersection(difference(cut.region, asked), rectangle(*limits))
    size = area(beyond)
    walls = not cut.by_hand and cut.work in (Work.POCKET, Work.THROUGH)
    found = changes(cut.region, limits, _radius(bodies.plan, cut)) if walls else ()
    full = float(board.board.box[cut.side.axis].size)
    depth = full if cut.depth is None else min(cut.depth, full)
    return CutFigures(
        board=cut.board,
        side=cut.side,
        by_hand=cut.by_hand,
        corners=len(inside_corners(asked, limits)) if walls else 0,
        stops=stops(found),
        turns=len(found),
        area=size,
        volume=size * depth,
        shows=_shown(bodies, cut, beyond, depth >= full) if walls and size > LEAST else (),
    )


def _board(bodies: Bodies, name: str) -> BoardPlan:
    return next(one for one in bodies.plan.boards if one.board.name == name)


def _limits(board: BoardPlan, side: Side) -> Bounds:
    u, v = (board.board.box[axis] for axis in side.plane)
    return float(u.lo), float(v.lo), float(u.hi), float(v.hi)


def _radius(plan: CutPlan, cut: Cut) -> float:
    return next(float(bit.radius) for bit in plan.design.bits if bit.name == cut.bit)


# -- what shows ----------------------------------------------------------------------------------


def _shown(
    bodies: Bodies, cut: Cut, beyond: Region, through: bool
) -> tuple[tuple[Side, float], ...]:
    """Of what lies beyond the square region, the area not under the mate's wood, side by side."""
    sides = (cut.side, cut.side.opposite) if through else (cut.side,)
    mate = bodies.index(cut.mate or "")
    if mate is None:
        return tuple((side, area(beyond)) for side in sides)
    own = _board(bodies, cut.board).board
    whole = flat_of(polygons(beyond, CHECK_CHORD))
    return tuple(
        (side, flat_area(flat_less(whole, (_over(bodies, mate, own, side),)))) for side in sides
    )


def _over(bodies: Bodies, mate: int, own: Board, side: Side) -> Flat:
    """The shadow that the mate's wood on and above a side of a board throws on that side, in the
    side's own plane."""
    frame = _to_side(side) @ np.linalg.inv(pose_matrix(own.pose))
    span = own.box[side.axis]
    face = float(span.hi) if side.positive else -float(span.lo)
    return flat_of(silhouette(moved(bodies.true(mate), frame), face - UNDER_THE_FACE))


def _to_side(side: Side) -> Points:
    """From a board's own coordinates to u, v and the way out of the side."""
    matrix = np.zeros((4, 4))
    for row, axis in enumerate((*side.plane, side.axis)):
        matrix[row, axis] = 1.0 if row < 2 or side.positive else -1.0
    matrix[3, 3] = 1.0
    return matrix
