"""The profiles as DXF R2010, one file a part.

Millimetres, the lower left of the blank seen on face A at 0, 0. Closed figures are LWPOLYLINE with
bulges, full circles CIRCLE, the grain mark LINE and the captions TEXT; a layer is an operation and
depth. Bits and joints stand in extended data under the application name DRYFIT. Layers share one
colour: it never says what is cut or how deep.

The same plan gives the same bytes. The DXF library stamps times and random marks into a file and
lists its classes in the order of a hash: `_steady` and `_list_classes` take both away.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from ..figures import figure
from ..plan import CutPlan
from ..profile import profiles
from ..region import Arc, Edge, Loop
from .drawing import Drawing, Layer, Patch, Words, drawing, full_circle
from .names import part_stems

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities import DXFGraphic
    from ezdxf.layouts import Modelspace

APPLICATION = "DRYFIT"

BLACK_OR_WHITE = 7
"""The one colour: the DXF index that shows black on white and white on black."""

DASHED = "DASHED"
"""The line type of figures that are only read."""

LONGEST_STRING = 255
"""Of extended data (group code 1000), in bytes."""

THROUGH_WEIGHT, OTHER_WEIGHT = 50, 25
"""Line weights in hundredths of a millimetre."""


def dxf_files(plan: CutPlan) -> dict[str, bytes]:
    """`<part>.dxf` for every board of the plan, in its order."""
    stems = part_stems(plan)
    return {f"{stems[p.board]}.dxf": part_dxf(drawing(p)) for p in profiles(plan)}


def part_dxf(page: Drawing) -> bytes:
    """One part's file."""
    import ezdxf
    from ezdxf.units import MM

    with _steady():
        document = ezdxf.new("R2010", units=MM)
        document.header["$MEASUREMENT"] = 1
        document.appids.add(APPLICATION)
        document.linetypes.add(DASHED, [6.0, 4.0, -2.0])  # length of the pattern, pen down, pen up
        space = document.modelspace()
        for layer in page.layers:
            _add_layer(document, space, layer)
        space.dxf.extmin, space.dxf.extmax = (*page.low, 0.0), (*page.high, 0.0)
        _list_classes(document)
        text = io.StringIO()
        document.write(text)
        return document.encode(text.getvalue())


def _add_layer(document: Document, space: Modelspace, layer: Layer) -> None:
    through = layer.operation is not None and layer.operation.depth is None
    weight = THROUGH_WEIGHT if through else OTHER_WEIGHT
    kind = DASHED if layer.operation is None and layer.patches else "CONTINUOUS"
    document.layers.add(layer.name, color=BLACK_OR_WHITE, lineweight=weight, linetype=kind)
    on = {"layer": layer.name}
    for patch in layer.patches:
        for loop in patch.region.loops:
            _mark(_add_loop(space, loop, on), patch, _slant(layer))
    for stroke in layer.strokes:
        space.add_line(stroke.start, stroke.end, on)
    for words in layer.words:
        _add_words(space, words, on)


def _add_loop(space: Modelspace, loop: Loop, on: dict[str, str]) -> DXFGraphic:
    circle = full_circle(loop)
    if circle is not None:
        return space.add_circle(circle[0], circle[1], on)
    points = [(*edge.start, _bulge(edge)) for edge in loop]
    return space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=on)


def _bulge(edge: Edge) -> float:
    """tan of a quarter of the angle an arc turns through, positive counterclockwise; 0 for a line
    (DXF reference, LWPOLYLINE group code 42)."""
    return math.tan(edge.sweep / 4) if isinstance(edge, Arc) else 0.0


def _slant(layer: Layer) -> float:
    return 0.0 if layer.operation is None else layer.operation.slant


def _mark(entity: DXFGraphic, patch: Patch, slant: float) -> None:
    """Names the bits, joints and slanting walls of a figure in its extended data."""
    facts = [f"bit {bit}" for bit in patch.bits] + [f"joint {joint}" for joint in patch.joints]
    if slant:
        facts.append(f"walls {figure(slant, 3)} degrees off square")
    if facts:
        entity.set_xdata(APPLICATION, [(1000, _one_string(fact)) for fact in facts])


def _add_words(space: Modelspace, words: Words, on: dict[str, str]) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = TextEntityAlignment.CENTER if words.centred else TextEntityAlignment.LEFT
    entity = space.add_text(_plain_text(words.text), height=words.height, dxfattribs=on)
    entity.set_placement(words.at, align=align)


def _plain_text(text: str) -> str:
    """A line no reader takes for commands: DXF gives `%%`, `^` and `\\U+` in text a meaning."""
    shown = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return shown.replace("%%", "% %").replace("^", "^ ").replace("\\", "/")


def _one_string(text: str) -> str:
    shown = "".join(c if c.isprintable() else "\ufffd" for c in text)
    while len(shown.encode()) > LONGEST_STRING:
        shown = shown[:-1]
    return shown


@contextmanager
def _steady() -> Iterator[None]:
    """The library's fixed times and marks instead of the clock's, for as long as it lasts."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _list_classes(document: Document) -> None:
    """Lists the classes in use by name: those listed already keep their place on writing."""
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
