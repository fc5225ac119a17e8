"""What does a board look like flat on the machine, and what is cut from which face?

Made from the blank and its cuts alone. Face A, the one with the most machine work, lies up. A view
of a face has its own coordinates, mm: x along the length (the grain), y along the width, the origin
at the blank's lower left as seen looking down on that face. Between the views the board is turned
over about its length, so x is the same in both and y runs the other way.

Profiles are the finished edge, never the tool's path. The outline is the blank less every cut that
goes right through from a face. A pocket is given twice: `region` ends at the blank's edge, `drawn`
goes on past it wherever the pocket is open there, far enough for the bit to clear the corners.
Work from edges and ends, and work by hand, is told in notes and never drawn.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import groupby
from typing import TypeAlias

from .cuts import Cut, Side, Work
from .cutter import Bit
from .figures import figure
from .openedge import Bounds, past_open_edges
from .plan import BoardPlan, CutPlan
from .planar import difference, intersection, union
from .region import Region, area, bounds, moved, rectangle, reversed_loop
from .thresholds import OVERSHOOT, SAME
from .views import Extent, Where, extents, roles, seen, where_lies

DEPTH_DIGITS = 3
"""Depths equal to this many decimals of a millimetre are one operation."""


class Face(Enum):
    A = "A"
    B = "B"


class OperationKind(Enum):
    CUT_OUTER = "CUT_OUTER"
    CUT_INNER = "CUT_INNER"
    POCKET = "POCKET"
    ANGLED = "ANGLED"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One patch of an operation in its face's view.

    Of a CUT_OUTER it is the whole part with its holes filled, of a CUT_INNER the waste that falls
    out, of a POCKET its floor, of an ANGLED cut its mouth; `floor` is an ANGLED cut's floor, as
    drawn. `bits` and `joints` are those of the cuts that shaped it.
    """

    region: Region
    drawn: Region
    bits: tuple[str, ...]
    joints: tuple[str, ...]
    floor: Region | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """What is done from one face at one depth, mm below that face; None is right through.

    `slant` is how far the walls of an ANGLED cut lean off the square, degrees.
    """

    kind: OperationKind
    face: Face
    depth: float | None
    shapes: tuple[Shape, ...]
    slant: float = 0.0

    @property
    def name(self) -> str:
        """Its layer: `CUT_OUTER`, `POCKET_Z6.0`, `FACE_B_POCKET_Z4.0`, `ANGLED_Z9.0_A14.0`."""
        face = "" if self.face is Face.A else "FACE_B_"
        depth = "" if self.depth is None else f"_Z{_depth_name(self.depth)}"
        lean = f"_A{_depth_name(self.slant)}" if self.slant else ""
        return f"{face}{self.kind.value}{depth}{lean}"

    @property
    def bits(self) -> tuple[str, ...]:
        return _once(bit for shape in self.shapes for bit in shape.bits)

    @property
    def joints(self) -> tuple[str, ...]:
        return _once(joint for shape in self.shapes for joint in shape.joints)


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Work that is not drawn: from an edge or an end, or by hand. `count` cuts alike but in place.

    `x` and `y` bound them in the view of face A, `below` is measured down from face A; `depth` is
    into the board from `where`, None for right through.
    """

    where: Where
    work: Work
    by_hand: bool
    bit: str
    depth: float | None
    joint: str
    mate: str | None
    count: int
    x: Extent
    y: Extent
    below: Extent
    slant: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A board flat on the machine. `outline` is the finished part in the view of face A, holes
    included; `side_a` is the side of the board that lies up, in the board's own coordinates."""

    board: str
    stock: str
    length: Fraction
    width: Fraction
    thick: Fraction
    side_a: Side
    outline: Region
    operations: tuple[Operation, ...]
    notes: tuple[Note, ...]

    @property
    def outline_b(self) -> Region:
        """The finished part in the view of face B."""
        width = float(self.width)
        return moved(self.outline, lambda p: (p[0], width - p[1]), mirrored=True)

    @property
    def work_on_b(self) -> bool:
        return any(operation.face is Face.B for operation in self.operations)

    def on(self, face: Face) -> tuple[Operation, ...]:
        return tuple(operation for operation in self.operations if operation.face is face)


def profiles(plan: CutPlan) -> tuple[Profile, ...]:
    """The profile of every board of the plan, in its order."""
    bits = {bit.name: bit for bit in plan.design.bits}
    return tuple(board_profile(board, bits) for board in plan.boards)


