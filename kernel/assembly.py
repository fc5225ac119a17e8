"""In which steps does a piece go together, a straight move at a time?

In: bodies. Out: the steps from the first two boards to the whole piece, or the boards that are
locked. The piece is taken apart (`order.py`) and the steps are that in reverse; each moving set is
put together before it is brought in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .insertion import joined_pairs
from .order import Locked, Split, graphs, members, parted
from .shadows import Vector
from .solids import Bodies


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The boards `moving`, by index, come into `into` along `direction`, of length 1, the last
    `distance` mm of it beside them."""

    moving: tuple[int, ...]
    into: tuple[int, ...]
    direction: Vector
    distance: float


def steps(bodies: Bodies) -> tuple[Step, ...] | Locked:
    """The steps of a piece; no two boards may share wood. Locked boards are a set of bits."""
    ties = [(part, mate) for part, mate, _ in joined_pairs(bodies)]
    everything = (1 << len(bodies.plan.boards)) - 1
    found = parted(graphs(bodies), ties, everything)
    if isinstance(found, Locked):
        return found
    return tuple(_step(bodies, split) for split in reversed(found))


def _step(bodies: Bodies, split: Split) -> Step:
    x, y, z = split.out
    moving, into = tuple(members(split.moving)), tuple(members(split.staying))
    _, far = _extent(bodies, into, split.out)
    near, _ = _extent(bodies, moving, split.out)
    return Step(
        moving=moving,
        into=into,
        direction=(-x + 0.0, -y + 0.0, -z + 0.0),
        distance=max(0.0, far - near),
    )


def _extent(bodies: Bodies, boards: Sequence[int], along: Vector) -> tuple[float, float]:
    """From where to where the boards reach along a direction, mm."""
    heights = [bodies.faces(i).corners.reshape(-1, 3) @ np.array(along) for i in boards]
    return min(float(h.min()) for h in heights), max(float(h.max()) for h in heights)
