"""Which families of joints are there? The one tuple; a file a family."""

from __future__ import annotations

from typing import Any

from .box import BOX
from .butt import BUTT
from .dado import DADO
from .family import Family
from .groove import GROOVE
from .rabbet import RABBET
from .tenon import TENON
from .tongue import TONGUE

FAMILIES: tuple[Family[Any], ...] = (BUTT, RABBET, DADO, GROOVE, TONGUE, TENON, BOX)


def family_named(name: str) -> Family[Any] | None:
    """The family of that name."""
    return next((family for family in FAMILIES if family.name == name), None)


def families_with(option: str) -> tuple[str, ...]:
    """The names of the families that have an option of that name."""
    return tuple(
        family.name for family in FAMILIES if any(spec.name == option for spec in family.options)
    )
