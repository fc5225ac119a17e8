"""What is a kind of cut that belongs to one board? The record
that each file of this folder ends with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from ..cuts import Cut
from ..finding import Outcome
from ..joints.options import OptionSpec, Reading
from ..shaping_findings import Sides
from .workpiece import Workpiece

Chosen = TypeVar("Chosen")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapingCuts:
    """What one shaping asks of its board: cuts, and the bit; `bit_chosen` when not named."""

    cuts: tuple[Cut, ...] = ()
    bit: str | None = None
    bit_chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapingFamily(Generic[Chosen]):
    """A kind of cut, told like a `Family` of joints.

    `read` makes its own options out of what was written; `cut` turns a workpiece and those options
    into cuts, or into findings. `title` is the trade's name, `words` one line on it, `written` the
    statement as one might write it. `sides` says which sides it is cut from.
    """

    name: str
    title: str
    words: str
    written: str
    sides: Sides
    options: tuple[OptionSpec[Any], ...]
    read: Callable[[Reading], Chosen]
    cut: Callable[[Workpiece, Chosen], Outcome[ShapingCuts]]
