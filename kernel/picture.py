"""What does the finished piece look like?

In comes a `CutPlan`, out goes one still picture as SVG text: all boards put down, seen from the
front, right and above, hidden surfaces truly removed, with a scale bar. It needs no browser and
stands on any paper: nothing is painted behind the piece.

This module only puts the parts of the picture together; `still/` makes each of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from .export.scene import Part, parts
from .figures import figure
from .plan import CutPlan
from .shadows import Vector
from .still.arrow import arrow_paths
from .still.colours import board_colours, face_colour
from .still.flats import Flat, flat_loops, flat_simple, flat_union
from .still.hidden import Mesh, Seen, seen_faces
from .still.laid import figure_paths
from .still.paper import DEPTH_SAID, MARGIN, NARROWEST, Sheet, along_width, sheet_for, view
from .still.pathdata import closed, opened
from .still.scalebar import BAR_HEIGHT, scale_bar
from .still.strokes import strokes, without
from .tones import INK, hex_of
from .xmltext import xml_text

Floats = NDArray[np.float64]

PICTURE_CHORD = 0.02
"""Greatest distance between an arc and its chord, mm: a fiftieth of a pixel on most pictures, and
steps of less than 25 degrees on every bit from 0.4 mm radius up."""

OUTLINE = 1.9
EDGE = 0.95
"""Strokes in px: 0.5 mm and 0.25 mm at 96 px an inch."""

SHEET_BAR = 320.0
"""Room for the scale bar of a sheet and its words, px."""

FINEST = 0.05
"""Corners that stray less than this, px, from the line past them are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing without a frame: SVG elements `width` by `height` px, at `scale` px a mm."""

    name: str
    body: tuple[str, ...]
    width: float
    height: float
    scale: float


def picture(
    plan: CutPlan,
    *,
    width: float = 760.0,
    height: float = 760.0,
    apart: float = 0.0,
    most: float = math.inf,
) -> str:
    """The piece as SVG, at most `width` by `height` px and `most` px a mm.

    `apart` moves every board away from the middle of the piece by this many times the way it
    lies off it: 0 is the finished piece.
    """
    made = _moved_apart(parts(plan, PICTURE_CHORD), apart)
    return with_scale_bar(_drawn(plan.design.name, made, (width, height, most, NARROWEST), None))


def figure_of(
    plan: CutPlan, *, most: float, arrow: tuple[Vector, Vector] | None = None, least: float = 0.0
) -> Figure:
    """The piece at `most` px a mm, on a paper at least `least` px wide, with an arrow from one
    point of space to another laid over it."""
    made = parts(plan, PICTURE_CHORD)
    return _drawn(plan.design.name, made, (math.inf, math.inf, most, least), arrow)


def with_scale_bar(drawn: Figure) -> str:
    """A figure as an SVG document of its own."""
    if not drawn.body:
        return document(drawn.name, (drawn.width, drawn.height), [])
    bar = scale_bar(
        MARGIN,
        drawn.height + BAR_HEIGHT / 2,
        drawn.scale * along_width(),
        drawn.width - 2 * MARGIN,
        DEPTH_SAID,
    )
    return document(drawn.name, (drawn.width, drawn.height + BAR_HEIGHT), [*drawn.body, *bar])


def sight() -> Vector:
    """The direction towards the reader, of length 1."""
    x, y, z = (float(c) for c in view()[2])
    return x, y, z


def bar_of(scale: float) -> tuple[str, float, float]:
    """A scale bar for a sheet of many figures at `scale` px a mm, on a ground of its own: SVG
    elements, width and height in px."""
    _, *bar = scale_bar(0.0, BAR_HEIGHT / 2, scale * along_width(), SHEET_BAR, DEPTH_SAID)
    return "".join(bar), SHEET_BAR, BAR_HEIGHT


def _drawn(
    name: str,
    made: tuple[Part, ...],
    room: tuple[float, float, float, float],
    arrow: tuple[Vector, Vector] | None,
) -> Figure:
    """`room`: greatest width and height, most px a mm, least width."""
    turn = view()
    seen = seen_faces(tuple(Mesh(part.put_points @ turn.T, part.triangles) for part in made))
    if not seen:
        return Figure(name=name, body=(), width=2 * MARGIN, height=2 * MARGIN, scale=1.0)
    sheet = sheet_for(seen, *room)
    body = (
        *_fills(seen, made, turn, sheet),
        *figure_paths(seen, made, turn, sheet),
        *_lines(seen, sheet),
        *(() if arrow is None else arrow_paths(sheet.put(np.array(arrow) @ turn.T[:, :2]))),
    )
    width, height = sheet.size
    return Figure(name=name, body=body, width=width, height=height, scale=sheet.scale)


def _moved_apart(made: tuple[Part, ...], apart: float) -> tuple[Part, ...]:
    if not made or apart == 0.0:
        return made
    boxes = [(p.put_points.min(axis=0), p.put_points.max(axis=0)) for p in made]
    middles = [(low + high) / 2 for low, high in boxes]
    centre = (np.min(middles, axis=0) + np.max(middles, axis=0)) / 2
    moved = []
    for part, middle in zip(made, middles, strict=True):
        put = part.put.copy()
        put[:3, 3] += (middle - centre) * apart
        moved.append(replace(part, put=put))
    return tuple(moved)


def _fills(seen: tuple[Seen, ...], made: tuple[Part, ...], turn: Floats, sheet: Sheet) -> list[str]:
    """One group a board, in it one path a tone; strokes of the same tone close the hairlines that
    smoothing leaves between two paths."""
    colours = board_colours(made)
    tones: dict[int, dict[str, list[Flat]]] = {}
    for s in seen:
        body = s.face.body
        tone = hex_of(face_colour(colours[body], np.array(s.face.normal) @ turn))
        tones.setdefault(body, {}).setdefault(tone, []).append(s.region)
    groups = []
    for body, flats in sorted(tones.items()):
        name = xml_text(made[body].plan.board.name)
        paths = "".join(
            f'<path fill="{tone}" stroke="{tone}" d="{_shape(flats[tone], sheet)}"/>'
            for tone in sorted(flats)
        )
        groups.append(f'<g data-board="{name}"><title>{name}</title>{paths}</g>')
    return ['<g stroke-width=".4" stroke-linejoin="round">', *groups, "</g>"]


def _shape(flats: list[Flat], sheet: Sheet) -> str:
    """Path data of what the shapes cover together."""
    shape = flat_simple(flat_union(tuple(flats)), FINEST / sheet.scale)
    return closed(tuple(sheet.put(loop) for loop in flat_loops(shape)))


def _lines(seen: tuple[Seen, ...], sheet: Sheet) -> list[str]:
    """Edges as thin strokes, the outline of the whole piece as thick ones."""
    edges = np.concatenate([_borders(s) for s in seen])
    edges = np.concatenate([sheet.put(edges[:, :2]), sheet.put(edges[:, 2:])], axis=1)
    outline = _shape([s.face.whole for s in seen], sheet)
    ink = f'fill="none" stroke="{hex_of(INK)}" stroke-linejoin="round" stroke-linecap="round"'
    return [
        f'<path {ink} stroke-width="{EDGE}" d="{opened(strokes(edges))}"/>',
        f'<path {ink} stroke-width="{OUTLINE}" d="{outline}"/>',
    ]


def _borders(s: Seen) -> Floats:
    """The border of what is seen of a face, less the steps of a curve, (n, 4) in mm."""
    sides = [np.concatenate([loop, np.roll(loop, -1, axis=0)], axis=1) for loop in s.loops]
    return without(np.concatenate(sides), np.array(s.face.steps).reshape(-1, 4))


def document(name: str, size: tuple[float, float], body: list[str]) -> str:
    """An SVG document of so many px, titled."""
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
