"""How is a part's profile laid out on a page, whatever the file format?

In millimetres, y up, the lower left of the blank seen on face A at 0, 0. Work on face B has a view
of its own underneath: the board turned over about its length, its blank's lower left at
`(0, -face_b_drop)`. Every operation is a layer; what is only to be read is on LABEL layers, and
the outline repeated under face B's work is for lining up and is not cut again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from textwrap import wrap

from ..openedge import Bounds
from ..profile import Face, Operation, OperationKind, Profile, Shape, boxes_meet
from ..region import Arc, Loop, Point2, Region, bounds, moved
from ..thresholds import SAME
from .captions import face_caption, note_caption, operation_caption, size_caption

GAP = 20.0
"""Between the views, besides what open pockets reach past the blank, mm."""

MARGIN = 10.0
CAPTION_HEIGHT = 3.0
CAPTION_PITCH = 5.0
LEAST_LINE = 72
"""Letters of a caption before it goes on below, however short the part."""

WIDEST_LETTER = 0.62
"""Of its height: how much room to leave for text whose font is not known."""


@dataclass(frozen=True, slots=True)
class Patch:
    """A closed figure: one outer loop or several, with holes."""

    region: Region
    bits: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stroke:
    start: Point2
    end: Point2


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text, its baseline's left end (or middle, when `centred`) at `at`."""

    at: Point2
    height: float
    text: str
    centred: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """What belongs together. `operation` is None for what is only read."""

    name: str
    operation: Operation | None = None
    patches: tuple[Patch, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    words: tuple[Words, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One part's page. `low` and `high` are its corners, margins included; `blank` is the blank's
    length, width and thickness."""

    part: str
    about: str
    blank: tuple[float, float, float]
    layers: tuple[Layer, ...]
    low: Point2
    high: Point2
    face_b_drop: float | None


def drawing(profile: Profile) -> Drawing:
    """The page for one part."""
    drop = _face_b_drop(profile) if profile.work_on_b else None
    layers = _operation_layers(profile, Face.A, 0.0)
    labels = [_label_layer("LABEL", profile, profile.board, Face.A, 0.0)]
    if drop is not None:
        shifted = moved(profile.outline_b, lambda p: (p[0], p[1] - drop), mirrored=False)
        layers += _operation_layers(profile, Face.B, -drop)
        labels.append(Layer(name="FACE_B_OUTLINE", patches=(Patch(shifted),)))
        labels.append(
            _label_layer("FACE_B_LABEL", profile, f"{profile.board}, face B", Face.B, -drop)
        )
    captions = _captions(profile, _bottom(layers, labels) - MARGIN)
    labels[0] = _with_words(labels[0], captions)
    low, high = _extent(profile, [*layers, *labels])
    return Drawing(
        part=profile.board,
        about=f"{size_caption(profile)}. {face_caption(profile)}",
        blank=(float(profile.length), float(profile.width), float(profile.thick)),
        layers=(*layers, *labels),
        low=(low[0] - MARGIN, low[1] - MARGIN),
        high=(high[0] + MARGIN, high[1] + MARGIN),
        face_b_drop=drop,
    )


def _operation_layers(profile: Profile, face: Face, lift: float) -> list[Layer]:
    """A layer an operation; one more for the floors of cuts whose walls slant."""
    layers = []
    for operation in profile.on(face):
        mouths = tuple(_patch(shape, shape.drawn, lift) for shape in operation.shapes)
        layers.append(Layer(name=operation.name, operation=operation, patches=mouths))
        floors = tuple(
            _patch(shape, shape.floor, lift)
            for shape in operation.shapes
            if shape.floor is not None
        )
        if floors:
            name = f"{operation.name}_FLOOR"
            layers.append(Layer(name=name, operation=operation, patches=floors))
    return layers


def _patch(shape: Shape, region: Region, lift: float) -> Patch:
    placed = moved(region, lambda p: (p[0], p[1] + lift), mirrored=False)
    return Patch(placed, shape.bits, shape.joints)


def _face_b_drop(profile: Profile) -> float:
    """How far under face A's view face B's begins: clear of what open pockets reach past both."""
    width = float(profile.width)
    drawn = [(o.face, bounds(shape.drawn)) for o in profile.operations for shape in o.shapes]
    under_a = max((-box[1] for face, box in drawn if face is Face.A), default=0.0)
    over_b = max((box[3] - width for face, box in drawn if face is Face.B), default=0.0)
    return width + GAP + max(under_a, 0.0) + max(over_b, 0.0)


def full_circle(loop: Loop) -> tuple[Point2, float] | None:
    """Centre and radius of a loop that runs once round one circle; None for any other."""
    arcs = [edge for edge in loop if isinstance(edge, Arc)]
    if len(arcs) < len(loop):
        return None
    centre, radius = arcs[0].centre, arcs[0].radius
    same = all(
        math.dist(arc.centre, centre) <= SAME and abs(arc.radius - radius) <= SAME for arc in arcs
    )
    once = abs(abs(sum(arc.sweep for arc in arcs)) - 2 * math.pi) <= SAME
    return (centre, radius) if same and once else None


# -- words and marks -----------------------------------------------------------------------------


def _label_layer(name: str, profile: Profile, text: str, face: Face, lift: float) -> Layer:
    """The part's name over the grain mark, as near the middle of the blank as cuts leave room."""
    length, width = float(profile.length), float(profile.width)
    room = min(width / 5, 0.8 * length / (WIDEST_LETTER * max(len(text), 1)))
    height = min(max(room, 2.5), 12.0)
    half = min(length / 4, 40.0)
    wide = max(half, WIDEST_LETTER * height * len(text) / 2)
    x, y = _free_place((length, width), (wide, 1.5 * height), _in_the_way(profile, face))
    y += lift
    return Layer(
        name=name,
        strokes=_grain_mark((x, y - height / 2), half, height / 3),
        words=(Words((x, y + height / 3), height, text, centred=True),),
    )


def _in_the_way(profile: Profile, face: Face) -> tuple[Bounds, ...]:
    """Boxes of what is drawn within the outline in a face's view."""
    width = float(profile.width)
    drawn = [
        (operation, bounds(shape.drawn))
        for operation in profile.operations
        if operation.kind is not OperationKind.CUT_OUTER
        for shape in operation.shapes
    ]
    own = [box for operation, box in drawn if operation.face is face]
    if face is Face.A:
        return tuple(own)
    openings = (box for operation, box in drawn if operation.depth is None)
    return (*own, *((x0, width - y1, x1, width - y0) for x0, y0, x1, y1 in openings))


def _free_place(blank: Point2, half: Point2, taken: tuple[Bounds, ...]) -> Point2:
    """The middle of a box of half sizes `half` that meets none of `taken`, nearest the blank's
    middle of a grid of places; the blank's middle itself when there is none."""
    (length, width), (wide, tall) = blank, half
    middle = (length / 2, width / 2)
    places = [
        (length * i / 16, width * j / 16)
        for i in range(1, 16)
        for j in range(1, 16)
        if wide <= length * i / 16 <= length - wide and tall <= width * j / 16 <= width - tall
    ]
    for x, y in sorted(places, key=lambda p: (math.dist(p, middle), p)):
        box = (x - wide, y - tall, x + wide, y + tall)
        if not any(boxes_meet(box, other) for other in taken):
            return (x, y)
    return middle


def _grain_mark(middle: Point2, half: float, head: float) -> tuple[Stroke, ...]:
    """An arrow with two heads along the grain, that is along x."""
    x, y = middle
    ends = ((x - half, 1), (x + half, -1))
    heads = (
        Stroke((tip, y), (tip + inward * head, y + side * head / 2))
        for tip, inward in ends
        for side in (1, -1)
    )
    return (Stroke((x - half, y), (x + half, y)), *heads)


def _captions(profile: Profile, top: float) -> tuple[Words, ...]:
    """Under the views; a long one goes on, set in, on the next line."""
    lines = (
        size_caption(profile),
        *(operation_caption(operation) for operation in profile.operations),
        *(note_caption(note) for note in profile.notes),
        face_caption(profile),
    )
    letters = max(LEAST_LINE, int(float(profile.length) / (WIDEST_LETTER * CAPTION_HEIGHT)))
    wrapped = [
        (0.0 if number == 0 else CAPTION_PITCH, text)
        for line in lines
        for number, text in enumerate(wrap(line, letters))
    ]
    return tuple(
        Words((x, top - (number + 1) * CAPTION_PITCH), CAPTION_HEIGHT, text)
        for number, (x, text) in enumerate(wrapped)
    )


def _with_words(layer: Layer, words: tuple[Words, ...]) -> Layer:
    return Layer(name=layer.name, strokes=layer.strokes, words=layer.words + words)


# -- extents -------------------------------------------------------------------------------------


def _bottom(layers: Iterable[Layer], labels: Iterable[Layer]) -> float:
    patches = (patch for layer in (*layers, *labels) for patch in layer.patches)
    return min((bounds(patch.region)[1] for patch in patches), default=0.0)


def _extent(profile: Profile, layers: list[Layer]) -> tuple[Point2, Point2]:
    """The corners of all that is drawn."""
    boxes = [bounds(patch.region) for layer in layers for patch in layer.patches]
    boxes.append((0.0, 0.0, float(profile.length), float(profile.width)))
    for layer in layers:
        boxes.extend(_words_box(words) for words in layer.words)
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0)), (max(x1), max(y1))


def _words_box(words: Words) -> Bounds:
    wide = WIDEST_LETTER * words.height * len(words.text)
    x = words.at[0] - (wide / 2 if words.centred else 0.0)
    return (x, words.at[1] - words.height / 4, x + wide, words.at[1] + words.height)
