"""Which cuts are there that belong to one board and no joint? The one table.

A kind's file is read when a design first names it, so that a start does not pay for them all.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any, Final

from .family import ShapingFamily

WHERE: Final[dict[str, str]] = {
    "arch": "outline",
    "notch": "outline",
    "cove": "outline",
    "round_corner": "outline",
    "scallop": "outline",
    "bore": "holes",
    "counterbore": "holes",
    "shelf_pins": "holes",
    "pocket": "pockets",
    "slot": "pockets",
    "hand_hole": "pockets",
    "square_peg": "pockets",
    "rabbet": "edges",
    "ease": "edges",
    "roundover": "edges",
    "chamfer": "edges",
    "scribe": "scribe",
}
"""From a kind's name to its file here, in the order of the catalogue. The file holds the kind under
its name in capitals."""


def shaping_named(name: str) -> ShapingFamily[Any] | None:
    """The kind of cut of that name."""
    if name not in WHERE:
        return None
    kind: ShapingFamily[Any] = getattr(import_module(f".{WHERE[name]}", __name__), name.upper())
    return kind


def shapings() -> tuple[ShapingFamily[Any], ...]:
    """All kinds of cut, in the order of the catalogue."""
    return tuple(kind for name in WHERE if (kind := shaping_named(name)) is not None)


def shapings_with(option: str) -> tuple[str, ...]:
    """The names of the kinds of cut that have an option of that name."""
    return tuple(
        kind.name for kind in shapings() if any(spec.name == option for spec in kind.options)
    )
