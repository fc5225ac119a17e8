"""How are lines and loops in px written as SVG path data?

Hundredths of a px, each step counted from the rounded point before, so that rounding never adds up.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ..figures import figure
from .strokes import Polyline

Floats = NDArray[np.float64]


def closed(loops: tuple[Floats, ...]) -> str:
    """Path data of closed loops, those under a hundredth of a square px left out."""
    return "".join(f"{along(loop)}z" for loop in loops if abs(signed_area(loop)) > 0.01)


def opened(lines: tuple[Polyline, ...]) -> str:
    """Path data of open lines."""
    return "".join(_run(line) for line in lines)


def along(points: Floats) -> str:
    """Path data through points (n, 2)."""
    return _run(tuple((float(x), float(y)) for x, y in points))


def _run(points: Polyline) -> str:
    """Path data through the points: hundredths of a px, each step counted from the last."""
    at = [(round(100 * float(x)), round(100 * float(y))) for x, y in points]
    text = f"M{_cents(at[0][0])}{_after(at[0][1])}"
    for (x0, y0), (x1, y1) in pairwise(at):
        if (x0, y0) == (x1, y1):
            continue
        if x0 == x1:
            text += f"v{_cents(y1 - y0)}"
        elif y0 == y1:
            text += f"h{_cents(x1 - x0)}"
        else:
            text += f"l{_cents(x1 - x0)}{_after(y1 - y0)}"
    return text


def _cents(hundredths: int) -> str:
    text = figure(hundredths / 100, 2)
    return text.replace("0.", ".", 1) if text.lstrip("-").startswith("0.") else text


def _after(hundredths: int) -> str:
    """A second number, parted from the first."""
    text = _cents(hundredths)
    return text if text.startswith("-") else f" {text}"


def signed_area(loop: Floats) -> float:
    """The area, positive counterclockwise."""
    after = np.roll(loop, -1, axis=0)
    return float(np.sum(loop[:, 0] * after[:, 1] - after[:, 0] * loop[:, 1])) / 2
