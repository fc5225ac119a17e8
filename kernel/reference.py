"""What does a joint or a cut come to on the boards of its smallest program?

In: the plan of that program. Out: what its page in the reference tells, read off the cuts and
measured on the boards as cut: which cuts, from which sides, with which bits; the work by hand; what
is bought or made besides; how the mating faces fit; how much of them glue holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from .besides import Besides, besides
from .board import Axis
from .cutlist import HandStep, cut_list
from .cuts import Cut, Mating, Side, Work
from .facing import Areas, Grain, boards_facing, glued
from .joints import family_named
from .joints.family import Contact
from .joints.meeting import other_axis
from .joints.step import mitre_area
from .measure import mating_fit, own_axis, sides_cut
from .plan import BoardPlan, CutPlan, Joint
from .solids import Bodies
from .thresholds import GLUE_GAP, SAME


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """`count` like cuts of one board by one bit. `surface` is what the side is; `depth` in mm, None
    for through; `slant` in degrees off the square."""

    board: str
    side: Side
    surface: Grain
    work: Work
    depth: float | None
    slant: float
    bit: str
    by_hand: bool
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FitLine:
    """One play of `part` in `socket` along the part's own axis, mm: asked, and measured on the
    boards as cut. `count` like ones."""

    part: str
    socket: str
    axis: Axis
    asked: float
    measured: float | None
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """All of it. `setups` says how often a board is put down on the machine; `glue` what glue holds
    between the two boards, by grain, None where nothing of theirs meets, or a loose piece is glued;
    `crossed` where their grains do not run alike; `mitre` the area of a plain mitre in place of a
    step joint, mm2."""

    cuts: tuple[CutLine, ...]
    setups: tuple[tuple[str, int], ...]
    by_hand: tuple[tuple[str, HandStep], ...]
    besides: tuple[Besides, ...]
    fits: tuple[FitLine, ...] = ()
    glue: Areas | None = None
    crossed: bool = False
    mitre: float | None = None


def facts_of_joint(plan: CutPlan) -> Facts:
    """The facts of the first joint of a sound plan."""
    bodies = Bodies(plan)
    joint = plan.joints[0]
    facts = _facts(bodies, plan.boards)
    return replace(
        facts,
        fits=_fits(bodies, joint.matings),
        glue=_glue(bodies, joint),
        crossed=_crossed(bodies, joint),
        mitre=_mitre(joint, plan.boards) if joint.join.family == "step" else None,
    )


def facts_of_cut(plan: CutPlan) -> Facts:
    """The facts of the boards of a sound plan that are cut."""
    return _facts(Bodies(plan), tuple(board for board in plan.boards if board.cuts))


def _facts(bodies: Bodies, boards: tuple[BoardPlan, ...]) -> Facts:
    names = [board.board.name for board in boards]
    return Facts(
        cuts=tuple(line for board in boards for line in _cut_lines(board)),
        setups=tuple((name, sides_cut(bodies, name) or 0) for name in names),
        by_hand=tuple(
            (row.parts[0], step) for row in cut_list(bodies.plan) for step in row.hand_steps
        ),
        besides=besides(bodies.plan),
    )


def _cut_lines(board: BoardPlan) -> tuple[CutLine, ...]:
    """The board's cuts, like ones counted together, in the order of the plan."""
    counts: dict[tuple[Side, Work, float | None, float, str, bool], int] = {}
    for cut in board.cuts:
        if not cut.region.is_empty:
            key = (cut.side, cut.work, _depth(board, cut), round(cut.slant, 3), cut.bit,
                   cut.by_hand)  # fmt: skip
            counts[key] = counts.get(key, 0) + 1
    return tuple(
        CutLine(
            board=board.board.name,
            side=side,
            surface=_surface(board, side),
            work=work,
            depth=depth,
            slant=slant,
            bit=bit,
            by_hand=by_hand,
            count=count,
        )
        for (side, work, depth, slant, bit, by_hand), count in counts.items()
    )


def _depth(board: BoardPlan, cut: Cut) -> float | None:
    full = float(board.board.box[cut.side.axis].size)
    return None if cut.depth is None or cut.depth >= full - SAME else round(cut.depth, 3)


def _surface(board: BoardPlan, side: Side) -> Grain:
    if side.axis == board.run.thick:
        return Grain.FACE
    return Grain.EDGE if side.axis == board.run.width else Grain.END


def _fits(bodies: Bodies, matings: tuple[Mating, ...]) -> tuple[FitLine, ...]:
    """Every play, like ones counted together."""
    found: dict[tuple[str, str, Axis, float, float | None], int] = {}
    for mating in matings:
        fit = mating_fit(bodies, mating)
        measured = None if fit is None else round(fit, 2)
        key = (mating.part, mating.socket, mating.axis, mating.asked, measured)
        found[key] = found.get(key, 0) + 1
    return tuple(
        FitLine(part=part, socket=socket, axis=axis, asked=asked, measured=measured, count=count)
        for (part, socket, axis, asked, measured), count in found.items()
    )


def _glue(bodies: Bodies, joint: Joint) -> Areas | None:
    """Areas no farther apart than glue bridges; None where a loose piece takes the glue, or nothing
    comes near enough."""
    family = family_named(joint.join.family)
    if joint.hardware and family is not None and family.contact is Contact.TOUCHING:
        return None
    i, j = bodies.index(joint.first.name), bodies.index(joint.second.name)
    if i is None or j is None:
        return None
    found = glued(bodies, i, j, boards_facing(bodies, i, j, GLUE_GAP))
    return found if found.whole > 0 else None


def _crossed(bodies: Bodies, joint: Joint) -> bool:
    """Whether the grains of the two boards run more than 45 degrees off each other."""
    one, other = (
        own_axis(bodies, index, bodies.plan.boards[index].run.length)
        for ref in (joint.first, joint.second)
        if (index := bodies.index(ref.name)) is not None
    )
    return abs(sum(a * b for a, b in zip(one, other, strict=True))) < math.sqrt(0.5)


def _mitre(joint: Joint, boards: tuple[BoardPlan, ...]) -> float:
    """The area of a plain mitre at the corner of two boards that are not turned."""
    first, second = (
        next(one for one in boards if one.board.name == ref.name)
        for ref in (joint.first, joint.second)
    )
    along = other_axis(first.run.thick, second.run.thick)
    one, other = first.board.box[along], second.board.box[along]
    width = min(one.hi, other.hi) - max(one.lo, other.lo)
    thick = (first.board.box[first.run.thick].size, second.board.box[second.run.thick].size)
    return mitre_area(float(width), (float(thick[0]), float(thick[1])))