def board_profile(plan: BoardPlan, bits: dict[str, Bit]) -> Profile:
    """The profile of one board; `bits` by name tell how far open pockets go on past the blank."""
    side_a = _busiest_side(plan)
    length, width, thick = (plan.board.box[a].size for a in roles(plan))
    blank = rectangle(0.0, 0.0, float(length), float(width))
    through = [cut for cut in _flat_cuts(plan) if _is_through(cut, plan)]
    waste = union([seen(cut.region, plan, side_a) for cut in through])
    outline = difference(blank, waste)
    pockets = [
        operation
        for face, side in ((Face.A, side_a), (Face.B, side_a.opposite))
        for operation in (
            *_pockets(plan, face, side, bits, blank),
            *_angled(plan, face, side, bits, blank),
        )
    ]
    return Profile(
        board=plan.board.name,
        stock=plan.board.stock,
        length=length,
        width=width,
        thick=thick,
        side_a=side_a,
        outline=outline,
        operations=(*_through_operations(outline, through, plan, side_a), *pockets),
        notes=_notes(plan, side_a),
    )


# -- which cuts go where -------------------------------------------------------------------------


def _flat_cuts(plan: BoardPlan) -> list[Cut]:
    """The cuts a machine makes from one of the two faces."""
    flat = (c for c in plan.cuts if c.side.axis == plan.run.thick and not c.by_hand)
    return [c for c in flat if not c.region.is_empty]


def _is_through(cut: Cut, plan: BoardPlan) -> bool:
    thick = float(plan.board.box[plan.run.thick].size)
    return cut.depth is None or cut.depth >= thick - SAME


def _busiest_side(plan: BoardPlan) -> Side:
    """The face with the greatest area of pockets, then with more of them, then the positive one."""

    def work(side: Side) -> tuple[int, int, bool]:
        found = [c for c in _flat_cuts(plan) if c.side == side and not _is_through(c, plan)]
        blank = rectangle(*_blank_bounds(plan, side))
        cleared = sum(area(intersection(cut.region, blank)) for cut in found)
        return round(1000 * cleared), len(found), side.positive

    return max((Side(plan.run.thick, True), Side(plan.run.thick, False)), key=work)


def _blank_bounds(plan: BoardPlan, side: Side) -> Bounds:
    u, v = (plan.board.box[axis] for axis in side.plane)
    return float(u.lo), float(v.lo), float(u.hi), float(v.hi)


# -- operations ----------------------------------------------------------------------------------


def _through_operations(
    outline: Region, through: list[Cut], plan: BoardPlan, side_a: Side
) -> Iterable[Operation]:
    """The outer profiles, then the inner ones.

    A cut counts to the inner profile whose box holds its own, else to every outer one it touches.
    """
    left = [(cut, bounds(seen(cut.region, plan, side_a))) for cut in through]
    inner = []
    for waste in _parts(outline, outer=False):
        held = [(cut, box) for cut, box in left if _holds(bounds(waste), box)]
        left = [entry for entry in left if entry not in held]
        inner.append(_shape(waste, waste, [cut for cut, _ in held]))
    outer = []
    for part in _parts(outline, outer=True):
        near = [cut for cut, box in left if boxes_meet(bounds(part), box)]
        outer.append(_shape(part, part, near))
    for kind, shapes in ((OperationKind.CUT_OUTER, outer), (OperationKind.CUT_INNER, inner)):
        if shapes:
            yield Operation(kind=kind, face=Face.A, depth=None, shapes=tuple(shapes))


def _parts(outline: Region, *, outer: bool) -> list[Region]:
    """Its outer loops each filled, or its holes each as the piece that falls out."""
    alone = [(loop, area(Region((loop,))) > 0) for loop in outline.loops]
    return [
        Region((loop if outer else reversed_loop(loop),))
        for loop, is_outer in alone
        if is_outer == outer
    ]


def _pockets(
    plan: BoardPlan, face: Face, side: Side, bits: dict[str, Bit], blank: Region
) -> Iterable[Operation]:
    """The pockets from `side`, shallow ones first."""
    found = [c for c in _flat_cuts(plan) if c.side == side and not _is_through(c, plan)]
    found = [cut for cut in found if cut.floor is None]
    found.sort(key=lambda cut: round(cut.depth or 0.0, DEPTH_DIGITS))
    for depth, level in groupby(found, lambda cut: round(cut.depth or 0.0, DEPTH_DIGITS)):
        shapes = []
        for cluster in _clusters([(cut, seen(cut.region, plan, side)) for cut in level]):
            cuts = [cut for cut, _ in cluster]
            region = intersection(union([region for _, region in cluster]), blank)
            if not region.is_empty:
                reach = _reach(cuts[0].bit, bits)
                shapes.append(_shape(region, past_open_edges(region, bounds(blank), reach), cuts))
        if shapes:
            yield Operation(kind=OperationKind.POCKET, face=face, depth=depth, shapes=tuple(shapes))


