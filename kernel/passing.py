"""How much room does a body have beside its way?

In: two bodies as plain triangles, a direction and how far the one goes. Out: the least distance,
looking along the direction, between the moving body and what it passes. In that picture both are
drawn by the edges of their triangles; an edge keeps the heights of its triangle, and two edges
count when their heights let the one pass the other. The figure is right to the hundredth of a mm
for faces that pass each other, and never more than the true room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .shadows import ROWS_TIMES_COLUMNS, Faces, Floats, Indices, growing, sight
from .thresholds import LEAST_TOUCH

FIRST_RUN = 64
"""How many lines are looked at first."""


@dataclass(frozen=True, slots=True)
class _Lines:
    """Segments (k, 2, 2) in the picture, and the heights (k,) that they stand for."""

    ends: Floats
    low: Floats
    high: Floats

    def __getitem__(self, rows: Indices) -> _Lines:
        return _Lines(self.ends[rows], self.low[rows], self.high[rows])


def room_beside(
    moving: Faces, still: Faces, direction: Sequence[float], travel: float, most: float
) -> float | None:
    """The least room beside the way, mm; None when it is `most` or more."""
    frame = sight(direction)
    one, other = _lines(moving, frame), _lines(still, frame)
    skin = moving.inset + still.inset
    best = most + skin
    one, other = _close(one, other, best), _close(other, one, best)
    gaps = _box_gap(one.ends, *_box(other.ends)) if len(other.low) else np.empty(0)
    for chosen in _near_first(gaps):
        near = one[chosen[gaps[chosen] < best]]
        best = _least(near, _close(other, near, best), travel, best)
    return None if best >= most + skin else max(0.0, best - skin)


def _lines(body: Faces, frame: Floats) -> _Lines:
    """The edges of all triangles, those alike once."""
    seen = body.corners @ frame.T
    low, high = seen[:, :, 2].min(axis=1), seen[:, :, 2].max(axis=1)
    flat = seen[:, :, :2]
    ends = np.stack((flat, np.roll(flat, -1, axis=1)), axis=2).reshape(-1, 4)
    swap = (ends[:, 0] > ends[:, 2]) | ((ends[:, 0] == ends[:, 2]) & (ends[:, 1] > ends[:, 3]))
    ends = np.where(swap[:, None], ends[:, [2, 3, 0, 1]], ends)
    rows = np.column_stack((ends, np.repeat(low, 3), np.repeat(high, 3)))
    rows = np.unique(np.round(rows / LEAST_TOUCH) * LEAST_TOUCH, axis=0)
    return _Lines(rows[:, :4].reshape(-1, 2, 2), rows[:, 4], rows[:, 5])


def _box(ends: Floats) -> tuple[Floats, Floats]:
    return ends.min(axis=(0, 1)), ends.max(axis=(0, 1))


def _box_gap(ends: Floats, low: Floats, high: Floats) -> Floats:
    """How far the box round each segment is from a box."""
    apart = np.maximum(np.maximum(low - ends.max(axis=1), ends.min(axis=1) - high), 0.0)
    gap: Floats = np.hypot(apart[:, 0], apart[:, 1])
    return gap


def _close(lines: _Lines, other: _Lines, within: float) -> _Lines:
    """The lines within a distance of the box round the others."""
    if not len(lines.low) or not len(other.low):
        return lines[np.empty(0, dtype=np.int64)]
    return lines[np.flatnonzero(_box_gap(lines.ends, *_box(other.ends)) < within)]


def _near_first(gaps: Floats) -> Iterator[Indices]:
    order = np.argsort(gaps, kind="stable")
    for run in growing(len(order), FIRST_RUN):
        yield order[run]


def _least(one: _Lines, other: _Lines, travel: float, best: float) -> float:
    """The least distance between lines that pass each other, or `best` when none is nearer."""
    if not len(one.low) or not len(other.low):
        return best
    step = max(1, ROWS_TIMES_COLUMNS // len(other.low))
    for start in range(0, len(one.low), step):
        part = slice(start, start + step)
        ahead = other.high[None] - one.low[part, None] > LEAST_TOUCH
        passed = other.low[None] - one.high[part, None] < travel - LEAST_TOUCH
        apart = np.zeros((len(one.low[part]), len(other.low)))
        for axis in (0, 1):
            a, b = one.ends[part, :, axis], other.ends[:, :, axis]
            gap = np.maximum(
                b.min(axis=1)[None] - a.max(axis=1)[:, None],
                a.min(axis=1)[:, None] - b.max(axis=1)[None],
            )
            apart = np.maximum(apart, gap)
        rows, columns = np.nonzero(ahead & passed & (apart < best))
        for at in range(0, len(rows), 100_000):
            i, j = rows[at : at + 100_000] + start, columns[at : at + 100_000]
            best = min(best, float(_distance(one.ends[i], other.ends[j]).min()))
    return best


def _distance(a: Floats, b: Floats) -> Floats:
    """Between segments (k, 2, 2): 0 where they cross, else the least from an end to the other."""
    gaps = [_to_segment(a[:, end], b) for end in (0, 1)] + [
        _to_segment(b[:, end], a) for end in (0, 1)
    ]
    crossing = _apart(a, b) & _apart(b, a)
    return np.where(crossing, 0.0, np.minimum.reduce(gaps))


def _apart(a: Floats, b: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Whether the ends of each b lie on both sides of its a."""
    along = a[:, 1] - a[:, 0]
    sides = [
        along[:, 0] * (b[:, end, 1] - a[:, 0, 1]) - along[:, 1] * (b[:, end, 0] - a[:, 0, 0])
        for end in (0, 1)
    ]
    return sides[0] * sides[1] < 0


def _to_segment(point: Floats, segment: Floats) -> Floats:
    along = segment[:, 1] - segment[:, 0]
    size = (along * along).sum(axis=1)
    off = point - segment[:, 0]
    share = np.divide((off * along).sum(axis=1), size, out=np.zeros_like(size), where=size > 0)
    near = off - np.clip(share, 0.0, 1.0)[:, None] * along
    distance: Floats = np.hypot(near[:, 0], near[:, 1])
    return distance
