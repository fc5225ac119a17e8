"""Which figures can an `expect` ask for, and what may be claimed in bare words?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Final

from ..kernel.quantity import AREA, COUNT, LENGTH, MASS, VOLUME, Dimension


class Subject(Enum):
    """What a measure or a claim is about."""

    BOARD = "board"
    PIECE = "board or assembly"
    JOINT = "joint"
    MACHINE = "machine"


BOARD, PIECE, JOINT, MACHINE = Subject


@dataclass(frozen=True, slots=True)
class MeasureForm:
    """What a measure is about, in order, and what comes out."""

    subjects: tuple[Subject, ...]
    dimension: Dimension


MEASURES: Final[Mapping[str, MeasureForm]] = {
    "volume": MeasureForm((PIECE,), VOLUME),
    "mass": MeasureForm((PIECE,), MASS),
    "length": MeasureForm((BOARD,), LENGTH),
    "width": MeasureForm((BOARD,), LENGTH),
    "thick": MeasureForm((BOARD,), LENGTH),
    "sides_cut": MeasureForm((BOARD,), COUNT),
    "fit": MeasureForm((BOARD, BOARD), LENGTH),
    "clearance": MeasureForm((PIECE, PIECE), LENGTH),
    "gap": MeasureForm((PIECE, PIECE), LENGTH),
    "overlap": MeasureForm((BOARD, BOARD), VOLUME),
    "glue_area": MeasureForm((JOINT,), AREA),
}
"""The figures measured on the piece as cut."""

OF_BOARDS_TOO: Final[Mapping[str, MeasureForm]] = {"glue_area": MeasureForm((BOARD, BOARD), AREA)}
"""Measures of a joint that take its two boards as well."""

CLAIMS: Final = ("no interference", "assembles")
"""What can be claimed in bare words."""

CLAIM_CALLS: Final[Mapping[str, tuple[Subject, ...]]] = {
    "fits": (BOARD, MACHINE),
    "travels": (PIECE,),
}
"""What can be claimed of things: `expect fits(left, bench)`."""

IN_TESTS_ONLY: Final = frozenset((*MEASURES, *CLAIM_CALLS))
"""Words that are called like functions and that only a test can ask for."""
