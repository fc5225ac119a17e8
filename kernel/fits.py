"""How do the parts of every joint fit, as drawn and as wood, bits and setups really come?

In: the bodies of a plan and how far things may stray. Out: for each joint what was measured on the
cut boards: the free play along each axis of the part, the least gap and where it is, the area that
touches and the area that glue reaches, by grain, as drawn and the least of it over the delivered
thickness; for each axis that the joint fits its part on, the worst play, exact, and the share of
joints within the range asked for, by sampling with a fixed seed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import inf

import numpy as np
from numpy.typing import NDArray

from .board import Axis
from .cuts import Mating
from .delivered import delivered
from .expect import Given, Measure, Within
from .facing import Areas, Facing, boards_facing, glued, least_gap, touching
from .measure import leaning_play, own_axis
from .plan import CutPlan, Joint
from .shadows import Vector
from .sliding import free_travel
from .solids import Bodies
from .straying import (
    Ranges,
    Source,
    Sum,
    Tolerances,
    Worst,
    leaning_gap,
    ranges_of,
    wall_gap,
    worst,
)
from .thresholds import LEAST_TONGUE, LOOSE_FIT, SAME
from .walls import play

SAMPLES, SEED = 2000, 1
"""How many pieces are made up for the share that fits, and what the draws start from."""

WINDOW = 1.0
"""Walls up to this much farther off than the nearest, mm, may become the nearest as things stray:
more than any thickness delivered changes a play."""

EXACT = Tolerances()
"""Bits and setups as they should be."""

ROLES = ("length", "width", "thickness")
"""The axes of a board, as the grain runs."""


@dataclass(frozen=True, slots=True)
class Free:
    """How far a part goes one way along an axis of its own and how far back, mm; infinite where
    nothing stops it."""

    onward: float
    back: float

    @property
    def total(self) -> float:
        return self.onward + self.back


@dataclass(frozen=True, slots=True, kw_only=True)
class AxisFit:
    """The play on one axis of the part that the joint fits: as drawn, at worst, and asked for.

    `share` is that of sampled pieces whose play lies within `asked`.
    """

    role: str
    drawn: float
    worst: Worst
    asked: tuple[float, float]
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JointFit:
    """All that was measured of a joint. `free` are the plays along length, width and thickness of
    the part, None where the boards overlap as drawn. Areas in mm2, places in the finished piece."""

    joint: str
    family: str
    part: str
    mate: str
    free: tuple[Free, Free, Free] | None
    least_gap: float | None
    at: Vector | None
    touching: Areas
    glued: Areas
    glued_least: Areas
    fits: tuple[AxisFit, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fits:
    """The fits of a plan. Of `samples` pieces `joints_within` is the share of fits within what was
    asked, `pieces_within` that of pieces with every fit so; None where no joint has a fit."""

    tolerances: Tolerances
    samples: int
    seed: int
    joints: tuple[JointFit, ...]
    joints_within: float | None
    pieces_within: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked: how far things may stray, the range of play wanted where no test of the design
    names one, and how to sample."""

    tolerances: Tolerances = EXACT
    within: tuple[float, float] | None = None
    samples: int = SAMPLES
    seed: int = SEED


def fits(bodies: Bodies, asked: Asked | None = None) -> Fits:
    """The fit of every joint that was made, in the plan's order."""
    asked, plan = asked or Asked(), bodies.plan
    ranges = ranges_of(plan, asked.tolerances)
    sheds = _Deliveries(plan)
    made = [joint for joint in plan.joints if not joint.failed]
    sums = [tuple(_sums(bodies, joint)) for joint in made]
    strays = _drawn_strays(sums, ranges, asked)
    inside: list[NDArray[np.bool_]] = []
    joints = []
    for joint, own in zip(made, sums, strict=True):
        wanted = _wanted(plan, joint, asked.within)
        kept = [_within(_sampled(play_, strays, asked.samples), wanted) for _, play_ in own]
        inside += kept
        axes = tuple(
            AxisFit(
                role=role,
                drawn=play_.drawn,
                worst=worst(play_, ranges),
                asked=wanted,
                share=float(ok.mean()),
            )
            for (role, play_), ok in zip(own, kept, strict=True)
        )
        joints.append(_joint_fit(bodies, joint, axes, sheds))
    every = np.array(inside)
    return Fits(
        tolerances=asked.tolerances,
        samples=asked.samples,
        seed=asked.seed,
        joints=tuple(joints),
        joints_within=float(every.mean()) if len(every) else None,
        pieces_within=float(every.all(axis=0).mean()) if len(every) else None,
    )


