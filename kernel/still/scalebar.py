"""How long is a scale bar, and where are its ticks, in mm and in inches?"""

from __future__ import annotations

from ..figures import figure

BAR_HEIGHT = 52.0
"""The strip a scale bar takes under a figure, px."""

SHARE = 0.34
"""The bar is at most this share of the figure's width."""

CLOSEST = 30.0
"""Ticks are at least this far apart, px, so that their numbers stay apart."""

_STEPS_MM = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000)
_STEPS_IN = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 6, 12, 24, 48, 96)

STYLE = (
    "<style>.bar{stroke:#655F56;fill:none}.unit{fill:#655F56}"
    "@media(prefers-color-scheme:dark){.bar{stroke:#A79F93}.unit{fill:#A79F93}}</style>"
)


def scale_bar(x: float, y: float, px_per_mm: float, room: float, depth: str) -> list[str]:
    """SVG lines of a bar with its zero at (x, y) px: millimetres above the line, inches below, and
    at the right end of `room` px how depth is drawn against width and height.

    The bar stays within `SHARE` of the room, or is one tick long if even that does not fit.
    """
    millimetres = _ticks(px_per_mm, _STEPS_MM, SHARE * room)
    inches = _ticks(25.4 * px_per_mm, _STEPS_IN, SHARE * room)
    end = max(millimetres[-1][0], inches[-1][0])
    line = f"M{figure(x, 2)} {figure(y, 2)}h{figure(end, 2)}"
    ticks = "".join(
        f"M{figure(x + at, 2)} {figure(y, 2)}v{tall}"
        for marks, tall in ((millimetres, -5), (inches, 5))
        for at, _ in marks
    )
    return [
        STYLE,
        f'<path class="bar" stroke="#655F56" fill="none" d="{line}{ticks}"/>',
        '<g class="unit" fill="#655F56" font-size="12" text-anchor="middle"'
        ' font-family="system-ui,Helvetica,Arial,sans-serif">',
        *_labels(millimetres, x, y - 9, "mm"),
        *_labels(inches, x, y + 18, "in"),
        f'<text x="{figure(x + room, 2)}" y="{figure(y + 4, 2)}" text-anchor="end">{depth}</text>',
        "</g>",
    ]


def _ticks(px: float, steps: tuple[float, ...], longest: float) -> list[tuple[float, float]]:
    """(px from zero, value) of each tick of a unit that is `px` long."""
    step = next((s for s in steps if s * px >= CLOSEST), steps[-1])
    count = max(1, min(5, int(longest // (step * px))))
    return [(k * step * px, k * step) for k in range(count + 1)]


def _labels(marks: list[tuple[float, float]], x: float, y: float, unit: str) -> list[str]:
    """Numbers over or under the ticks, the unit after the last."""
    past = x + marks[-1][0] + 5 + 3.6 * len(figure(marks[-1][1], 4))
    beside = f'<text x="{figure(past, 2)}" y="{figure(y, 2)}"'
    return [
        f'<text x="{figure(x + at, 2)}" y="{figure(y, 2)}">{figure(value, 4)}</text>'
        for at, value in marks
    ] + [f'{beside} text-anchor="start">{unit}</text>']
