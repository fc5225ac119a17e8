"""From a design to the cuts of every board.

`cut_plan` turns each join into joints (one for each pair of boards that meets), asks the joint's
family for its cuts, and gathers them by board in a fixed order. Everything after it reads the
`CutPlan` and never goes back to the joins.
"""

from __future__ import annotations

from dataclasses import dataclass

from .board import Board, Run
from .cuts import Cut, Mating
from .design import BoardRef, Design, Join
from .finding import Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """One pair of boards under one join, cut.

    `first` and `second` are as written; `name` is unique in the design. `bit` is the bit the joint
    is cut with and `bit_chosen` says that it was picked because none was named. `failed` is set
    when a finding stopped the joint: checks of the pair stay silent then.
    """

    name: str
    join: Join
    first: BoardRef
    second: BoardRef
    bit: str | None = None
    bit_chosen: bool = False
    cuts: tuple[Cut, ...] = ()
    matings: tuple[Mating, ...] = ()
    failed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPlan:
    """A board with all its cuts, in the order of the design's joins."""

    board: Board
    run: Run
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """A design with its joints and the cuts of each board, boards in the order written.

    Boards whose blank is not sound (a finding told why) are left out.
    """

    design: Design
    boards: tuple[BoardPlan, ...]
    joints: tuple[Joint, ...]


def cut_plan(design: Design) -> Outcome[CutPlan]:
    """The cuts of every board, and findings on blanks, options, bits and pairs that do not meet."""
    raise AssertionError("written next")
