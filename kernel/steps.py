"""What is a step of putting a piece together, and what a stage? Records, boards by name.

The steps come from `assembly.py`. Lengths in mm; directions, of length 1, in the finished piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

Vector: TypeAlias = tuple[float, float, float]


class Way(Enum):
    """How what moves comes to the boards it meets."""

    INTO = "into"  # it enters all of them
    TO = "to"  # end to end, or at a corner
    ACROSS = "across"  # they lap
    OVER = "over"  # what it meets enters it, or some do
    AGAINST = "against"  # no joint: it comes to touch them
    FREE = "free"  # it touches nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The boards `moving` come together into the boards `into`, which stand together already.

    They go along `direction`; the last `distance` mm of it they are beside the others. `meets` are
    the boards of `into` that `joints` hold them to, or, where `joints` is empty, those that they
    come to touch. `assembly` is set when what moves is all of an assembly put down.
    """

    moving: tuple[str, ...]
    into: tuple[str, ...]
    direction: Vector
    distance: float
    way: Way
    meets: tuple[str, ...]
    joints: tuple[str, ...]
    assembly: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """Steps in a row that make one thing: `boards`, which are all of `assembly` where that is set.

    The steps of a stage that is `joined` all close joints: they are tried dry and then glued in
    one go. Those of another close none.
    """

    steps: tuple[Step, ...]
    boards: tuple[str, ...]
    joined: bool
    assembly: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """The stages of a piece, first to last. `opened` are assemblies put down that cannot go in
    whole, so that their boards go in one by one."""

    stages: tuple[Stage, ...]
    opened: tuple[str, ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        """Every step, first to last."""
        return tuple(step for stage in self.stages for step in stage.steps)
