"""How does wood show on the face of a board?

Fine lines along the board on its broad faces, plies on the edges of sheets, year rings on the ends
of lumber: a drawing that lets the reader see which way a board runs. All of it is worked out from
the board's flat frame (length, width, thickness) and a fixed sequence of numbers, so the figure of
a board is the same on every face of it and in every run.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from ..stock import Stock

Floats = NDArray[np.float64]
Line: TypeAlias = Floats
"""Points (n, 2) in the plane of a face, mm."""


class Figure(Enum):
    """What shows on a board's faces."""

    PLIES = "plies"
    SOLID = "solid"
    PLAIN = "plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """A board's figure: `number` tells boards apart, sizes in mm, `fine` is the least distance
    between two lines that a drawing can show, mm."""

    figure: Figure
    number: int
    length: float
    width: float
    thick: float
    fine: float


def figure_of(stock: Stock) -> Figure:
    """Read off the words of species and stock: `ply12` shows plies, `mdf` nothing, `oak` grain."""
    said = set(re.split(r"[^a-z]+", f"{stock.species or ''} {stock.name}".lower()))
    if said & {"mdf", "hdf", "hardboard", "chipboard"}:
        return Figure.PLAIN
    return Figure.PLIES if said & {"ply", "plywood"} else Figure.SOLID


def plies(wood: Wood) -> tuple[tuple[float, float], ...]:
    """The runs of thickness, mm from the face, of every second ply.

    About 1.4 mm a ply (common practice for birch plywood), fewer where they could not be drawn;
    always an odd number.
    """
    if wood.figure is not Figure.PLIES:
        return ()
    count = int(min(wood.thick / 1.4, wood.thick / wood.fine))
    count = max(3, count - 1 + count % 2)
    step = wood.thick / count
    return tuple((k * step, (k + 1) * step) for k in range(1, count, 2))


def face_lines(wood: Wood, normal: int) -> tuple[Line, ...]:
    """The lines on a face square to flat axis `normal` (0 length, 1 width, 2 thickness), in the
    other two axes in ascending order."""
    match wood.figure, normal:
        case ((Figure.SOLID | Figure.PLIES), 2):
            return tuple(_along(wood, wood.width, 5.0, 0))
        case Figure.SOLID, 1:
            return tuple(_along(wood, wood.thick, 2.2, 1))
        case Figure.SOLID, 0:
            return tuple(_rings(wood))
    return ()


def _along(wood: Wood, across: float, spacing: float, kind: int) -> Iterator[Line]:
    """Broken lines along the board at uneven distances, `spacing` times `fine` on average."""
    numbers = _numbers(2 * wood.number + kind)
    step = spacing * wood.fine
    at = step * (0.3 + 0.7 * next(numbers))
    while at < across:
        along = -60 * wood.fine * next(numbers)
        while along < wood.length:
            end = along + wood.fine * (25 + 90 * next(numbers))
            if end > 0:
                yield np.array([(max(along, 0.0), at), (min(end, wood.length), at)])
            along = end + wood.fine * (6 + 30 * next(numbers))
        at += step * (0.45 + 1.1 * next(numbers))


def _rings(wood: Wood) -> Iterator[Line]:
    """Arcs round a heart that lies under the board."""
    numbers = _numbers(5 * wood.number + 3)
    heart = wood.width * (0.25 + 0.5 * next(numbers))
    under = wood.thick * (0.4 + 0.8 * next(numbers))
    farthest = math.hypot(max(heart, wood.width - heart), wood.thick + under)
    radius = under
    while radius < farthest:
        radius += 1.9 * wood.fine * (0.7 + 0.6 * next(numbers))
        half = math.acos(min(1.0, under / radius))
        count = max(2, min(24, math.ceil(2 * half * math.sqrt(radius / (0.4 * wood.fine)))))
        angles = np.linspace(-half, half, count + 1)
        yield np.stack([heart + radius * np.sin(angles), radius * np.cos(angles) - under], axis=1)


def _numbers(seed: int) -> Iterator[float]:
    """An endless fixed sequence in 0..1 (the minimal standard generator of Park and Miller)."""
    state = (seed * 7919 + 104729) % 2147483646 + 1
    while True:
        state = state * 48271 % 2147483647
        yield state / 2147483647


def inside(line: Line, loops: tuple[Floats, ...]) -> tuple[Line, ...]:
    """The pieces of a line, (n, 2), that lie within closed loops by the even-odd rule."""
    starts = np.concatenate(loops)
    ends = np.concatenate([np.roll(loop, -1, axis=0) for loop in loops])
    pieces: list[list[Floats]] = []
    for tail, head in pairwise(line):
        for low, high in _inner_runs(tail, head, starts, ends):
            p, q = tail + low * (head - tail), tail + high * (head - tail)
            if pieces and low == 0.0 and np.array_equal(pieces[-1][-1], p):
                pieces[-1].append(q)
            else:
                pieces.append([p, q])
    return tuple(np.array(piece) for piece in pieces)


def _inner_runs(
    tail: Floats, head: Floats, starts: Floats, ends: Floats
) -> list[tuple[float, float]]:
    """The shares of a segment inside, by counting borders crossed on the way from far off."""
    along = head - tail
    size = float(along @ along)
    if size == 0.0:
        return []
    off = (starts - tail) @ np.array([-along[1], along[0]]) > 0
    off_end = (ends - tail) @ np.array([-along[1], along[0]]) > 0
    crossed = off != off_end
    a, b = starts[crossed] - tail, ends[crossed] - tail
    side_a = a[:, 1] * along[0] - a[:, 0] * along[1]
    side_b = b[:, 1] * along[0] - b[:, 0] * along[1]
    share = side_a / (side_a - side_b)
    at = np.sort(((a + share[:, None] * (b - a)) @ along) / size)
    runs = zip(at[::2].tolist(), at[1::2].tolist(), strict=True)
    return [(max(0.0, p), min(1.0, q)) for p, q in runs if min(1.0, q) > max(0.0, p)]
