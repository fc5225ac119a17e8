"""What does the page know of a piece besides its meshes? The form `dryfit-scene-1`.

In: what the stages learnt of a design. Out: one JSON document, whose form `scene.schema.json`
beside this module states. Lengths are mm, points and directions those of the finished piece: x to
the right, y to the back, z up. The meshes come apart from it, as glTF. Nothing is computed here
that the kernel did not compute.

A scene may be told in two goes: `checked` is false while the checks, the profiles and the steps are
still being worked out; the picture itself is whole at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import assert_never

from ..kernel.cutlist import hand_steps
from ..kernel.cuts import Cut, Mating
from ..kernel.design import Design, Motion, Swing, Travel
from ..kernel.export.gltf import piece_file
from ..kernel.export.scene import Meshes
from ..kernel.finding import Finding, Place
from ..kernel.motion import direction_of, hinge_of, moving_boards
from ..kernel.plan import BoardPlan, CutPlan, Joint
from ..kernel.solids import Bodies
from ..kernel.steplist import said
from ..kernel.steps import Assembly
from ..kernel.stock import Stock
from ..lang.inspection import Inspection
from ..lang.messages.byhand import hand_step_words
from ..lang.render import Message, Pages, messages_of
from ..lang.version import VERSION
from .facts import boards_named, lumps_of, marks_of, stop_told, vector
from .wording import Json, encoded, message, placed, text

FORMAT = "dryfit-scene-1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What follows the picture: the flat profile of each board by name, as SVG, and the assembly,
    None where there is none, such as where boards still share wood."""

    bodies: Bodies
    profiles: Mapping[str, str] = field(default_factory=dict)
    assembly: Assembly | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """The two files the page reads: `scene` is JSON, `piece` a GLB."""

    scene: bytes
    piece: bytes


def picture(inspection: Inspection, meshes: Meshes, worked: Worked | None = None) -> Picture:
    """The piece as far as it could be made out; without any plan an empty one."""
    plan = plan_of(inspection)
    return Picture(encoded(scene(inspection, worked)), piece_file(plan, meshes))


def plan_of(inspection: Inspection) -> CutPlan:
    """The plan, one without boards where there is none."""
    if inspection.plan is not None:
        return inspection.plan
    return CutPlan(design=Design(name=inspection.file), boards=(), joints=())


def scene(inspection: Inspection, worked: Worked | None = None) -> dict[str, Json]:
    """The document; `worked` is None while checks, profiles and steps are not at hand."""
    plan, pages = plan_of(inspection), inspection.pages
    bodies = Bodies(plan) if worked is None else worked.bodies
    assembly = None if worked is None else worked.assembly
    profiles = {} if worked is None else worked.profiles
    return {
        "format": FORMAT,
        "made_by": f"dryfit {VERSION}",
        "file": text(inspection.file),
        "design": text(plan.design.name),
        "units": "mm",
        "checked": worked is not None,
        "boards": _boards(plan, pages, profiles),
        "joints": [_joint(joint, pages) for joint in plan.joints],
        "findings": findings_told(inspection, None if worked is None else bodies),
        "steps": [] if assembly is None else _steps(assembly),
        "motions": [_motion(motion, bodies, inspection) for motion in plan.design.motions],
        "sheets": [],
    }


# -- boards and joints ---------------------------------------------------------------------------


def _boards(plan: CutPlan, pages: Pages, profiles: Mapping[str, str]) -> list[Json]:
    stocks = {stock.name: stock for stock in plan.design.stocks}
    joints: dict[str, list[str]] = {one.board.name: [] for one in plan.boards}
    for joint in plan.joints:
        for name in dict.fromkeys((joint.first.name, joint.second.name)):
            if name in joints:
                joints[name].append(joint.name)
    return [
        {
            **_board(one, stocks[one.board.stock], pages),
            "node": number,  # the first node of the GLB is the whole piece
            "joints": [text(name) for name in joints[one.board.name]],
            "profile_svg": profiles.get(one.board.name),
        }
        for number, one in enumerate(plan.boards, start=1)
    ]


