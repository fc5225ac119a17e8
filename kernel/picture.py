"""What does the finished piece look like?

In comes a `CutPlan`, out goes one still picture as SVG text: all boards put down, seen from the
front, right and above, hidden surfaces truly removed, with a scale bar. It needs no browser and
stands on any paper: nothing is painted behind the piece.

The projection is dimetric: width and height are drawn to one scale, depth to two thirds of it (see
`View`), so that the scale bar holds for width and height alike.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from .export.scene import Part, parts
from .figures import figure
from .flats import Flat, flat_loops, flat_simple, flat_union
from .hidden import Mesh, Seen, seen_faces
from .plan import CutPlan
from .scalebar import BAR_HEIGHT, scale_bar
from .strokes import Polyline, strokes, without
from .tones import INK, WHITE, Colour, hex_of, mixed, wood_tone
from .xmltext import xml_text

Floats = NDArray[np.float64]

DEPTH = 2 / 3
"""How long depth is drawn against width and height."""

PICTURE_CHORD = 0.02
"""Greatest distance between an arc and its chord, mm: a fiftieth of a pixel on most pictures, and
steps of less than 25 degrees on every bit from 0.4 mm radius up."""

MARGIN = 6.0
OUTLINE = 1.9
EDGE = 0.95
"""Strokes in px: 0.5 mm and 0.25 mm at 96 px an inch."""

STEPS = (0.0, -0.055, 0.05, -0.1, 0.095)
"""Lightness of neighbouring boards: a share of white, or of ink where negative."""


def picture(
    plan: CutPlan, *, width: float = 760.0, height: float = 760.0, apart: float = 0.0
) -> str:
    """The piece as SVG, at most `width` by `height` px.

    `apart` moves every board away from the middle of the piece by this many times the way it
    lies off it: 0 is the finished piece.
    """
    made = parts(plan, PICTURE_CHORD)
    view = _view()
    worlds = _spread([part.put_points for part in made], apart)
    meshes = tuple(
        Mesh(points @ view.T, part.triangles) for points, part in zip(worlds, made, strict=True)
    )
    seen = seen_faces(meshes)
    if not seen:
        return _document(plan.design.name, (2 * MARGIN, 2 * MARGIN), [])
    sheet = _sheet(seen, width, height)
    colours = _board_colours(made, worlds)
    body = [
        *_fills(seen, made, colours, view, sheet),
        *_lines(seen, sheet),
        *scale_bar(MARGIN, sheet.size[1] + BAR_HEIGHT / 2, sheet.scale * _along_width(), sheet.bar),
    ]
    return _document(plan.design.name, (sheet.size[0], sheet.size[1] + BAR_HEIGHT), body)


@dataclass(frozen=True, slots=True)
class Sheet:
    """How view coordinates lie on the paper: px = `scale` mm, the figure's upper left `corner` at
    the margin, y down. `size` is the figure with its margins, `bar` the room for the scale bar."""

    scale: float
    corner: tuple[float, float]
    size: tuple[float, float]
    bar: float

    def put(self, points: Floats) -> Floats:
        """Points (n, 2) in px."""
        x = (points[:, 0] - self.corner[0]) * self.scale + MARGIN
        y = (self.corner[1] - points[:, 1]) * self.scale + MARGIN
        return np.stack([x, y], axis=1)


def _view() -> Floats:
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


def _along_width() -> float:
    """How long width and height are drawn."""
    return math.cos(math.atan(DEPTH / math.sqrt(2)))


def _spread(worlds: list[Floats], apart: float) -> list[Floats]:
    if not worlds or apart == 0.0:
        return worlds
    middles = [(points.min(axis=0) + points.max(axis=0)) / 2 for points in worlds]
    centre = (np.min(middles, axis=0) + np.max(middles, axis=0)) / 2
    return [
        points + (middle - centre) * apart for points, middle in zip(worlds, middles, strict=True)
    ]


def _sheet(seen: tuple[Seen, ...], width: float, height: float) -> Sheet:
    boxes = np.array([s.face.box for s in seen])
    left, low = boxes[:, :2].min(axis=0)
    right, high = boxes[:, 2:].max(axis=0)
    wide, tall = width - 2 * MARGIN, height - 2 * MARGIN - BAR_HEIGHT
    scale = float(min(wide / (right - left), tall / (high - low)))
    size = (right - left) * scale + 2 * MARGIN, (high - low) * scale + 2 * MARGIN
    return Sheet(
        scale,
        (float(left), float(high)),
        (float(size[0]), float(size[1])),
        float(size[0] - 2 * MARGIN),
    )


def _board_colours(made: tuple[Part, ...], worlds: list[Floats]) -> list[Colour]:
    """The wood's tone of each board, a step off that of the boards before it that it touches."""
    lows = np.array([points.min(axis=0) for points in worlds]) - 0.5
    highs = np.array([points.max(axis=0) for points in worlds]) + 0.5
    chosen: list[int] = []
    for index in range(len(made)):
        beside = np.all((lows[:index] < highs[index]) & (highs[:index] > lows[index]), axis=1)
        taken = [chosen[other] for other in np.flatnonzero(beside)]
        chosen.append(min(range(len(STEPS)), key=lambda step: (taken.count(step), step)))
    return [
        _lighter(wood_tone(part.stock), STEPS[step])
        for part, step in zip(made, chosen, strict=True)
    ]


