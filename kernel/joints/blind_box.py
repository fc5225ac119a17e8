"""Blind box joint: `A to B with blind_box`.

A box joint whose fingers stay under a skin of thickness `cover` on the outside of both boards, so
that one thin line shows along the corner. The skin of B runs out to A's outer face and A's end is
set back by as much; A's own skin comes up against it from inside. Where B goes on past A's outer
face, only its skin does:

            A's outer face
          +--+------+            z = 0: B's outer face, one skin of B
          |B       B|  cover     B's skin, the whole thickness of A
          +--+------+
          |A | A/B  |            fingers of A and B take turns, under A's skin
          +--+------+  B's thickness

Each board is worked from its inside face alone: B's pockets stop at its skin and reach out to the
air past A's outer face, A's pockets stop at A's. Fingers, fit and reliefs are those of the box
joint (`box.py`, `pins.py`).

Defaults. `cover` 3 mm: the thinnest skin that survives sanding (common practice). `relief corner`
at the roots. Fingers about as wide as the thicker board.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..corner_findings import SkinTooThick
from ..design import Verb
from ..finding import Finding, Outcome
from ..relief import Relief
from ..thresholds import LEAST_TONGUE
from .box import fits_of, interlocked, laid_out
from .carve import Bench, Step, finished, stepped
from .corner import Corner
from .family import Family, JointCuts
from .meeting import Meeting, at, both_sides, moved, with_face
from .options import Reading, above_zero, written_at
from .pins import BIT, FIT, RELIEF, WIDTHS, Fingers, read_fingers

COVER = above_zero("cover", Fraction(3), "3mm", "how thick the skin over the fingers is")

SKIN_SHARE = Fraction(1, 3)
"""A skin that leaves long fingers, as a share of the board's thickness, where 3 mm would not."""


@dataclass(frozen=True, slots=True)
class BlindBox:
    """`cover` in mm; the fingers as in a box joint."""

    fingers: Fingers
    cover: Fraction


def _read(reading: Reading) -> BlindBox:
    return BlindBox(fingers=read_fingers(reading), cover=reading.take(COVER))


def _cut(meeting: Meeting, options: BlindBox) -> Outcome[JointCuts]:
    thick = _thick_skin(meeting, options.cover)
    if thick is not None:
        return Outcome(None, (thick,))
    laid = laid_out(meeting, options.fingers, options.cover)
    if isinstance(laid, Finding):
        return Outcome(None, (laid,))
    cuts = interlocked(laid)
    if isinstance(cuts, Finding):
        return Outcome(None, (*laid.told, cuts))
    room = _skin_room(meeting, laid.corner, options)
    cuts = (*(stepped(_for_skins(laid.bench), step) for step in room), *cuts)
    made = finished(laid.bench, cuts, fits_of(laid, options.fingers.fit))
    return replace(made, findings=(*laid.told, *made.findings))


def _for_skins(bench: Bench) -> Bench:
    """With `half_round` a skin's end is not rounded, which would show: its corners are relieved."""
    half_round = bench.relief is Relief.HALF_ROUND
    return replace(bench, relief=Relief.CORNER) if half_round else bench


def _thick_skin(meeting: Meeting, cover: Fraction) -> Finding | None:
    """The finding that the skin leaves no finger worth its name under it."""
    thinnest = min((meeting.a, meeting.b), key=lambda part: part.stock.thick)
    thick = thinnest.stock.thick
    if thick - cover >= LEAST_TONGUE:
        return None
    return SkinTooThick(
        place=meeting.option_place(COVER.name),
        board=thinnest.name,
        cover=cover,
        thick=thick,
        mended=min(COVER.default or thick, SKIN_SHARE * thick),
        value_place=written_at(meeting.join, COVER.name),
    )


def _skin_room(meeting: Meeting, corner: Corner, options: BlindBox) -> tuple[Step, Step]:
    """What the skins take from the other board: the end of A, and the edge of B's pockets. Their
    ends stand off as the flanks of fingers do."""
    a, b, shared, cover = meeting.a, meeting.b, meeting.overlap, options.cover
    for side in both_sides(corner.along):
        shared = moved(shared, side, options.fingers.fit / 2)
    a_end, b_end = corner.a_away.opposite, corner.b_away.opposite
    skin_of_b = with_face(shared, corner.a_away, at(shared, a_end))
    skin_of_b = moved(skin_of_b, corner.a_away, cover)
    skin_of_b = with_face(skin_of_b, a_end, a.face(a_end))
    skin_of_a = with_face(shared, corner.b_away, at(shared, b_end))
    skin_of_a = moved(skin_of_a, corner.b_away, cover)
    skin_of_a = moved(with_face(skin_of_a, b_end, b.face(b_end)), a_end, -cover)
    return (
        Step(host=a, mate=b, side=corner.b_away, box=skin_of_b, run=corner.a_away.axis),
        Step(host=b, mate=a, side=corner.a_away, box=skin_of_a, run=corner.b_away.axis),
    )


BLIND_BOX = Family(
    name="blind_box",
    title="blind box joint",
    words="pins of A and B take turns under a skin",
    verbs=(Verb.TO,),
    options=(*WIDTHS, COVER, FIT, RELIEF, BIT),
    read=_read,
    cut=_cut,
)
