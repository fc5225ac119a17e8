"""Which families of joints are there? The one table; a file a family.

A family's file is read when a design first names it, so that a start does not pay for them all.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any, Final

from .family import Family

WHERE: Final[dict[str, str]] = {
    "butt": "butt",
    "rabbet": "rabbet",
    "dado": "dado",
    "groove": "groove",
    "tongue": "tongue",
    "tongued_corner": "tongued_corner",
    "tenon": "tenon",
    "wedged_tenon": "wedged_tenon",
    "pegged_tenon": "pegged_tenon",
    "loose_tenon": "loose_tenon",
    "box": "box",
    "blind_box": "blind_box",
    "step": "step",
    "drawer_lock": "drawer_lock",
    "lap": "lap",
    "edge_lap": "edge_lap",
    "bridle": "bridle",
    "dovetail": "dovetail",
    "mitre": "mitre",
    "splined_mitre": "mitre",
    "spline": "spline",
    "dowels": "dowels",
    "cross_dowel": "cross_dowel",
    "puzzle": "puzzle",
}
"""From a family's name to its file here, in the order of the catalogue. The file holds the family
under its name in capitals."""


def family_named(name: str) -> Family[Any] | None:
    """The family of that name."""
    if name not in WHERE:
        return None
    family: Family[Any] = getattr(import_module(f".{WHERE[name]}", __name__), name.upper())
    return family


def families() -> tuple[Family[Any], ...]:
    """All families, in the order of the catalogue."""
    return tuple(family for name in WHERE if (family := family_named(name)) is not None)


def families_with(option: str) -> tuple[str, ...]:
    """The names of the families that have an option of that name."""
    return tuple(
        family.name for family in families() if any(spec.name == option for spec in family.options)
    )