def _angled(
    plan: BoardPlan, face: Face, side: Side, bits: dict[str, Bit], blank: Region
) -> Iterable[Operation]:
    """The cuts from `side` with slanting walls, shallow ones first; each is a shape of its own."""
    found = [c for c in _flat_cuts(plan) if c.side == side and c.floor is not None]
    figures = [(round(c.depth or 0.0, DEPTH_DIGITS), round(c.slant, DEPTH_DIGITS)) for c in found]
    for level in sorted(set(figures)):
        shapes = []
        for cut in (cut for cut, own in zip(found, figures, strict=True) if own == level):
            mouth, floor = (
                intersection(seen(region, plan, side), blank)
                for region in (cut.region, cut.floor or cut.region)
            )
            if not mouth.is_empty:
                reach = _reach(cut.bit, bits)
                drawn = past_open_edges(mouth, bounds(blank), reach)
                under = past_open_edges(floor, bounds(blank), reach)
                shapes.append(replace(_shape(mouth, drawn, [cut]), floor=under))
        if shapes:
            yield Operation(
                kind=OperationKind.ANGLED,
                face=face,
                depth=level[0],
                slant=level[1],
                shapes=tuple(shapes),
            )


Seen: TypeAlias = tuple[Cut, Region]


def _clusters(cuts: list[Seen]) -> list[list[Seen]]:
    """Cuts of one bit whose boxes meet, directly or through others, in the order of their first."""
    clusters: list[list[Seen]] = []
    for cut, region in cuts:
        near = [
            cluster
            for cluster in clusters
            if cluster[0][0].bit == cut.bit
            and any(boxes_meet(bounds(region), bounds(other)) for _, other in cluster)
        ]
        joined = [entry for cluster in near for entry in cluster] + [(cut, region)]
        clusters = [cluster for cluster in clusters if cluster not in near] + [joined]
    return clusters


def _shape(region: Region, drawn: Region, cuts: list[Cut]) -> Shape:
    return Shape(
        region=region,
        drawn=drawn,
        bits=_once(cut.bit for cut in cuts),
        joints=_once(cut.joint for cut in cuts),
    )


def _reach(bit: str, bits: dict[str, Bit]) -> float:
    """How far past the blank an open pocket is drawn: a corner there keeps a fillet of the bit's
    radius, which must lie wholly in air."""
    return OVERSHOOT + (float(bits[bit].radius) if bit in bits else 0.0)


# -- notes ---------------------------------------------------------------------------------------


def _notes(plan: BoardPlan, side_a: Side) -> tuple[Note, ...]:
    """Notes on what is not drawn, like cuts of one joint counted together."""
    found: dict[tuple[object, ...], Note] = {}
    for cut in plan.cuts:
        if cut.region.is_empty or (cut.side.axis == plan.run.thick and not cut.by_hand):
            continue
        note = _note(cut, plan, side_a)
        key = (note.where, note.work, note.by_hand, note.bit, note.depth, note.joint, note.mate,
               note.slant)  # fmt: skip
        found[key] = _both(found[key], note) if key in found else note
    return tuple(found.values())


def _note(cut: Cut, plan: BoardPlan, side_a: Side) -> Note:
    x, y, below = extents(cut, plan, side_a)
    return Note(
        where=where_lies(cut.side, plan, side_a),
        work=cut.work,
        by_hand=cut.by_hand,
        bit=cut.bit,
        depth=None if cut.depth is None else round(cut.depth, DEPTH_DIGITS),
        joint=cut.joint,
        mate=cut.mate,
        count=1,
        x=x,
        y=y,
        below=below,
        slant=round(cut.slant, DEPTH_DIGITS),
    )


def _both(one: Note, other: Note) -> Note:
    def span(a: Extent, b: Extent) -> Extent:
        return (min(a[0], b[0]), max(a[1], b[1]))

    return replace(
        one,
        count=one.count + other.count,
        x=span(one.x, other.x),
        y=span(one.y, other.y),
        below=span(one.below, other.below),
    )


# -- small ---------------------------------------------------------------------------------------


def boxes_meet(one: Bounds, other: Bounds) -> bool:
    """Whether two boxes (least x, least y, greatest x, greatest y) touch or overlap."""
    return all(one[i] <= other[i + 2] + SAME and other[i] <= one[i + 2] + SAME for i in range(2))


def _holds(outside: Bounds, inside: Bounds) -> bool:
    return all(
        outside[i] <= inside[i] + SAME and inside[i + 2] <= outside[i + 2] + SAME for i in range(2)
    )


def _depth_name(depth: float) -> str:
    """At least one decimal, so that a depth is never taken for a count.

    >>> _depth_name(6.0), _depth_name(6.35)
    ('6.0', '6.35')
    """
    text = figure(depth, DEPTH_DIGITS)
    return text if "." in text else f"{text}.0"


def _once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words))
