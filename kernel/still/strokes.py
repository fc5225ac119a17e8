"""Which strokes draw a heap of straight segments once each?

The borders of two neighbouring faces give the same line twice, often cut at different points. Here
segments on one line become one, lines closer than a stroke can show become one, and what joins end
to end becomes a polyline. Lengths are in the units of the drawing (px).
"""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Point: TypeAlias = tuple[float, float]
Polyline: TypeAlias = tuple[Point, ...]

PARALLEL = 2e-4
"""Directions closer than this, radians, are one: 0.1 px over the diagonal of a drawing."""

BESIDE = 0.25
"""Parallel lines closer than this run into one stroke; the thinnest stroke is four times wider."""

SHORTEST = 0.05
"""Shorter strokes than this leave no mark."""

FLATNESS = 0.04
"""How far a polyline may pass by a point it leaves out."""


def without(segments: Floats, erased: Floats) -> Floats:
    """The parts of `segments` (n, 4) that do not lie on any of `erased` (m, 4)."""
    if not len(erased) or not len(segments):
        return segments
    kept: list[tuple[float, float, float, float]] = []
    for segment in segments:
        kept.extend(_left_over(segment, erased))
    return np.array(kept).reshape(-1, 4)


def _left_over(segment: Floats, erased: Floats) -> list[tuple[float, float, float, float]]:
    start, along = segment[:2], segment[2:] - segment[:2]
    length = float(np.hypot(*along))
    if length == 0:
        return []
    unit = along / length
    ends = erased.reshape(-1, 2, 2) - start
    beside = np.abs(ends[:, :, 0] * unit[1] - ends[:, :, 1] * unit[0])
    on_line = np.all(beside < 1e-5, axis=1)
    spans = np.sort(ends[on_line] @ unit, axis=1)
    left, at = [], 0.0
    for low, high in sorted((float(a), float(b)) for a, b in spans):
        if low > at:
            left.append((at, min(low, length)))
        at = max(at, high)
    if at < length:
        left.append((at, length))
    x, y = (float(c) for c in start)
    u, v = (float(c) for c in unit)
    return [(x + a * u, y + a * v, x + b * u, y + b * v) for a, b in left if b - a > 1e-6]


def strokes(segments: Floats) -> tuple[Polyline, ...]:
    """Polylines that cover the segments (n, 4), each line once, in a fixed order."""
    if not len(segments):
        return ()
    merged: list[tuple[Point, Point]] = []
    for line in _lines(segments):
        merged.extend(_covered(line))
    return tuple(_plain(chain) for chain in _chains(merged))


def _lines(segments: Floats) -> list[Floats]:
    """The segments grouped by the line they lie on."""
    angles = _angles(segments)
    found: list[Floats] = []
    for group in _runs(angles, PARALLEL):
        mean = float(angles[group[0]])
        unit = np.array([math.cos(mean), math.sin(mean)])
        middles = (segments[group, :2] + segments[group, 2:]) / 2
        offsets = middles[:, 1] * unit[0] - middles[:, 0] * unit[1]
        found.extend(segments[group[run]] for run in _runs(offsets, BESIDE))
    return found


def _angles(segments: Floats) -> Floats:
    """Directions without sense, counted from one that hardly a line has, so that none is split."""
    along = segments[:, 2:] - segments[:, :2]
    first = 1.2345
    angles: Floats = (np.arctan2(along[:, 1], along[:, 0]) - first) % math.pi + first
    return angles


def _runs(values: Floats, width: float) -> list[NDArray[np.int64]]:
    """Indices grouped so that values in a group differ by at most `width`."""
    order = np.argsort(values, kind="stable")
    groups: list[list[int]] = []
    least = -math.inf
    for index in order:
        if values[index] - least > width:
            groups.append([])
            least = float(values[index])
        groups[-1].append(int(index))
    return [np.array(group, dtype=np.int64) for group in groups]


def _covered(line: Floats) -> list[tuple[Point, Point]]:
    """The stretches that segments near one line cover together, drawn on the longest of them."""
    lengths = np.hypot(line[:, 2] - line[:, 0], line[:, 3] - line[:, 1])
    longest = line[int(np.argmax(lengths))]
    start, unit = longest[:2], (longest[2:] - longest[:2]) / float(np.max(lengths))
    spans = np.sort((line.reshape(-1, 2, 2) - start) @ unit, axis=1)
    joined: list[list[float]] = []
    for low, high in sorted((float(a), float(b)) for a, b in spans):
        if joined and low <= joined[-1][1] + SHORTEST:
            joined[-1][1] = max(joined[-1][1], high)
        else:
            joined.append([low, high])
    return [
        (_point(start + a * unit), _point(start + b * unit)) for a, b in joined if b - a >= SHORTEST
    ]


def _point(at: Floats) -> Point:
    return round(float(at[0]), 2) + 0.0, round(float(at[1]), 2) + 0.0


def _chains(segments: list[tuple[Point, Point]]) -> list[list[Point]]:
    """Segments strung together where exactly two of them meet."""
    meeting: dict[Point, list[int]] = {}
    for index, segment in enumerate(segments):
        for end in segment:
            meeting.setdefault(end, []).append(index)
    left = dict.fromkeys(range(len(segments)))
    chains = []
    while left:
        index = next(iter(left))
        del left[index]
        chain = list(segments[index])
        for _ in range(2):
            _grow(chain, segments, meeting, left)
            chain.reverse()
        chains.append(chain)
    return chains


def _grow(
    chain: list[Point],
    segments: list[tuple[Point, Point]],
    meeting: dict[Point, list[int]],
    left: dict[int, None],
) -> None:
    """Lengthen the chain from its last point for as long as one single segment goes on."""
    while len(meeting[chain[-1]]) == 2:
        after = [index for index in meeting[chain[-1]] if index in left]
        if len(after) != 1:
            return
        del left[after[0]]
        start, end = segments[after[0]]
        chain.append(end if start == chain[-1] else start)


def _plain(points: list[Point]) -> Polyline:
    """The polyline without points it passes within `FLATNESS` anyway (Douglas and Peucker)."""
    if len(points) < 3:
        return tuple(points)
    keep = {0, len(points) - 1}
    open_runs = [(0, len(points) - 1)]
    while open_runs:
        first, last = open_runs.pop()
        if last - first < 2:
            continue
        far, where = max(
            (_distance(points[k], points[first], points[last]), -k) for k in range(first + 1, last)
        )
        if far > FLATNESS:
            keep.add(-where)
            open_runs += [(first, -where), (-where, last)]
    return tuple(points[k] for k in sorted(keep))


def _distance(point: Point, start: Point, end: Point) -> float:
    """From a point to a segment."""
    along = (end[0] - start[0], end[1] - start[1])
    size = along[0] ** 2 + along[1] ** 2
    off = (point[0] - start[0], point[1] - start[1])
    t = 0.0 if size == 0 else (off[0] * along[0] + off[1] * along[1]) / size
    t = min(1.0, max(0.0, t))
    return math.dist(point, (start[0] + t * along[0], start[1] + t * along[1]))
