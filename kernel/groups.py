"""Which boards were written as one assembly, and which boards does no plane part?

Both are sets of boards as whole numbers or indices. `drawer[1].front` was put down with
`drawer[1]`; assemblies lie in each other as their names do.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .broad import Boxes
from .shadows import Indices
from .thresholds import SAME


def declared(names: Sequence[str]) -> dict[str, int]:
    """Each assembly put down, by its path, with the set of its boards; outer ones first.

    Those of a single board are left out, and so is one that holds all there is.
    """
    found: dict[str, int] = {}
    for i, name in enumerate(names):
        parts = name.split(".")
        for depth in range(1, len(parts)):
            path = ".".join(parts[:depth])
            found[path] = found.get(path, 0) | 1 << i
    several = {path: of for path, of in found.items() if 1 < of.bit_count() < len(names)}
    return dict(sorted(several.items(), key=lambda item: item[0].count(".")))


def clusters(boxes: Boxes) -> tuple[tuple[int, ...], ...]:
    """The boards in lots: a plane square to an axis parts each lot from others, none a lot.

    Boards on two sides of a plane always come apart, so each lot may be looked at alone.
    """
    lots: list[tuple[int, ...]] = []
    waiting = [np.arange(len(boxes))] if len(boxes) else []
    while waiting:
        some = waiting.pop()
        parts = next((p for axis in range(3) if len(p := _parted(boxes, some, axis)) > 1), None)
        if parts is None:
            lots.append(tuple(sorted(some.tolist())))
        else:
            waiting += parts
    return tuple(sorted(lots))


def _parted(boxes: Boxes, some: Indices, axis: int) -> list[Indices]:
    """The boards sorted along an axis and cut where one begins past the end of all before it."""
    order = some[np.argsort(boxes[some, 0, axis], kind="stable")]
    ends = np.maximum.accumulate(boxes[order, 1, axis])
    cuts = np.flatnonzero(boxes[order[1:], 0, axis] >= ends[:-1] - SAME) + 1
    return np.split(order, cuts)