def _lighter(colour: Colour, step: float) -> Colour:
    return mixed(colour, WHITE, step) if step > 0 else mixed(colour, INK, -step)


def _shade(normal: Floats) -> float:
    """The share of ink on a face by its direction in the piece: 0 on top, 0.09 in front, 0.22 at
    the right, and in between for what is turned or curved."""
    share = 0.29 - 0.07 * normal[0] + 0.20 * normal[1] - 0.29 * normal[2]
    return round(float(min(0.5, max(0.0, share))) / 0.02) * 0.02


def _fills(
    seen: tuple[Seen, ...],
    made: tuple[Part, ...],
    colours: list[Colour],
    view: Floats,
    sheet: Sheet,
) -> list[str]:
    """One group a board, in it one path a tone."""
    tones: dict[int, dict[str, list[Flat]]] = {}
    for s in seen:
        normal = np.array(s.face.normal) @ view
        tone = hex_of(mixed(colours[s.face.body], INK, _shade(normal)))
        tones.setdefault(s.face.body, {}).setdefault(tone, []).append(s.region)
    groups = []
    for body in sorted(tones):
        paths = []
        for tone, flats in sorted(tones[body].items()):
            shape = flat_simple(flat_union(tuple(flats)), 0.05 / sheet.scale)
            data = _closed(tuple(sheet.put(loop) for loop in flat_loops(shape)))
            if data:
                paths.append(f'<path fill="{tone}" stroke="{tone}" d="{data}"/>')
        name = xml_text(made[body].plan.board.name)
        groups.append(f'<g data-board="{name}"><title>{name}</title>{"".join(paths)}</g>')
    return ['<g stroke-width=".4" stroke-linejoin="round">', *groups, "</g>"]


def _lines(seen: tuple[Seen, ...], sheet: Sheet) -> list[str]:
    """Edges as thin strokes, the outline of the whole piece as thick ones."""
    segments = [_borders(s) for s in seen]
    edges = np.concatenate(segments)
    edges = np.concatenate([sheet.put(edges[:, :2]), sheet.put(edges[:, 2:])], axis=1)
    whole = flat_simple(flat_union(tuple(s.face.whole for s in seen)), 0.05 / sheet.scale)
    outline = tuple(sheet.put(loop) for loop in flat_loops(whole))
    ink = f'fill="none" stroke="{hex_of(INK)}" stroke-linejoin="round" stroke-linecap="round"'
    return [
        f'<path {ink} stroke-width="{EDGE}" d="{_open(strokes(edges))}"/>',
        f'<path {ink} stroke-width="{OUTLINE}" d="{_closed(outline)}"/>',
    ]


def _borders(s: Seen) -> Floats:
    """The border of what is seen of a face, less the steps of a curve, (n, 4) in mm."""
    sides = [np.concatenate([loop, np.roll(loop, -1, axis=0)], axis=1) for loop in s.loops]
    return without(np.concatenate(sides), np.array(s.face.steps).reshape(-1, 4))


def _closed(loops: tuple[Floats, ...]) -> str:
    """Path data of closed loops, those under a hundredth of a square px left out."""
    return "".join(f"{_run([(p[0], p[1]) for p in loop])}z" for loop in loops if _size(loop) > 0.01)


def _open(lines: tuple[Polyline, ...]) -> str:
    return "".join(_run(list(line)) for line in lines)


def _run(points: list[tuple[float, float]]) -> str:
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


def _size(loop: Floats) -> float:
    after = np.roll(loop, -1, axis=0)
    return abs(float(np.sum(loop[:, 0] * after[:, 1] - after[:, 0] * loop[:, 1]))) / 2


def _document(name: str, size: tuple[float, float], body: list[str]) -> str:
    wide, tall = (figure(math.ceil(c), 0) for c in size)
    title = xml_text(name)
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{tall}"'
            f' viewBox="0 0 {wide} {tall}" role="img">',
            f"<title>{title}</title>",
            *body,
            "</svg>",
            "",
        ]
    )
