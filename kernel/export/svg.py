"""The profiles as SVG, one file a part.

One user unit is one millimetre. The blank seen on face A has its upper left at 0, 0 of the user
coordinates; the y axis is turned over in the numbers, never by a transform. Arcs stay arcs. A
group is an operation (its `id` the layer's name); a figure's `data-` attributes name the bit and
the joints it is for. Every line has one colour: it never says what is cut or how deep.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from ..figures import figure
from ..plan import CutPlan
from ..profile import profiles
from ..region import Arc, Edge, Loop, Point2, Region, moved
from ..xmltext import xml_text
from .drawing import Drawing, Layer, Patch, Stroke, Words, drawing, full_circle
from .names import part_stems

INK = "#23211E"
DIGITS = 4

WIDEST_ARC = math.radians(100)
"""An SVG arc is told by its ends and radius alone: near a half turn its centre is badly
determined by figures cut to 4 decimals, so wider arcs are written as equal parts."""


def svg_files(plan: CutPlan) -> dict[str, bytes]:
    """`<part>.svg` for every board of the plan, in its order."""
    stems = part_stems(plan)
    return {f"{stems[p.board]}.svg": part_svg(drawing(p), stems[p.board]) for p in profiles(plan)}


def part_svg(page: Drawing, stem: str) -> bytes:
    """One part's file; `stem`, a plain file name, is the root of its ids."""
    length, width, thick = (_number(size) for size in page.blank)
    turned = page.blank[1]
    wide, tall = page.high[0] - page.low[0], page.high[1] - page.low[1]
    box = " ".join(_number(v) for v in (page.low[0], turned - page.high[1], wide, tall))
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" id="part-{xml_text(stem)}" '
        f'width="{_number(wide)}mm" height="{_number(tall)}mm" viewBox="{box}" '
        f'data-blank-mm="{length} {width} {thick}" fill="none" stroke="{INK}">',
        f"<title>{xml_text(page.part)}</title>",
        f"<desc>{xml_text(page.about)}</desc>",
        *(line for layer in page.layers for line in _group(layer, f"part-{stem}", turned)),
        "</svg>",
    ]
    return ("\n".join(lines) + "\n").encode()


# -- groups and figures --------------------------------------------------------------------------


def _group(layer: Layer, stem: str, turned: float) -> Iterable[str]:
    """A layer as lines of text; y becomes `turned` less y."""
    yield f'<g id="{layer.name}"{_facts(layer)} stroke-width="{_weight(layer)}">'
    for number, patch in enumerate(layer.patches, start=1):
        yield from _figure(patch, f"{xml_text(stem)}.{layer.name}.{number}", turned)
    for stroke in layer.strokes:
        yield f'<path d="{_stroke_path(stroke, turned)}"/>'
    for words in layer.words:
        yield _text(words, turned)
    yield "</g>"


def _facts(layer: Layer) -> str:
    if layer.operation is None:
        return ' data-use="read, do not cut"' + (' stroke-dasharray="4 2"' if layer.patches else "")
    operation = layer.operation
    depth = "through" if operation.depth is None else _number(operation.depth)
    facts = {"face": operation.face.value, "depth-mm": depth, "bits": _listed(operation.bits)}
    if operation.slant:
        facts["walls-degrees"] = _number(operation.slant)
    return "".join(f' data-{name}="{xml_text(value)}"' for name, value in facts.items())


def _weight(layer: Layer) -> str:
    """What goes right through is drawn twice as heavy as what does not."""
    through = layer.operation is not None and layer.operation.depth is None
    return "0.5" if through else "0.25"


def _figure(patch: Patch, name: str, turned: float) -> Iterable[str]:
    facts = f' id="{name}"'
    if patch.bits:
        facts += f' data-bits="{xml_text(_listed(patch.bits))}"'
    if patch.joints:
        facts += f' data-joints="{xml_text(_listed(patch.joints))}"'
    title = f"<title>{xml_text(_listed(patch.joints))}</title>" if patch.joints else ""
    down = moved(patch.region, lambda p: (p[0], turned - p[1]), mirrored=True)
    circle = _circle(down)
    if circle is not None:
        (x, y), radius = circle
        at = f'cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}"'
        yield f"<circle{facts} {at}>{title}</circle>"
    else:
        path = " ".join(_loop_path(loop) for loop in down.loops)
        yield f'<path{facts} fill-rule="evenodd" d="{path}">{title}</path>'


def _listed(names: tuple[str, ...]) -> str:
    """Joints' names have spaces and commas of their own."""
    return "; ".join(names)


def _text(words: Words, turned: float) -> str:
    x, y = words.at
    anchor = ' text-anchor="middle"' if words.centred else ""
    return (
        f'<text x="{_number(x)}" y="{_number(turned - y)}" font-size="{_number(words.height)}"'
        f'{anchor} fill="{INK}" stroke="none">{xml_text(words.text)}</text>'
    )


# -- numbers and paths ---------------------------------------------------------------------------


def _stroke_path(stroke: Stroke, turned: float) -> str:
    start, end = ((p[0], turned - p[1]) for p in (stroke.start, stroke.end))
    return f"M{_point(start)} L{_point(end)}"


def _loop_path(loop: Loop) -> str:
    """Absolute M, L, A and Z; in these coordinates y is already down."""
    pieces = [f"M{_point(loop[0].start)}", *(_edge_path(edge) for edge in loop)]
    if not isinstance(loop[-1], Arc):
        del pieces[-1]
    return " ".join([*pieces, "Z"])


def _edge_path(edge: Edge) -> str:
    """An arc turning through rising angles of these coordinates has sweep flag 1."""
    if not isinstance(edge, Arc):
        return f"L{_point(edge.end)}"
    radius = _number(edge.radius)
    flag = 1 if edge.ccw else 0
    return " ".join(f"A{radius} {radius} 0 0 {flag} {_point(end)}" for end in _stops(edge))


def _stops(arc: Arc) -> tuple[Point2, ...]:
    """Where an arc is divided into equal parts of at most `WIDEST_ARC`, and its end."""
    parts = math.ceil(abs(arc.sweep) / WIDEST_ARC)
    (cx, cy), (x, y) = arc.centre, arc.start
    first = math.atan2(y - cy, x - cx)
    turns = (first + arc.sweep * i / parts for i in range(1, parts))
    between = ((cx + arc.radius * math.cos(t), cy + arc.radius * math.sin(t)) for t in turns)
    return (*between, arc.end)


def _circle(region: Region) -> tuple[Point2, float] | None:
    """Centre and radius when the region is one full disc."""
    return full_circle(region.loops[0]) if len(region.loops) == 1 else None


def _point(point: Point2) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(value: float) -> str:
    return figure(value, DIGITS)