def _board(plan: BoardPlan, stock: Stock, pages: Pages) -> dict[str, Json]:
    board, run = plan.board, plan.run
    sizes = (float(board.box[axis].size) for axis in (run.length, run.width, run.thick))
    return {
        "name": text(board.name),
        "stock": text(stock.name),
        "species": None if stock.species is None else text(stock.species),
        "size_mm": vector(sizes),
        "delivered_mm": vector(float(thick) for thick in stock.actual),
        "grain": run.length.letter,
        "place": placed(board.place, pages),
        "cuts": [_cut(cut, pages) for cut in plan.cuts],
        "hand_steps": [
            text(hand_step_words(step.work, step.bit, step.count)) for step in hand_steps(plan)
        ],
    }


def _cut(cut: Cut, pages: Pages) -> Json:
    return {
        "joint": text(cut.joint),
        "mate": None if cut.mate is None else text(cut.mate),
        "of_joint": cut.of_joint,
        "work": cut.work.value,
        "side": str(cut.side),
        "depth_mm": None if cut.depth is None else round(cut.depth, 6),
        "bit": text(cut.bit),
        "by_hand": cut.by_hand,
        "place": placed(cut.place, pages),
    }


def _joint(joint: Joint, pages: Pages) -> Json:
    return {
        "name": text(joint.name),
        "family": text(joint.join.family),
        "boards": [text(joint.first.name), text(joint.second.name)],
        "bit": None if joint.bit is None else text(joint.bit),
        "bit_chosen": joint.bit_chosen,
        "fit_mm": _fit(joint.matings),
        "failed": joint.failed,
        "place": placed(joint.join.place, pages),
    }


def _fit(matings: tuple[Mating, ...]) -> float | None:
    """The tightest play the joint was cut for, at nominal thickness; None where none is defined."""
    return min((round(mating.fit, 6) + 0.0 for mating in matings), default=None)


# -- findings ------------------------------------------------------------------------------------


def findings_told(inspection: Inspection, bodies: Bodies | None) -> list[Json]:
    """The messages as the terminal has them, each with what of it is in the picture."""
    plan = plan_of(inspection)
    return [
        {
            **message(words, inspection.pages),
            "boards": _each_once(text(n) for f in group for n in boards_named(f, plan)),
            "lumps": [lump for finding in group for lump in lumps_of(finding, bodies)],
            "marks": [mark for finding in group for mark in marks_of(finding, bodies)],
        }
        for words, group in _gathered(inspection.findings)
    ]


def _gathered(findings: tuple[Finding, ...]) -> list[tuple[Message, list[Finding]]]:
    """Each message with the findings that it gathers: those of one code at one place."""
    groups: dict[tuple[str, Place | int], list[Finding]] = {}
    for order, finding in enumerate(findings):
        key = (finding.code, order if finding.place is None else finding.place)
        groups.setdefault(key, []).append(finding)
    return list(zip(messages_of(findings), groups.values(), strict=True))


def _each_once(names: Iterable[str]) -> list[Json]:
    return list(dict.fromkeys(names))


# -- steps and motions ---------------------------------------------------------------------------


def _steps(assembly: Assembly) -> list[Json]:
    numbered: list[Json] = []
    for stage_number, stage in enumerate(assembly.stages, start=1):
        for step in stage.steps:
            numbered.append(
                {
                    "number": len(numbered) + 1,
                    "stage": stage_number,
                    "glued": stage.joined,
                    "words": text(said(step)),
                    "assembly": None if step.assembly is None else text(step.assembly),
                    "moving": [text(name) for name in step.moving],
                    "into": [text(name) for name in step.into],
                    "meets": [text(name) for name in step.meets],
                    "joints": [text(name) for name in step.joints],
                    "direction": vector(step.direction),
                    "distance_mm": round(step.distance, 6),
                }
            )
    return numbered


def _motion(motion: Motion, bodies: Bodies, inspection: Inspection) -> Json:
    boards = bodies.plan.boards
    told: dict[str, Json] = {
        "name": text(motion.name),
        "boards": [text(boards[i].board.name) for i in moving_boards(bodies, motion)],
        "stop": stop_told(motion, inspection.findings),
        "place": placed(motion.place, inspection.pages),
    }
    match motion:
        case Travel():
            way, amount = direction_of(bodies, motion), float(motion.distance)
            return {**told, "kind": "travel", "axis": vector(way), "at": None, "amount": amount}
        case Swing():
            hinge, amount = hinge_of(motion), float(motion.degrees)
            axis, at = vector(hinge.axis), vector(hinge.at)
            return {**told, "kind": "swing", "axis": axis, "at": at, "amount": amount}
        case _:
            assert_never(motion)
