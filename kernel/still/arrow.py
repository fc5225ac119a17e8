"""How is the way home of a part drawn? As a thin arrow over the figure."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ..figures import figure
from ..tones import INK, hex_of

Floats = NDArray[np.float64]

THIN = 1.1
LONG, WIDE = 9.0, 6.0
"""The stroke and the head, px."""


def arrow_paths(ends: Floats) -> list[str]:
    """SVG of an arrow from the first of two points (2, 2), px, to the second; nothing where they
    lie closer together than a head is long."""
    (x0, y0), (x1, y1) = ((float(x), float(y)) for x, y in ends)
    size = math.hypot(x1 - x0, y1 - y0)
    if size < LONG:
        return []
    u, v = (x1 - x0) / size, (y1 - y0) / size
    foot = (x1 - LONG * u, y1 - LONG * v)
    left = (foot[0] - WIDE / 2 * v, foot[1] + WIDE / 2 * u)
    right = (foot[0] + WIDE / 2 * v, foot[1] - WIDE / 2 * u)
    ink = hex_of(INK)
    head = "L".join(_said(p) for p in ((x1, y1), left, right))
    return [
        f'<path fill="none" stroke="{ink}" stroke-width="{THIN}" d="M{_said((x0, y0))}'
        f'L{_said(foot)}"/>',
        f'<path fill="{ink}" d="M{head}Z"/>',
    ]


def _said(p: tuple[float, float]) -> str:
    return f"{figure(p[0], 1)} {figure(p[1], 1)}"
