"""What of a finding is to be shown in the picture: which boards, and marks at which points?

In: findings, whose facts are records of any shape, and the plan they are about. Out: plain JSON.
Nothing is computed: boards are those that the facts name, points are those that the facts hold or
that the kernel measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass

from ..kernel import measure
from ..kernel.checks.assembly_findings import Hit, MotionBlocked, NoOrder, NoWayHome
from ..kernel.checks.expect_findings import ExpectationFailed, Measured
from ..kernel.checks.findings import FitFinding, LeftoverWood, Lump, UnresolvedOverlap
from ..kernel.design import Motion
from ..kernel.figures import figure, mm
from ..kernel.finding import Finding, Place
from ..kernel.nearest import nearest_points
from ..kernel.plan import CutPlan
from ..kernel.quantity import LENGTH
from ..kernel.shadows import Vector
from ..kernel.solids import Bodies, lumps, surface
from .wording import Json, text

NO_BOARDS = frozenset({"stock", "stocks", "bit", "bits", "machine", "machines", "family", "test"})
"""Fields of facts whose words are no boards, even where a board has the same name."""

Wood = LeftoverWood | UnresolvedOverlap


def boards_named(finding: Finding, plan: CutPlan) -> tuple[str, ...]:
    """The boards a finding is about, in the plan's order: those its facts name, themselves or by
    a joint; else those written at its place."""
    words = set(_words(finding))
    for joint in plan.joints:
        if joint.name in words:
            words |= {joint.first.name, joint.second.name}
    names = [one.board.name for one in plan.boards]
    found = tuple(name for name in names if name in words)
    return found or _written_at(finding.place, plan)


def _words(value: object) -> Iterator[str]:
    """Every word among the facts, however deep."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _words(item)
    elif is_dataclass(value) and not isinstance(value, Place):
        for field in fields(value):
            if field.name not in NO_BOARDS:
                yield from _words(getattr(value, field.name))


def _written_at(place: Place | None, plan: CutPlan) -> tuple[str, ...]:
    """The boards whose own line, or a join of theirs, is at a place."""
    if place is None:
        return ()
    joined = {
        ref.name
        for joint in plan.joints
        if _covers(joint.join.place, place)
        for ref in (joint.first, joint.second)
    }
    boards = (one.board for one in plan.boards)
    return tuple(b.name for b in boards if b.name in joined or _covers(b.place, place))


def _covers(one: Place | None, other: Place) -> bool:
    if one is None or one.file != other.file:
        return False
    return one.start <= other.start and other.end <= one.end


def lumps_of(finding: Finding, bodies: Bodies | None) -> list[Json]:
    """The wood that two boards both claim: its box, volume and, given bodies, its surface."""
    if not isinstance(finding, Wood):
        return []
    solids = () if bodies is None else _surfaces(finding, bodies)
    told: list[Json] = []
    for number, lump in enumerate(finding.lumps):
        drawn = solids[number] if number < len(solids) else {}
        told.append({**_lump(lump), **drawn})
    return told


def _lump(lump: Lump) -> dict[str, Json]:
    return {"lo": vector(lump.low), "hi": vector(lump.high), "volume": round(lump.volume, 3)}


def _surfaces(finding: Wood, bodies: Bodies) -> list[dict[str, Json]]:
    """Greatest first, as the finding's own lumps are, which leave out only the smallest."""
    i, j = bodies.index(finding.first), bodies.index(finding.second)
    if i is None or j is None:
        return []
    made: list[dict[str, Json]] = []
    for solid, _ in lumps(bodies, min(i, j), max(i, j)):
        points, triangles = surface(solid)
        made.append(
            {
                "points": [round(float(c), 3) + 0.0 for c in points.reshape(-1)],
                "triangles": [int(corner) for corner in triangles.reshape(-1)],
            }
        )
    return made


def marks_of(finding: Finding, bodies: Bodies | None) -> list[Json]:
    """Points in the picture: where boards first meet on their way, where a figure was measured."""
    match finding:
        case NoWayHome():
            return [_contact(each.hit, mm(each.hit.after, 2)) for each in finding.blocked]
        case MotionBlocked(hit=hit, direction=None):
            return [_contact(hit, f"{figure(hit.after, 2)}°")]
        case MotionBlocked(hit=hit):
            return [_contact(hit, mm(hit.after, 2))]
        case NoOrder():
            hits = dict.fromkeys(hit for ring in finding.rings for hit in ring.hits)
            return [_contact(hit, "") for hit in hits]
        case ExpectationFailed():
            return [mark for one in finding.measured for mark in _measured(one, bodies)]
        case FitFinding() if bodies is not None:
            found = measure.fit_found(bodies, finding.part, finding.socket)
            at = None if found is None else found.at
            return [] if at is None else [_mark("gap", at, mm(finding.fit), (finding.part,))]
        case _:
            return []


def stop_told(motion: Motion, findings: Iterable[Finding]) -> Json:
    """What a motion runs into, as the check found it; None where it is free, or not checked yet."""
    for each in findings:
        match each:
            case MotionBlocked(place=motion.place, moves=motion.name, hit=hit):
                return {
                    "after": round(hit.after, 6),
                    "at": vector(hit.at),
                    "moving": text(hit.moving.board),
                    "still": text(hit.still.board),
                }
    return None


def _contact(hit: Hit, after: str) -> Json:
    return _mark("contact", hit.at, after, (hit.moving.board, hit.still.board))


def _measured(one: Measured, bodies: Bodies | None) -> list[Json]:
    """A mark at the place of a figure, or from end to end of what was measured."""
    if one.at is None:
        return []
    figures = mm(one.value) if one.dimension == LENGTH else figure(one.value)
    at, to = _ends(one, bodies) or (one.at, None)
    return [_mark("measured", at, figures, one.subjects, to)]


def _ends(one: Measured, bodies: Bodies | None) -> tuple[Vector, Vector] | None:
    """Where two boards that stand apart come nearest to each other."""
    if bodies is None or one.name != "clearance" or one.value <= 0:
        return None
    first, second = (bodies.index(name) for name in one.subjects)
    if first is None or second is None:
        return None
    near = nearest_points(bodies.faces(first, inset=0.0), bodies.faces(second, inset=0.0))
    return near.one, near.other


def _mark(
    kind: str, at: Vector, figures: str, boards: Iterable[str], to: Vector | None = None
) -> dict[str, Json]:
    return {
        "kind": kind,
        "at": vector(at),
        "to": None if to is None else vector(to),
        "text": figures,
        "boards": [text(board) for board in boards],
    }


def vector(values: Iterable[float]) -> list[Json]:
    """Coordinates to a millionth of a mm, never a negative zero."""
    return [round(float(value), 6) + 0.0 for value in values]