# ---- the plays a joint fits its part by ----------------------------------------------------------


def _sums(bodies: Bodies, joint: Joint) -> Iterator[tuple[str, Sum]]:
    """(role, play) for each axis of the joint's first board that it fits, as a sum of gaps."""
    part, mate = bodies.index(joint.first.name), bodies.index(joint.second.name)
    if part is None or mate is None:
        return
    by_axis: dict[Axis, list[Mating]] = {}
    for mating in joint.matings:
        own = mating.axis if mating.part == joint.first.name else mating.socket_axis
        by_axis.setdefault(own, []).append(mating)
    for axis in sorted(by_axis):
        found = _sum(bodies, joint, (part, mate), axis, by_axis[axis])
        if found is not None:
            yield _role(bodies, part, axis), found


def _sum(
    bodies: Bodies, joint: Joint, pair: tuple[int, int], axis: Axis, matings: Sequence[Mating]
) -> Sum | None:
    part, mate = pair
    if any(mating.leans for mating in matings):
        drawn = leaning_play(bodies, part, mate, axis)
        if drawn is None:
            return None
        first = matings[0]
        line = leaning_gap(drawn, joint.cuts, first.follows, first.socket_follows)
        return Sum((line,), (leaning_gap(0.0, (), None, None),))
    deepest = min(*(mating.part_size / 2 for mating in matings), LEAST_TONGUE)  # as measure does
    way = own_axis(bodies, part, axis)
    one, other = bodies.faces(part, inset=0.0), bodies.faces(mate, inset=0.0)
    stops = play(one, other, way, deepest, WINDOW)
    if stops.total is None:
        return None
    back = (-way[0], -way[1], -way[2])
    return Sum(
        tuple(wall_gap(bodies.plan, part, mate, each, way) for each in stops.ahead),
        tuple(wall_gap(bodies.plan, part, mate, each, back) for each in stops.behind),
    )


def _role(bodies: Bodies, index: int, axis: Axis) -> str:
    run = bodies.plan.boards[index].run
    return ROLES[(run.length, run.width, run.thick).index(axis)]


def _wanted(plan: CutPlan, joint: Joint, within: tuple[float, float] | None) -> tuple[float, float]:
    """The range of play asked for: that of a test of the design, else the one given, else whatever
    goes together and is not too loose to glue."""
    pair = {joint.first.name, joint.second.name}
    for test in plan.design.tests:
        for each in test.expectations:
            match each:
                case Within(Measure(name="fit", subjects=subjects), Given(lo), Given(hi)):
                    if set(subjects) == pair:
                        return float(lo.number), float(hi.number)
    return within or (0.0, LOOSE_FIT)


# ---- sampling ------------------------------------------------------------------------------------


def _drawn_strays(
    sums: Sequence[tuple[tuple[str, Sum], ...]], ranges: Ranges, asked: Asked
) -> Mapping[Source, NDArray[np.float64]]:
    """For each source as many strays as samples, every value of its range as likely as another.

    The numbers are the bits of the generator itself, whose sequence is fixed for good; each source
    has a sequence of its own, so that one more joint changes nothing of the others.
    """
    sources = {source: None for own in sums for _, each in own for source in each.sources}
    drawn: dict[Source, NDArray[np.float64]] = {}
    for source in sorted(sources, key=lambda each: each.order):
        low, high = ranges.of(source)
        words = [asked.seed, *"/".join(map(str, source.order)).encode()]
        raw = np.random.PCG64(np.random.SeedSequence(words)).random_raw(asked.samples)
        share = (raw >> np.uint64(11)).astype(np.float64) * 2.0**-53
        drawn[source] = low + (high - low) * share
    return drawn


