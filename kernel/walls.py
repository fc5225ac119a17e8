"""Which walls of two boards stand against each other along a direction, how far apart, and where?

In: two bodies as plain triangles and a direction. Out: pairs of walls square to it, a wall of the
part facing along the direction and one of the mate facing back. They are told by the cuts that made
them, so that whoever knows how a cut may stray knows how the gap may.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .ends import Ends
from .shadows import (
    ROWS_TIMES_COLUMNS,
    Faces,
    Floats,
    Indices,
    Layer,
    Pieces,
    growing,
    pieces,
    sight,
    vector,
    view,
)
from .thresholds import FACING_COSINE, SAME

FIRST_RUN = 1024
"""How many pairs of facets are clipped at first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPair:
    """Two walls that face each other, the least gap between them, mm, and a place on either,
    straight across from each other, the part's first.

    Below 0 the gap is wood in wood. The cuts are those that made the walls, by index among their
    board's, -1 for a face of the blank.
    """

    gap: float
    part_cut: int
    mate_cut: int
    ends: Ends


@dataclass(frozen=True, slots=True)
class Play:
    """The pairs of walls that stop a part along a direction and back along it, nearest first."""

    ahead: tuple[WallPair, ...]
    behind: tuple[WallPair, ...]

    @property
    def total(self) -> float | None:
        """How far the part goes from wall to wall, mm; None where nothing stops it on one side."""
        if not self.ahead or not self.behind:
            return None
        return self.ahead[0].gap + self.behind[0].gap

    @property
    def telling(self) -> WallPair | None:
        """Of the two pairs that stop it the one to look at: that with wood in wood, else that with
        the gap. None where there are none."""
        stops = sorted((*self.ahead[:1], *self.behind[:1]), key=lambda pair: pair.gap)
        if not stops:
            return None
        near, far = stops[0], stops[-1]
        return near if near.gap < -SAME or far.gap - near.gap <= SAME else far


def play(
    part: Faces, mate: Faces, direction: Sequence[float], deepest: float, window: float = 0.0
) -> Play:
    """The walls that stop `part` in `mate` along a direction, both ways.

    Down to minus `deepest` a gap is wood in wood, beyond that the two are the outsides of different
    walls. Of each way the nearest pair is given, and all within `window` mm of it.
    """
    back = [-c for c in direction]
    return Play(
        wall_pairs(part, mate, direction, deepest, window),
        wall_pairs(part, mate, back, deepest, window),
    )


def wall_pairs(
    part: Faces, mate: Faces, direction: Sequence[float], deepest: float, window: float = 0.0
) -> tuple[WallPair, ...]:
    """The pairs of walls ahead of `part`; see `play`. Walls of eroded twins are told where those of
    the wood stand."""
    frame = sight(direction)
    skins = part.inset + mate.inset
    one = _square(part, view(part, frame).forward, frame[2])
    other = _square(mate, view(mate, frame).back, frame[2])
    rows, columns = _candidates(one, other, deepest - skins)
    gaps = other.nearest[columns] - one.nearest[rows] - skins
    order = np.argsort(gaps, kind="stable")
    rows, columns, gaps = rows[order], columns[order], gaps[order]
    best: dict[tuple[int, int], WallPair] = {}
    nearest = np.inf
    for run in growing(len(rows), FIRST_RUN):
        if gaps[run.start] > nearest + window + SAME:
            break
        found = pieces(one, other, rows[run], columns[run])
        for pair in _told(found[found.is_proof], (one, other), (part, mate), frame):
            key = (pair.part_cut, pair.mate_cut)
            if key not in best or pair.gap < best[key].gap:
                best[key] = pair
            nearest = min(nearest, pair.gap)
    kept = (pair for pair in best.values() if pair.gap <= nearest + window + SAME)
    return tuple(sorted(kept, key=lambda p: (round(p.gap / SAME), p.part_cut, p.mate_cut)))


def _square(body: Faces, layer: Layer, direction: Sequence[float]) -> Layer:
    """The facets of a layer square to the direction."""
    a, b, c = (body.corners[layer.source, k] for k in range(3))
    normal = np.cross(b - a, c - a)
    share = np.abs(normal @ np.asarray(direction)) / np.linalg.norm(normal, axis=1)
    return layer[share >= FACING_COSINE]


def _candidates(one: Layer, other: Layer, deepest: float) -> tuple[Indices, Indices]:
    """Pairs of facets whose boxes overlap in the picture, the second no farther behind."""
    found_rows, found_columns = [np.empty(0, dtype=np.int64)], [np.empty(0, dtype=np.int64)]
    step = max(1, ROWS_TIMES_COLUMNS // max(1, len(other)))
    for start in range(0, len(one), step):
        part = slice(start, start + step)
        meet = other.nearest[None, :] - one.nearest[part, None] > -deepest
        for axis in (0, 1):
            meet &= one.low[part, None, axis] < other.high[None, :, axis]
            meet &= one.high[part, None, axis] > other.low[None, :, axis]
        rows, columns = np.nonzero(meet)
        found_rows.append(rows + start)
        found_columns.append(columns)
    return np.concatenate(found_rows), np.concatenate(found_columns)


def _told(
    found: Pieces, layers: tuple[Layer, Layer], bodies: tuple[Faces, Faces], frame: Floats
) -> Iterator[WallPair]:
    """The widest of the nearest pieces of each pair of cuts."""
    one, other = layers
    part_cut = bodies[0].cut[one.source[found.rows]]
    mate_cut = bodies[1].cut[other.source[found.columns]]
    gap = found.gap.mean(axis=1) - bodies[0].inset - bodies[1].inset
    order = np.lexsort((-found.width, np.round(gap / SAME)))
    seen: set[tuple[int, int]] = set()
    for k in order.tolist():
        key = (int(part_cut[k]), int(mate_cut[k]))
        if key in seen:
            continue
        seen.add(key)
        u, v = found.flat[k].mean(axis=0)
        height = float(other.nearest[found.columns[k]]) - bodies[1].inset
        ends = np.array([[u, v, height - gap[k]], [u, v, height]]) @ frame
        yield WallPair(
            gap=float(gap[k]),
            part_cut=key[0],
            mate_cut=key[1],
            ends=Ends(vector(ends[0]), vector(ends[1]), vector(frame[2] + 0.0)),
        )
