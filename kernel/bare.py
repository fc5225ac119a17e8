"""What does a record say, wherever in the text it is written?

A line made longer moves all that stands below it and changes none of it. Whoever keeps answers by
what decides them leaves the places out.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from .finding import Place

R = TypeVar("R")


def bare(record: R) -> R:
    """The record, a dataclass with a field `place`, without its places and without those of the
    records of that kind it holds."""
    changes: dict[str, Any] = {}
    for field in fields(record):  # type: ignore[arg-type]
        held = getattr(record, field.name)
        without = _without_places(held)
        if without is not held:
            changes[field.name] = without
    return replace(record, **changes)  # type: ignore[type-var]


def _without_places(held: Any) -> Any:
    if isinstance(held, Place):
        return None
    if isinstance(held, tuple) and any(_has_place(item) for item in held):
        return tuple(_without_places(item) for item in held)
    return bare(held) if _has_place(held) else held


def _has_place(held: object) -> bool:
    return isinstance(held, Place) or (is_dataclass(held) and hasattr(held, "place"))
