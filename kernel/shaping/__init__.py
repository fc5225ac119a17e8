"""Which cuts are there that belong to one board and no joint? The one tuple."""

from __future__ import annotations

from typing import Any

from .edges import CHAMFER, EASE_EDGES, RABBET, ROUNDOVER
from .family import ShapingFamily
from .holes import BORE, COUNTERBORE, SHELF_PINS
from .outline import ARCH, COVE, NOTCH, ROUND_CORNER, SCALLOP
from .pockets import HAND_HOLE, POCKET, SLOT, SQUARE_PEG
from .scribe import SCRIBE

SHAPINGS: tuple[ShapingFamily[Any], ...] = (
    ARCH,
    NOTCH,
    COVE,
    ROUND_CORNER,
    SCALLOP,
    BORE,
    COUNTERBORE,
    SHELF_PINS,
    POCKET,
    SLOT,
    HAND_HOLE,
    SQUARE_PEG,
    RABBET,
    EASE_EDGES,
    ROUNDOVER,
    CHAMFER,
    SCRIBE,
)


def shaping_named(name: str) -> ShapingFamily[Any] | None:
    """The kind of cut of that name."""
    return next((family for family in SHAPINGS if family.name == name), None)


def shapings_with(option: str) -> tuple[str, ...]:
    """The names of the kinds of cut that have an option of that name."""
    return tuple(
        family.name for family in SHAPINGS if any(spec.name == option for spec in family.options)
    )