def _sampled(
    total: Sum, strays: Mapping[Source, NDArray[np.float64]], samples: int
) -> NDArray[np.float64]:
    sides = []
    for gaps in (total.ahead, total.behind):
        lines = [
            gap.drawn + sum((slope * strays[s] for s, slope in gap.slopes), np.zeros(samples))
            for gap in gaps
        ]
        sides.append(np.min(lines, axis=0))
    plays: NDArray[np.float64] = sides[0] + sides[1]
    return plays


def _within(plays: NDArray[np.float64], wanted: tuple[float, float]) -> NDArray[np.bool_]:
    inside: NDArray[np.bool_] = (plays >= wanted[0] - SAME) & (plays <= wanted[1] + SAME)
    return inside


# ---- what is measured on the bodies --------------------------------------------------------------


class _Deliveries:
    """The bodies of a plan at the ends of the delivered thicknesses of some stocks."""

    def __init__(self, plan: CutPlan) -> None:
        self._plan = plan
        self._made: dict[tuple[tuple[str, object], ...], Bodies] = {}

    def of(self, names: Sequence[str]) -> Iterator[Bodies]:
        stocks = [s for s in self._plan.design.stocks if s.name in names]
        ends = [tuple(dict.fromkeys(stock.actual)) for stock in stocks]
        for chosen in product(*ends):
            thick = {stock.name: end for stock, end in zip(stocks, chosen, strict=True)}
            key = tuple(sorted(thick.items()))
            if key not in self._made:
                self._made[key] = Bodies(delivered(self._plan, thick))
            yield self._made[key]


def _joint_fit(
    bodies: Bodies, joint: Joint, axes: tuple[AxisFit, ...], sheds: _Deliveries
) -> JointFit:
    part, mate = bodies.index(joint.first.name), bodies.index(joint.second.name)
    if part is None or mate is None:
        found, part, mate = None, 0, 0
    else:
        found = boards_facing(bodies, part, mate, LOOSE_FIT)
    least = None if found is None else least_gap(found)
    nominal = Areas() if found is None else glued(bodies, part, mate, found)
    return JointFit(
        joint=joint.name,
        family=joint.join.family,
        part=joint.first.name,
        mate=joint.second.name,
        free=free_play(bodies, part, mate),
        least_gap=None if least is None else least[0],
        at=None if least is None else least[1],
        touching=Areas() if found is None else touching(bodies, part, mate, found),
        glued=nominal,
        glued_least=_least_glued(bodies, (part, mate), nominal, sheds),
        fits=axes,
    )


def _least_glued(
    bodies: Bodies, pair: tuple[int, int], nominal: Areas, sheds: _Deliveries
) -> Areas:
    """The least area by grain at the corners of the delivered thicknesses of the pair's stocks."""
    names = [bodies.plan.boards[i].board.stock for i in pair]
    all_areas = [nominal]
    for other in sheds.of(names):
        found: Facing = boards_facing(other, *pair, LOOSE_FIT)
        all_areas.append(glued(other, *pair, found))
    return Areas(
        min(areas.face for areas in all_areas),
        min(areas.edge for areas in all_areas),
        min(areas.end for areas in all_areas),
    )


def free_play(bodies: Bodies, part: int, mate: int) -> tuple[Free, Free, Free] | None:
    """How far one board goes along its own length, width and thickness and back, with nothing there
    but the other; None where the two overlap."""
    if bodies.meet(min(part, mate), max(part, mate)):
        return None
    run = bodies.plan.boards[part].run
    moving, still = bodies.faces(part), bodies.faces(mate)
    made = []
    for axis in (run.length, run.width, run.thick):
        way = own_axis(bodies, part, axis)
        back = tuple(-c for c in way)
        made.append(Free(free_travel(moving, still, way), free_travel(moving, still, back)))
    return made[0], made[1], made[2]


def is_open(free: Free) -> bool:
    """Whether a part leaves its mate along that axis."""
    return free.total == inf
