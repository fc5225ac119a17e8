"""How is a finding put into words? A file per stage, chosen by the code's letter.

Each stage's file holds `WORDS`, a dict from finding class to the function that words it. Only the
file of the stage asked for is imported, so that one message does not load them all.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any, Final, TypeAlias

from ...kernel.faults import InternalError
from ...kernel.finding import Finding
from .words import Words

Wording: TypeAlias = Callable[[Any], Words]
"""Takes a finding of just the class it is listed under, which a dict's type cannot say."""

STAGES: Final[Mapping[str, str]] = {
    "S": "syntax",
    "N": "names",
    "U": "values",
    "L": "limits",
    "B": "boards",
    "J": "joins",
    "C": "cutter",
    "F": "fit",
    "A": "assembly",
    "T": "expect",
}


def stage_words(letter: str) -> Mapping[type[Finding], Wording]:
    """The words of every finding whose code begins with `letter`."""
    if letter not in STAGES:
        raise InternalError(f"no stage has the letter {letter!r}")
    table: Mapping[type[Finding], Wording] = import_module(f".{STAGES[letter]}", __name__).WORDS
    return table


def words(finding: Finding) -> Words:
    """The message of a finding; InternalError when its stage has no words for it."""
    wording = stage_words(finding.code[:1]).get(type(finding))
    if wording is None:
        raise InternalError(f"no words for {finding.code} ({type(finding).__name__})")
    return wording(finding)
