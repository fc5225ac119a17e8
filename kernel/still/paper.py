"""How does the piece lie on the paper: from where is it seen, and how large is it drawn?

The projection is dimetric and the same for every piece: from the front, right and above, width and
height to one scale and depth to two thirds of it, so that one scale bar holds for width and height.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .hidden import Seen
from .scalebar import BAR_HEIGHT

Floats = NDArray[np.float64]

DEPTH = 2 / 3
"""How long depth is drawn against width and height."""

DEPTH_SAID = "depth × 2/3"

MARGIN = 6.0
"""Round the figure, px."""

NARROWEST = 260.0
"""A paper never gets narrower than the scale bar with its words needs, px."""


def view() -> Floats:
    """Rows: the directions to the right, up and towards the viewer.

    Turned by a and raised by e, an orthographic view draws width at √(cos²a + sin²a sin²e), depth
    at √(sin²a + cos²a sin²e) and height at cos e. Width equals height when sin a = tan e; depth is
    then √2 sin e, a share √2 tan e of the others.
    """
    e = math.atan(DEPTH / math.sqrt(2))
    a = math.asin(math.tan(e))
    return np.array(
        [
            [math.cos(a), math.sin(a), 0.0],
            [-math.sin(a) * math.sin(e), math.cos(a) * math.sin(e), math.cos(e)],
            [math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e)],
        ]
    )


def along_width() -> float:
    """How long a millimetre of width or height is drawn, mm."""
    return math.cos(math.atan(DEPTH / math.sqrt(2)))


@dataclass(frozen=True, slots=True)
class Sheet:
    """How view coordinates lie on the paper: px = `scale` mm, y down, the figure's upper left
    `corner` at the margin and `left` px. `size` is the figure with its margins."""

    scale: float
    corner: tuple[float, float]
    size: tuple[float, float]
    left: float

    def put(self, points: Floats) -> Floats:
        """Points (n, 2) in px."""
        x = (points[:, 0] - self.corner[0]) * self.scale + MARGIN + self.left
        y = (self.corner[1] - points[:, 1]) * self.scale + MARGIN
        return np.stack([x, y], axis=1)


def sheet_for(
    seen: tuple[Seen, ...], width: float, height: float, most: float, narrowest: float = NARROWEST
) -> Sheet:
    """The largest figure within `width` by `height` px, its scale bar included, and of no more than
    `most` px a mm."""
    boxes = np.array([s.face.box for s in seen])
    left, low = boxes[:, :2].min(axis=0)
    right, high = boxes[:, 2:].max(axis=0)
    wide, tall = width - 2 * MARGIN, height - 2 * MARGIN - BAR_HEIGHT
    scale = float(min(wide / (right - left), tall / (high - low), most))
    figure_wide, figure_tall = float(right - left) * scale, float(high - low) * scale
    size = (max(figure_wide + 2 * MARGIN, narrowest), figure_tall + 2 * MARGIN)
    beside = (size[0] - 2 * MARGIN - figure_wide) / 2
    return Sheet(scale, (float(left), float(high)), size, beside)
