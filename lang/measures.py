"""Which figures can an `expect` ask for, and what may be claimed in bare words?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from ..kernel.quantity import LENGTH, VOLUME, Dimension


@dataclass(frozen=True, slots=True)
class MeasureForm:
    """How many boards a measure is about, and what comes out."""

    boards: int
    dimension: Dimension


MEASURES: Final[Mapping[str, MeasureForm]] = {
    "volume": MeasureForm(1, VOLUME),
    "length": MeasureForm(1, LENGTH),
    "width": MeasureForm(1, LENGTH),
    "thick": MeasureForm(1, LENGTH),
    "fit": MeasureForm(2, LENGTH),
    "overlap": MeasureForm(2, VOLUME),
}
"""The figures measured on the piece as cut."""

CLAIMS: Final = ("no interference",)
"""What can be claimed in bare words."""
