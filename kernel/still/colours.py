"""Which colour has each board, and each face of it by the way it looks?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..export.scene import Part
from ..tones import WHITE, Colour, mixed, wood_tone

Floats = NDArray[np.float64]

SHADE: Colour = (0.25, 0.18, 0.11)
"""What is mixed into wood where it lies in the shade; warmer than ink."""

STEPS = (0.0, -0.055, 0.05, -0.1, 0.095)
"""Lightness of neighbouring boards: a share of white, or of shade where negative."""

LEVEL = 0.02
"""Shades are told apart in steps of this, so that a curve has a few tones and not dozens."""

TOUCHING = 0.5
"""Boards whose boxes come this close, mm, are neighbours."""


def board_colours(made: tuple[Part, ...]) -> tuple[Colour, ...]:
    """The wood's tone of each board, a step off that of the boards before it that it touches."""
    placed = [part.put_points for part in made]
    lows = np.array([points.min(axis=0) for points in placed]) - TOUCHING / 2
    highs = np.array([points.max(axis=0) for points in placed]) + TOUCHING / 2
    chosen: list[int] = []
    for index in range(len(made)):
        beside = np.all((lows[:index] < highs[index]) & (highs[:index] > lows[index]), axis=1)
        taken = [chosen[other] for other in np.flatnonzero(beside)]
        chosen.append(min(range(len(STEPS)), key=lambda step: (taken.count(step), step)))
    return tuple(
        _lighter(wood_tone(part.stock), STEPS[step])
        for part, step in zip(made, chosen, strict=True)
    )


def _lighter(colour: Colour, step: float) -> Colour:
    return mixed(colour, WHITE, step) if step > 0 else mixed(colour, SHADE, -step)


def face_colour(colour: Colour, normal: Floats) -> Colour:
    """The board's colour on a face looking along `normal` in the finished piece: untouched on top,
    0.10 of shade in front, 0.22 at the right, in between where it is turned or curved."""
    share = 0.30 - 0.08 * normal[0] + 0.20 * normal[1] - 0.30 * normal[2]
    level = round(float(min(0.5, max(0.0, share))) / LEVEL)
    return mixed(colour, SHADE, level * LEVEL)
