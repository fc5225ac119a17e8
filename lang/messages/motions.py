"""What is said of what moves in a design: how far each comes, and how much room it has."""

from __future__ import annotations

from dataclasses import dataclass

from ...kernel.design import Motion, Travel
from ...kernel.figures import figure, mm

NOTHING_MOVES = (
    "nothing is said to move: write `travel … along … for …` or `swing … about … by …`\n"
)


TOUCHING = 0.005
"""Boards nearer than this, in mm, are said to touch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One motion. `after` is where it stops short, in mm or degrees, None when it is free; `gap`
    the least room beside a free one, None when nothing is near. `moving` and `still` are the
    boards that meet, or that come nearest."""

    motion: Motion
    moving: str | None
    still: str | None
    after: float | None
    gap: float | None


def courses(found: tuple[Course, ...]) -> str:
    """A line for each motion."""
    return "".join(f"{_course(course)}\n" for course in found) or NOTHING_MOVES


def _course(course: Course) -> str:
    motion = course.motion
    if isinstance(motion, Travel):
        how = f"`{motion.name}` travels {mm(motion.distance)}"
        came = None if course.after is None else mm(course.after, 2)
    else:
        how = f"`{motion.name}` swings {figure(motion.degrees)}deg"
        came = None if course.after is None else f"{figure(course.after, 1)}deg"
    if came is not None:
        return f"{how}: stops after {came}, `{course.moving}` meets `{course.still}`"
    if course.gap is None:
        return f"{how}: free, with nothing near"
    if course.gap < TOUCHING:
        return f"{how}: free, `{course.moving}` slides on `{course.still}`"
    return f"{how}: free, {mm(course.gap, 2)} between `{course.moving}` and `{course.still}`"
