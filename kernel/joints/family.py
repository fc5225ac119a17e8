"""What is a family of joints? The record each file of this folder ends with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Any, Generic, TypeVar

from ..cuts import Cut, Hardware, Mating
from ..design import Verb
from ..finding import Outcome
from .meeting import Meeting
from .options import OptionSpec, Reading
from .tilted import TiltedMeeting

Chosen = TypeVar("Chosen")


class Contact(Enum):
    """How boards of a family meet."""

    SHARING = "sharing"  # their boxes overlap
    TOUCHING = "touching"  # a face of one lies on a face of the other


@dataclass(frozen=True, slots=True, kw_only=True)
class JointCuts:
    """What one joint asks of its boards: cuts, plays, and the bit; `bit_chosen` when not named.
    `hardware` is what it needs besides boards."""

    cuts: tuple[Cut, ...] = ()
    matings: tuple[Mating, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    bit: str | None = None
    bit_chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Family(Generic[Chosen]):
    """A kind of joint.

    `read` makes the family's own options out of what was written; `cut` turns a meeting and those
    options into cuts, or into findings. `cut_tilted` does so for boards turned against each other
    about an axis they share; None where the family needs square boards. `title` is the trade's
    name, `words` one line on it.
    """

    name: str
    title: str
    words: str
    verbs: tuple[Verb, ...]
    options: tuple[OptionSpec[Any], ...]
    read: Callable[[Reading], Chosen]
    cut: Callable[[Meeting, Chosen], Outcome[JointCuts]]
    contact: Contact = Contact.SHARING
    cut_tilted: Callable[[TiltedMeeting, Chosen], Outcome[JointCuts]] | None = None
