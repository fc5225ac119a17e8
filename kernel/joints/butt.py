"""Butt joint: `A to B with butt`.

A face, edge or end of A lies flat on B and is glued, nailed or screwed. Nothing is cut. The boards
touch and share no wood.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..design import Verb
from ..finding import Outcome
from .family import Contact, Family, JointCuts
from .meeting import Meeting
from .options import Reading


@dataclass(frozen=True, slots=True)
class Butt:
    """A butt joint has no options."""


def _read(_: Reading) -> Butt:
    return Butt()


def _cut(_meeting: Meeting, _options: Butt) -> Outcome[JointCuts]:
    return Outcome(JointCuts())


BUTT = Family(
    name="butt",
    title="butt joint",
    words="faces touch, nothing is cut",
    verbs=(Verb.TO,),
    options=(),
    read=_read,
    cut=_cut,
    contact=Contact.TOUCHING,
)
