"""How are the steps of putting a piece together told? In plain words for the bench, and as JSON.

In: an `Assembly`. A stage is a lot of parts put together in one go; assemblies that are alike, such
as four drawers, are told once. Directions are those of the finished piece, z up; lengths in mm.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from .figures import course, in_a_row, mm
from .plan import CutPlan
from .steps import Assembly, Stage, Step, Way

SCHEMA = "dryfit-steps-1"

WORD = {
    Way.INTO: "into",
    Way.TO: "to",
    Way.ACROSS: "across",
    Way.OVER: "over",
    Way.AGAINST: "against",
}
"""How what moves comes to what it meets."""

MOST_NAMED = 5
"""How many boards a step names before it counts the rest."""


def said(step: Step, within: str = "") -> str:
    """A step in words: `bottom into left and right, along +z (up), 12mm`.

    The length is how far what moves goes beside what stands; names lose the assembly `within`.
    """
    what = step.assembly or _named(step.moving, within)
    along = f"along {course(step.direction)}"
    if step.way is Way.FREE:
        what += " to its place"
    else:
        what += f" {WORD[step.way]} {_named(step.meets, within)}"
    # To a tenth: nobody slides a board by hundredths.
    beside = mm(step.distance, 1)
    return f"{what}, {along}" if beside == "0mm" else f"{what}, {along}, {beside}"


def _named(names: Sequence[str], within: str) -> str:
    told = [name.removeprefix(f"{within}.") if within else name for name in names]
    if len(told) > MOST_NAMED:
        told[MOST_NAMED - 1 :] = [f"{len(told) - MOST_NAMED + 1} others"]
    return in_a_row(told)


# ---- for the bench -------------------------------------------------------------------------------


def as_text(plan: CutPlan, assembly: Assembly) -> str:
    """Numbered stages with their steps."""
    boards, moves = len(plan.boards), len(assembly.steps)
    lines = [
        f"{plan.design.name}: {_counted(boards, 'board')}, {_counted(moves, 'straight move')}",
        "",
    ]
    for number, alike in enumerate(_lots(assembly.stages), start=1):
        lines += [f"{number}. {_title(alike)}"]
        lines += [f"   {_manner(alike[0])}"]
        within = alike[0].assembly or ""
        width = len(str(len(alike[0].steps)))
        lines += [
            f"   {count:>{width}}) {said(step, within)}"
            for count, step in enumerate(alike[0].steps, start=1)
        ]
        lines += [""]
    lines += [
        f"{name} cannot go in whole: its boards go in one by one." for name in assembly.opened
    ]
    lines += [""] if assembly.opened else []
    return "\n".join([*lines, *_legend(assembly)]) + "\n"


def _lots(stages: Sequence[Stage]) -> list[list[Stage]]:
    """Stages in a row, those of assemblies that are alike together."""
    found: dict[tuple[object, ...], list[Stage]] = {}
    for number, stage in enumerate(stages):
        within = stage.assembly
        key: tuple[object, ...] = (number,)
        if within is not None:
            key = (stage.joined, *(said(step, within) for step in stage.steps))
        found.setdefault(key, []).append(stage)
    return list(found.values())


def _title(alike: Sequence[Stage]) -> str:
    first = alike[0]
    if first.assembly:
        others = [stage.assembly or "" for stage in alike[1:]]
        return f"{first.assembly}, and {in_a_row(others)} alike" if others else first.assembly
    start = first.steps[0].into
    brought = [step.assembly or in_a_row(step.moving) for step in first.steps]
    if len(start) == 1:
        return in_a_row([*start, *brought])
    return f"{in_a_row(brought)}, to what stands"


def _manner(stage: Stage) -> str:
    if not stage.joined:
        return "No joint is closed:"
    return "Try it dry, then close it in one go:"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def _legend(assembly: Assembly) -> list[str]:
    lines = [
        "A step brings what is named first. The length is how far it goes beside what stands",
        "until it is home. x, y and z are the design's, z up.",
    ]
    if any(stage.joined for stage in assembly.stages):
        lines += [
            "Common practice: have every stage together dry, and clamps, cauls and a square",
            "at hand, before the glue is opened.",
        ]
    return lines


# ---- for programs --------------------------------------------------------------------------------


def as_json(plan: CutPlan, assembly: Assembly) -> str:
    """The stages and steps as JSON, by the schema `dryfit-steps-1`."""
    made = {
        "schema": SCHEMA,
        "design": plan.design.name,
        "stages": [_stage(stage) for stage in assembly.stages],
        "opened": list(assembly.opened),
    }
    return json.dumps(made, ensure_ascii=False, indent=2) + "\n"


def _stage(stage: Stage) -> dict[str, object]:
    return {
        "boards": list(stage.boards),
        "assembly": stage.assembly,
        "joined": stage.joined,
        "steps": [_step(step) for step in stage.steps],
    }


def _step(step: Step) -> dict[str, object]:
    return {
        "words": said(step),
        "moving": list(step.moving),
        "into": list(step.into),
        "direction": [round(c, 9) for c in step.direction],
        "distance_mm": round(step.distance, 6),
        "meets": list(step.meets),
        "joints": list(step.joints),
        "assembly": step.assembly,
    }
